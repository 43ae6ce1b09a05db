package course

import (
	"context"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
)

// The first balls of the demo season are where its truth says, within four
// standard errors and four spreads of a day.
func TestSeasonTableAgainstTheTruth(t *testing.T) {
	table, err := SeasonTable("carry", "yd")
	if err != nil {
		t.Fatal(err)
	}
	truth, err := datasets.DemoSeasonTruth()
	if err != nil {
		t.Fatal(err)
	}
	checked := 0
	for _, stage := range truth.Stages {
		if stage.Club != seasonClub || stage.Phase != "baseline" && stage.Phase != "retention" {
			continue
		}
		for _, row := range table.Rows {
			if row[0] != stage.Session {
				continue
			}
			got, err := strconv.ParseFloat(row[3], 64)
			if err != nil {
				t.Fatal(err)
			}
			checked++
			if band := 4 * math.Hypot(truth.CarryDaySD, stage.CarrySD/3); math.Abs(got-stage.Carry) > band {
				t.Errorf("%s: %g, in truth %g ± %.1f", stage.Session, got, stage.Carry, band)
			}
		}
	}
	if checked != len(table.Rows) {
		t.Errorf("%d of %d sessions checked", checked, len(table.Rows))
	}
}

// What the notebook tells of the season: the carry was kept, the start line lost.
func TestKeptSentences(t *testing.T) {
	for column, want := range map[string]string{"carry": "Kept:", "start_line_deg": "Lost:"} {
		says, err := KeptSentences(context.Background(), column, "", 0)
		if err != nil || !strings.HasPrefix(says[0], want) {
			t.Errorf("%s: %q, %v", column, says, err)
		}
	}
}

// The spreads that the mixed model finds hold the truth of the season.
func TestDaysFitHoldsTheTruth(t *testing.T) {
	fit, err := daysFit()
	if err != nil {
		t.Fatal(err)
	}
	r, err := fit.Repeatability("sessions", 10)
	if err != nil {
		t.Fatal(err)
	}
	truth, err := datasets.DemoSeasonTruth()
	if err != nil {
		t.Fatal(err)
	}
	if i := r.Between.Interval; i.Low > truth.CarryDaySD || i.High < truth.CarryDaySD {
		t.Errorf("days: %v, in truth %g", i, truth.CarryDaySD)
	}
	if i := r.Within.Interval; i.Low > 6 || i.High < 6 {
		t.Errorf("balls: %v, in truth 6", i)
	}
	if got, want := r.Error, math.Sqrt(r.Between.SD*r.Between.SD+r.Within.SD*r.Within.SD/10); math.Abs(got-want) > 1e-12 {
		t.Errorf("error %g, want %g", got, want)
	}
}

// Pupils who come below their usual gain by doing nothing: for a threshold of 0 the
// mean of a normal day cut at 0, s·√(2/π).
//
// Source: N. L. Johnson, S. Kotz, N. Balakrishnan, Continuous Univariate
// Distributions, vol. 1, 1994, section 10.1, the mean of a truncated normal (from
// memory).
func TestIntakeTable(t *testing.T) {
	const pupils = 20000
	table := IntakeTable(Intakes(4), 10, 6, 2, pupils, 1)
	s := math.Hypot(2, 6/math.Sqrt(10))
	density := func(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }
	beyond := func(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }
	band := 4*s*math.Sqrt(2.0/pupils) + 0.05 // the table rounds to tenths
	for i, want := range []float64{0, s * density(0) / beyond(0), s * density(4/s) / beyond(4/s)} {
		for k, want := range []float64{want, 0} {
			got, err := strconv.ParseFloat(table.Rows[i][k+1], 64)
			if err != nil || math.Abs(got-want) > band {
				t.Errorf("%s: %s, want %.2f ± %.2f", table.Rows[i][0], table.Rows[i][k+1], want, band)
			}
		}
	}
}
