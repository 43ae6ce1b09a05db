package practice

import (
	"context"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// Source: datasets/demo-season/truth.json: single shots differ by 6 yards, days by
// 1.5 and, since the first balls get better over the weeks, sessions by some 2.3;
// the carry is kept with what the model finds.
func TestSpreadBetweenDaysOfTheDemoSeason(t *testing.T) {
	truth, err := datasets.DemoSeasonTruth()
	if err != nil {
		t.Fatal(err)
	}
	s := demoSeason(t)
	values := s.Measured("7 iron", "carry", Retention)
	if len(values) < 100 || len(values) > 110 || values[0].Stage != "retention" || values[0].Session != "2026-04-11" || values[0].Pupil != "Nila" {
		t.Fatalf("%d values, the first %+v", len(values), values[0])
	}
	if all := s.Measured("7 iron", "carry"); len(all) <= 2*len(values) {
		t.Errorf("%d values of all phases", len(all))
	}
	if s.Measured("9 iron", "carry") != nil || (*Season)(nil).Measured("7 iron", "carry") != nil {
		t.Error("values from nowhere")
	}
	fit, err := FitMixed(SessionModel("carry", "yd", values), FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	spreads, err := fit.SpreadIntervals()
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{2.3, truth.Stages[0].CarrySD} {
		if spreads[i].Interval.Low > want || spreads[i].Interval.High < want {
			t.Errorf("%s: %+v, drawn with %g", spreads[i].Name, spreads[i], want)
		}
	}
	k, err := Kept(context.Background(), s, Question{Club: "7 iron", DaySD: fit.Random[0].SD}, compare.Options{})
	if err != nil || k.Outcome != GainKept {
		t.Errorf("with days that differ by %.2f: %s, %v", fit.Random[0].SD, k.Outcome, err)
	}
}
