package review

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/flight"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

func TestWhatMovedAlongInTheDemoLesson(t *testing.T) {
	r, err := Open(Source{})
	if err != nil {
		t.Fatal(err)
	}
	all, err := r.MovedAlong(context.Background())
	if err != nil || len(all) != 1 || all[0].Splits == nil {
		t.Fatalf("%+v, %v", all, err)
	}
	m := all[0]
	if len(m.Before) != 9 || len(m.After) != 11 || len(m.Says) != 4 {
		t.Fatalf("%d and %d shots, sentences %q", len(m.Before), len(m.After), m.Says)
	}
	// The lesson was drawn so that the gain comes with ball speed, and that with the strike.
	speed := m.Splits.Carry.Parts[0]
	if i := speed.Flight.Interval; !(i.Low > 0) || math.Abs(speed.Flight.Estimate-m.Splits.Carry.Gain) > .2*m.Splits.Carry.Gain {
		t.Errorf("ball speed %+v of %g", speed.Flight, m.Splits.Carry.Gain)
	}
	for i, want := range []string{"moved along with ball speed", "hit it better", "was start line", "1 mph of ball speed is worth"} {
		if !strings.Contains(m.Says[i], want) {
			t.Errorf("sentence %d, %q, lacks %q", i+1, m.Says[i], want)
		}
	}
	table := r.MovedTable(m)
	if len(table.Rows) != 15 || table.Rows[0][2] != r.more(speed.Flight.Estimate) {
		t.Errorf("%d rows, the first %v", len(table.Rows), table.Rows[0])
	}
	for _, row := range table.Rows {
		if len(row) != len(table.Header) {
			t.Errorf("%v", row)
		}
	}
	for _, s := range append(m.Says, table.Caption) {
		for _, banned := range []string{"because", "due to", "caused", "significant", "proven", "no change", "NaN", "+0.0", "-0.0"} {
			if strings.Contains(s, banned) {
				t.Errorf("%q says %q", s, banned)
			}
		}
	}
	done, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := r.MovedAlong(done); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

// The numbers for programs are those of the page.
func TestMovedAlongForPrograms(t *testing.T) {
	r, err := Open(Source{})
	if err != nil {
		t.Fatal(err)
	}
	text, err := r.JSON(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		MovedAlong []jsonMoved `json:"moved_along"`
	}
	if err := json.Unmarshal(text, &got); err != nil || len(got.MovedAlong) != 3 {
		t.Fatalf("%+v, %v", got, err)
	}
	for _, m := range got.MovedAlong {
		var sum float64
		for _, p := range m.Parts {
			sum += p.Flight.Estimate
		}
		if len(m.Parts) != 5 || math.Abs(sum-m.Gain) > 1e-9 || m.Unit != "yd" || m.NBefore != 9 {
			t.Errorf("%+v", m)
		}
	}
}

// Silence without the columns; a sentence where there are too few shots or where
// they can't tell how the ball flies.
func TestMovedAlongOfLess(t *testing.T) {
	reviewOf := func(header string, rows ...string) []MovedAlong {
		t.Helper()
		l, err := lesson.Read(strings.NewReader(header+"\n"+strings.Join(rows, "\n")), lesson.ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		r, err := New(l, compare.Options{})
		if err != nil {
			t.Fatal(err)
		}
		all, err := r.MovedAlong(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		return all
	}
	bare := []string{"old,120,1", "old,122,2", "old,121,3", "new,131,2", "new,130,1", "new,133,0"}
	if all := reviewOf("stage,carry_yd,side_yd", bare...); all != nil {
		t.Errorf("without the columns: %+v", all)
	}
	few := make([]string, len(bare))
	for i, row := range bare {
		few[i] = row + ",85,19,5500"
	}
	all := reviewOf("stage,carry_yd,side_yd,ball_speed_mph,launch_deg,spin_rpm", few...)
	if len(all) != 1 || all[0].Splits != nil || len(all[0].Says) != 1 || !strings.Contains(all[0].Says[0], "can't be told: ") || strings.Contains(all[0].Says[0], "flight:") {
		t.Errorf("too few: %+v", all)
	}
}

// Without start lines the gain is still taken apart, and nothing is said of start
// and curve, in sentences or in the table.
func TestMovedAlongWithoutStartLines(t *testing.T) {
	model := flight.Model{Coefficients: flight.Illustrative()}
	rows := []string{"stage,carry_yd,side_yd,ball_speed_mph,launch_deg,spin_rpm,apex_ft,descent_deg"}
	for i := range 12 {
		stage, mph := "old", 85+float64(i%4)
		if i >= 6 {
			stage, mph = "new", mph+4
		}
		degrees, rpm := 18+float64(i%3), 5200+100*float64(i%5)
		f, err := model.Fly(flight.Launch{Speed: mph * flight.MPH, Angle: degrees * flight.Degree, Spin: rpm * flight.RPM}, flight.Conditions{})
		if err != nil {
			t.Fatal(err)
		}
		rows = append(rows, fmt.Sprintf("%s,%.1f,%d,%g,%g,%g,%.1f,%.1f", stage, f.Carry/flight.Yard, i%5-2, mph, degrees, rpm, f.Apex/flight.Foot, f.Descent/flight.Degree))
	}
	l, err := lesson.Read(strings.NewReader(strings.Join(rows, "\n")), lesson.ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	r, err := New(l, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	all, err := r.MovedAlong(context.Background())
	if err != nil || len(all) != 1 || all[0].Splits == nil || len(all[0].Says) != 2 {
		t.Fatalf("%+v, %v", all, err)
	}
	if said := strings.Join(all[0].Says, " "); strings.Contains(said, "curve") || !strings.Contains(said, "is worth") {
		t.Errorf("%q", said)
	}
	for _, row := range r.MovedTable(all[0]).Rows {
		if strings.HasPrefix(row[0], "curve") {
			t.Errorf("%v", row)
		}
	}
}

func TestFlatSentence(t *testing.T) {
	top := flight.Top{Low: 15 * flight.Degree, High: 21 * flight.Degree}
	if got := flatSentence(flight.Sensitivity{Of: flight.PartAngle, Top: &top}); !strings.Contains(got, "from 15 to 21 degrees") {
		t.Error(got)
	}
	top = flight.Top{Low: 3000 * flight.RPM, High: 7000 * flight.RPM}
	if got := flatSentence(flight.Sensitivity{Of: flight.PartSpin, Top: &top}); !strings.Contains(got, "from 3000 to 7000 rpm") {
		t.Error(got)
	}
	top.AtEdge = true
	if got := flatSentence(flight.Sensitivity{Of: flight.PartSpin, Top: &top}) + flatSentence(flight.Sensitivity{Of: flight.PartSpeed}); got != "" {
		t.Errorf("no top in reach, but %q", got)
	}
}
