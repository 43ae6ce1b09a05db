package compare

import (
	"errors"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"gonum.org/v1/gonum/mathext"
)

// A Run is the Values of one stage, and At which places of the lesson its shots
// were hit: ball numbers, or minutes.
type Run struct{ At, Values []float64 }

// A DriftCheck tells whether a steady drift through the whole lesson explains the
// shots as well as the stages do.
type DriftCheck struct {
	N, Stages int

	// Of the spread of all shots, the share that a straight line and the stages
	// explain, each adjusted for the numbers it has to choose: below 0 where it
	// explains less than chance would.
	LineShare, StageShare float64

	// Within is the slope within the stages, per unit of place: how the shots
	// moved while nothing was changed on purpose. Neither way is better.
	Within Effect

	// BeyondLine is the p-value of the stages once the line is there, BeyondStages
	// that of the line once the stages are.
	BeyondLine, BeyondStages float64
}

// LineDoesAsWell tells whether the line explains at least as much as the stages:
// then what looks like a gain from stage to stage may be one long drift.
func (d DriftCheck) LineDoesAsWell() bool { return d.LineShare >= d.StageShare }

// DriftOrStages compares two stories of a lesson, one long drift and the stages.
// With N shots in k stages, SS the sums of squares left over and SST that about
// the one mean of all shots,
//
//	line    x = a + b·place          share = 1 - SS/(N-2) · (N-1)/SST
//	stages  x = a mean for each      share = 1 - SS/(N-k) · (N-1)/SST
//	both    x = a mean for each + b·place
//
// Within is the b of both, ± t(N-k-1). BeyondLine and BeyondStages are the F
// tests of both against the line and against the stages alone.
//
// It assumes independent shots of equal spread; a drift that is no line (a cold
// start that fades) shows less as one. Simulated with 20,000 lessons of two stages
// of ten: when the new swing truly gains two standard deviations the line does as
// well in 12 of 100, at one in 29; when the balls only drift by two from first to
// last, in 76. So it is a caution beside a verdict and not a verdict.
//
// It takes two stages and two shots more than stages plus one.
//
// Errors: [ErrPairs] where places and values differ in number;
// *[dispersion.TooFewError]; *[ValueError]; [dispersion.ErrDegenerate] where the
// shots, the places within stages or what is left over have no spread.
// Deterministic, O(n).
//
// Reference: N. R. Draper, H. Smith, Applied Regression Analysis, 3rd ed., Wiley
// 1998, chapters 5 and 6.
func DriftOrStages(name, unit string, stages []Run, level float64) (DriftCheck, error) {
	o, err := Options{Level: level}.resolved()
	if err != nil {
		return DriftCheck{}, err
	}
	var at, values []float64
	for j, s := range stages {
		if len(s.At) != len(s.Values) || len(s.At) == 0 {
			return DriftCheck{}, fmt.Errorf("compare: %d places of %d shots: %w", len(s.At), len(s.Values), ErrPairs)
		}
		if err := errors.Join(checkSide(fmt.Sprintf("among the places of stage %d", j+1), s.At), checkStage(j, s.Values)); err != nil {
			return DriftCheck{}, err
		}
		at, values = append(at, s.At...), append(values, s.Values...)
	}
	k, n := len(stages), len(values)
	if need := max(k, 2) + 3; k < 2 || n < need {
		return DriftCheck{}, fmt.Errorf("compare: %w", &dispersion.TooFewError{Have: n, Need: need, For: "drift against stages, in two stages or more,"})
	}
	// Places and values on scales of their own: only shares and one slope come out.
	place, _ := standardise(at, nil)
	value, _ := standardise(values, nil)
	all := momentsOf(place.values, value.values)
	var within dispersion.Moments
	from := 0
	for _, s := range stages {
		to := from + len(s.At)
		m := momentsOf(place.values[from:to], value.values[from:to])
		within.SXX += m.SXX
		within.SXY += m.SXY
		within.SYY += m.SYY
		from = to
	}
	if !(all.SXX > 0 && within.SXX > 0 && all.SYY > 0) {
		return DriftCheck{}, fmt.Errorf("compare: %s: no spread: %w", name, dispersion.ErrDegenerate)
	}
	line := all.SYY - all.SXY*all.SXY/all.SXX
	both := within.SYY - within.SXY*within.SXY/within.SXX
	if !(both > 1e-14*all.SYY) {
		return DriftCheck{}, fmt.Errorf("compare: %s: stages and line leave nothing over: %w", name, dispersion.ErrDegenerate)
	}
	N, K := float64(n), float64(k)
	df := N - K - 1
	d := DriftCheck{
		N: n, Stages: k,
		LineShare:    1 - line/(N-2)*(N-1)/all.SYY,
		StageShare:   1 - within.SYY/(N-K)*(N-1)/all.SYY,
		BeyondLine:   upperTail((line-both)/(K-1)/(both/df), K-1, df),
		BeyondStages: upperTail((within.SYY-both)/(both/df), 1, df),
	}
	scale := value.scale / place.scale
	slope := within.SXY / within.SXX * scale
	half := studentQuantile((1+o.Level)/2, df) * math.Sqrt(both/df/within.SXX) * scale
	d.Within, err = Effect{
		Name: name, Unit: unit, Method: "slope within the stages; least squares, t interval",
		N1: n, N2: n, Estimate: slope, NoBetter: true,
		Interval: dispersion.Interval{Low: slope - half, High: slope + half, Level: o.Level},
		DF:       df, P: d.BeyondStages, HasP: true,
	}.checked()
	return d, err
}

func momentsOf(x, y []float64) dispersion.Moments {
	var m dispersion.Moments
	for i := range x {
		m.Add(dispersion.Point{X: x[i], Y: y[i]})
	}
	return m
}

// upperTail returns P(F > f), without the loss of digits of 1 - CDF.
func upperTail(f, df1, df2 float64) float64 {
	return mathext.RegIncBeta(df2/2, df1/2, df2/(df2+df1*max(0, f)))
}

// lowerTail returns P(F < f) for f above 0, which is P(1/F > 1/f).
func lowerTail(f, df1, df2 float64) float64 { return upperTail(1/f, df2, df1) }
