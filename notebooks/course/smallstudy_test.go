package course

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

func study(t *testing.T, seed uint64) Study {
	t.Helper()
	s, err := RunStudy(seed)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Over many studies of one truth the drills' difference is right on average, and its
// interval holds the truth as often as it says.
func TestStudiesFindTheTruth(t *testing.T) {
	const studies = 60
	sum, held := 0.0, 0
	for seed := range uint64(studies) {
		s := study(t, seed+100)
		r, err := s.Analyse(studyKey, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		sum += r.Drill.Estimate
		if r.Drill.Interval.Low <= s.Truth.Drill && s.Truth.Drill <= r.Drill.Interval.High {
			held++
		}
	}
	s := study(t, 1)
	half, err := s.Plan.HalfWidth(0.95)
	if err != nil {
		t.Fatal(err)
	}
	if band := 4 * half / 2 / math.Sqrt(studies); math.Abs(sum/studies-s.Truth.Drill) > band {
		t.Errorf("the drills differ by %.2f on average, in truth by %g ± %.2f", sum/studies, s.Truth.Drill, band)
	}
	if least := 0.95*studies - 4*math.Sqrt(0.95*0.05*studies); float64(held) < least {
		t.Errorf("%d of %d intervals hold the truth, want %.0f", held, studies, least)
	}
}

// The analysis takes the pupils' names out and changes nothing else by it.
func TestAnalyseUnderPseudonyms(t *testing.T) {
	s := study(t, 2)
	r, err := s.Analyse(studyKey, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if r.Pupils != s.Plan.Pupils || r.Trials != len(s.Trials) {
		t.Errorf("%d pupils, %d turns", r.Pupils, r.Trials)
	}
	for _, d := range r.PupilGains {
		if _, named := s.Truth.Pupils[d.Of]; named {
			t.Errorf("%s is named", d.Of)
		}
	}
	// Balanced turns: the model's difference is that of the means, but for the periods.
	if diff := s.DrillMean(1) - s.DrillMean(0); math.Abs(diff-r.Drill.Estimate) > 0.2 {
		t.Errorf("by the model %.2f, by the means %.2f", r.Drill.Estimate, diff)
	}
}

// The best of many gains are better than the truth behind them, in every study.
func TestBestTable(t *testing.T) {
	for seed := range uint64(5) {
		for _, row := range study(t, seed).BestTable(6).Rows {
			seen, err1 := strconv.ParseFloat(row[2], 64)
			truth, err2 := strconv.ParseFloat(row[3], 64)
			if err := allOf(err1, err2); err != nil {
				t.Fatal(err)
			}
			if seen <= truth {
				t.Errorf("study %d: %v", seed, row)
			}
		}
	}
}

// Shrinking comes nearer to the truth than the gains as seen, and than nothing.
func TestShrinkTable(t *testing.T) {
	var off [3]float64
	for seed := range uint64(10) {
		table, err := study(t, seed).ShrinkTable()
		if err != nil {
			t.Fatal(err)
		}
		for i := range off {
			v, err := strconv.ParseFloat(table.Rows[i][1], 64)
			if err != nil {
				t.Fatal(err)
			}
			off[i] += v
		}
	}
	if off[2] >= off[0] || off[2] >= off[1] {
		t.Errorf("over ten studies: as seen %.1f, nothing %.1f, shrunken %.1f", off[0], off[1], off[2])
	}
}

// Source: R 4.2.2, q <- qt(0.975, df); 1 - pt(q, df, ncp = 1.5 * q) with df = 6 and
// 46: how often the interval leaves zero out when the true difference is one and a
// half times the half-width of the plan. Here such studies are drawn instead.
func TestEnoughIsEnough(t *testing.T) {
	const studies = 20_000
	rng := rand.New(rand.NewPCG(13, 0))
	for pupils, want := range map[int]float64{8: 0.8614156, 48: 0.8403226} {
		p := study(t, 1).Plan
		p.Pupils = pupils
		half, err := p.HalfWidth(0.95)
		if err != nil {
			t.Fatal(err)
		}
		se := math.Sqrt(2 / float64(pupils) * 2 * (p.DaySD*p.DaySD + p.ShotSD*p.ShotSD/float64(p.TestBalls)))
		clear := 0
		for range studies {
			squares := 0.0
			for range pupils - 2 {
				z := rng.NormFloat64()
				squares += z * z
			}
			if enough*half+se*rng.NormFloat64() > half*math.Sqrt(squares/float64(pupils-2)) {
				clear++
			}
		}
		got := float64(clear) / studies
		if band := 4 * math.Sqrt(want*(1-want)/studies); math.Abs(got-want) > band || got < 0.8 {
			t.Errorf("%d pupils: clear of zero in %.4f of studies, want %.4f ± %.4f", pupils, got, want, band)
		}
	}
}

// The sheet of the notebook says what the plan says, line for line.
func TestSettledTable(t *testing.T) {
	s := study(t, 1)
	table, err := s.SettledTable()
	if err != nil {
		t.Fatal(err)
	}
	settled := map[string]string{}
	for _, row := range table.Rows {
		settled[row[0]] = row[1]
	}
	for what, want := range map[string]string{
		"question":                         "Does step and swing teach more than slow swings?",
		"smallest difference worth having": "3 yd more",
		"pupils":                           "48, each with two turns; the study ends with the last of them, not when the answer looks good",
	} {
		if settled[what] != want {
			t.Errorf("%s: %q, want %q", what, settled[what], want)
		}
	}
	for _, what := range []string{"headline", "also looked at", "design", "test", "analysis", "width", "left out", "verdict"} {
		if settled[what] == "" {
			t.Errorf("nothing is settled about the %s", what)
		}
	}
}
