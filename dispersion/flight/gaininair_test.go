package flight

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/compare"
)

// carriedAs are shots of so much mean and scatter, unsure of so much.
func carriedAs(mean, fit, form float64, off ...float64) Carried {
	c := Carried{FitSE: fit, FormSE: form}
	for _, v := range off {
		c.Shots = append(c.Shots, Shot{Carry: mean + v})
	}
	return c
}

// By hand: fits unsure of .3 and .4 and forms of 1 and .5 add .25 + 1.5² = 2.5 to
// the square of the standard error.
func TestGainInAirByHand(t *testing.T) {
	stage := func(mean, fit, form float64) Carried { return carriedAs(mean, fit, form, -3, -1, 0, 1, 3) }
	g, err := GainInAir(context.Background(), stage(100, .3, 1), stage(104, .4, .5), compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	e := g.Effect
	// Both variances are 20/4 = 5, so the standard error is √(5/5 + 5/5), on 8 degrees
	// of freedom, whose t at 97.5 % is 2.306004.
	near(t, "gain", e.Estimate, 4, 1e-12)
	near(t, "half", (e.Interval.High-e.Interval.Low)/2, 2.306004135*math.Sqrt(2+2.5), 1e-7)
	near(t, "of the shots", g.ShotSE, math.Sqrt2, 1e-9)
	near(t, "of the air", g.AirSE, math.Sqrt(2.5), 1e-12)
	if e.Name != NameCarryGainInAir || e.Unit != "m" {
		t.Errorf("%+v", e)
	}
	// 2.5 is more than 2.
	var doubt *AirDoubtWarning
	if !errors.As(errors.Join(e.Warnings...), &doubt) || doubt.AirSE != g.AirSE {
		t.Errorf("warnings %v", e.Warnings)
	}
}

// There is no p, and nothing that speaks of one.
func TestGainInAirHasNoP(t *testing.T) {
	g, err := GainInAir(context.Background(), carriedAs(100, 0, 0, -1, 0, 1), carriedAs(104, 0, 0, -1, 0, 1), compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	e := g.Effect
	if e.HasP || e.P != 0 || e.PFloor != 0 || e.Resamples != 0 || strings.Contains(e.Method, "permutation") {
		t.Errorf("%+v", e)
	}
	var floor *compare.FloorWarning
	if err := errors.Join(e.Warnings...); errors.As(err, &floor) {
		t.Errorf("a floor of what is not there: %v", err)
	}
}

// More balls shrink the scatter of the shots alone. Forms unsure of 2 m each make 4
// m, and (1.96 + .842)·4 = 11.2 m is more than the 3 m asked for: no number of
// balls would do, however many there are. Forms unsure of .25 m make .5 m and leave
// √(9 - 1.4²) = 2.65 m to plan for.
func TestMoreBallsLeaveTheAirAsItIs(t *testing.T) {
	for _, n := range []int{10, 30, 200} {
		off := make([]float64, n)
		for i := range off {
			off[i] = 2*float64(i%2) - 1 // a standard deviation of about 1
		}
		g, err := GainInAir(context.Background(), carriedAs(100, 0, 2, off...), carriedAs(105, 0, 2, off...), compare.Options{Resamples: 9})
		if err != nil {
			t.Fatal(err)
		}
		v, err := g.Judge(3)
		if err != nil {
			t.Fatal(err)
		}
		if v.Kind != compare.CantTell || v.MoreBalls != 0 {
			t.Errorf("%d shots a side: %v, and %d more balls would settle it", n, v.Kind, v.MoreBalls)
		}
	}
	off := []float64{-6, -4, -2, 0, 2, 4, 6, 0}
	g, err := GainInAir(context.Background(), carriedAs(100, 0, .25, off...), carriedAs(103, 0, .25, off...), compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	v, err := g.Judge(3)
	if err != nil {
		t.Fatal(err)
	}
	// The variance of a shot is 112/7 = 16.
	air := (1.959964 + .841621) * .5
	need, err := compare.BallsForCarry(4, math.Sqrt(9-air*air), .8, .95)
	if err != nil {
		t.Fatal(err)
	}
	if v.MoreBalls != need-8 {
		t.Errorf("%d more balls, want %d - 8", v.MoreBalls, need)
	}
	sure, err := GainInAir(context.Background(), carriedAs(100, 0, 0, off...), carriedAs(103, 0, 0, off...), compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	mine, err1 := sure.Judge(3)
	theirs, err2 := compare.Judge(sure.Effect, 3)
	if err1 != nil || err2 != nil || mine.MoreBalls != theirs.MoreBalls || mine.MoreBalls == 0 {
		t.Errorf("without doubt of the air %d more balls, not %d (%v, %v)", mine.MoreBalls, theirs.MoreBalls, err1, err2)
	}
	if _, err := g.Judge(0); !errors.Is(err, compare.ErrSmallest) {
		t.Errorf("against 0: %v", err)
	}
}
