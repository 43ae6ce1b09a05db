package compare

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// CarryGain returns how much longer the balls after carry than those before,
// on average: [MeanGain] of the carries, in the unit of the points.
func CarryGain(ctx context.Context, before, after *dispersion.Group, o Options) (Effect, error) {
	if _, err := start(ctx, before, after, o); err != nil {
		return Effect{}, err
	}
	carry := func(p dispersion.Point) float64 { return p.Y }
	return MeanGain(ctx, NameCarryGain, "", column(before, carry), column(after, carry), o)
}

// SideShift returns how much farther right the balls after land than those
// before, on average: [MeanGain] of the sides, in the unit of the points. To
// the right is neither better nor worse in itself, so [Judge] refuses it.
func SideShift(ctx context.Context, before, after *dispersion.Group, o Options) (Effect, error) {
	if _, err := start(ctx, before, after, o); err != nil {
		return Effect{}, err
	}
	side := func(p dispersion.Point) float64 { return p.X }
	e, err := MeanGain(ctx, NameSideShift, "", column(before, side), column(after, side), o)
	e.NoBetter = err == nil
	return e, err
}

func column(g *dispersion.Group, of func(dispersion.Point) float64) []float64 {
	points := g.Points()
	values := make([]float64, len(points))
	for i, p := range points {
		values[i] = of(p)
	}
	return values
}

// MeanGain returns the mean after minus the mean before, with the interval of
// Welch and Satterthwaite,
//
//	x̄₂ - x̄₁ ± t(ν)·√(s₁²/n₁ + s₂²/n₂)
//	ν = (s₁²/n₁ + s₂²/n₂)² / [(s₁²/n₁)²/(n₁-1) + (s₂²/n₂)²/(n₂-1)]
//
// and the permutation p-value of the studentised difference |x̄₂-x̄₁|/√(…): the
// share of the ways to deal the same shots into n₁ and n₂ in which it is at
// least as large. All ways are tried up to 200,000 (10 against 10), else
// o.Resamples are drawn and p = (b+1)/(m+1). Values within one part in 10⁹
// (of 1, where the statistic is smaller) count as equally large. A split that
// leaves both sides without spread has an infinite statistic.
//
// It assumes independent shots; the two spreads may differ. Shots in one long
// drift, or a mean of clean shots beside more mishits, are not what it asks.
//
// Name and unit label the result. It takes two shots a side; at three or fewer
// there is little to see, and at three or fewer on a side no verdict.
//
// Errors: [ErrMissing] for a nil context; [dispersion.ErrLevel], [ErrResamples];
// *[dispersion.TooFewError] below 2 shots a side; *[ValueError] for a NaN, an
// infinity or a size beyond [dispersion.MaxCoordinate];
// [dispersion.ErrDegenerate] where neither side has any spread; the context's
// error. Warnings: *[FewShotsWarning], *[FloorWarning].
//
// The same inputs give the same bits on any number of cores. All splits of 10
// against 10 take a few hundredths of a second.
//
// References: B. L. Welch, "The Generalization of 'Student's' Problem when
// Several Different Population Variances are Involved", Biometrika 34(1/2),
// 1947, pp. 28-35. A. Janssen, "Studentized Permutation Tests for Non-i.i.d.
// Hypotheses and the Generalized Behrens-Fisher Problem", Statistics &
// Probability Letters 36(1), 1997, pp. 9-21. B. Phipson, G. K. Smyth,
// "Permutation P-values Should Never Be Zero", Statistical Applications in
// Genetics and Molecular Biology 9(1), 2010, article 39.
func MeanGain(ctx context.Context, name, unit string, before, after []float64, o Options) (Effect, error) {
	o, err := startValues(ctx, before, after, 2, "a comparison of means", o)
	if err != nil {
		return Effect{}, err
	}
	n1, n2 := len(before), len(after)
	z, ok := standardise(before, after)
	w := welchOf(summaryOf(z.values[:n1]), summaryOf(z.values[n1:]))
	if !ok || w.se == 0 {
		return Effect{}, fmt.Errorf("compare: %s: no spread before or after: %w", name, dispersion.ErrDegenerate)
	}
	perm, err := splitTest{
		n1: n1, n2: n2, tag: "mean gain", what: "studentised difference", mirrored: true, unit: 1,
		statistic: func() func(resample.Split) (float64, error) {
			return func(s resample.Split) (float64, error) { return z.studentised(s), nil }
		},
	}.run(ctx, o)
	if err != nil {
		return Effect{}, err
	}
	half := studentQuantile((1+o.Level)/2, w.df) * w.se * z.scale
	estimate := w.difference * z.scale
	return Effect{
		Name: name, Unit: unit,
		Method: "difference of means; Welch-Satterthwaite interval; " + perm.Method,
		Before: z.centre + z.scale*w.mean1, After: z.centre + z.scale*w.mean2,
		N1: n1, N2: n2,
		Estimate: estimate,
		Interval: dispersion.Interval{Low: estimate - half, High: estimate + half, Level: o.Level},
		DF:       w.df,
		P:        perm.P, PFloor: perm.PFloor, HasP: true,
		Seed: o.Seed, Resamples: perm.Splits,
		Warnings: append(meanWarnings(n1, n2, o), perm.Warnings...),
	}.checked()
}

func checkValues(before, after []float64) error {
	if err := checkSide("before", before); err != nil {
		return err
	}
	return checkSide("after", after)
}

// checkStage checks the values of stage j, from 0.
func checkStage(j int, values []float64) error {
	return checkSide(fmt.Sprintf("in stage %d", j+1), values)
}

func checkSide(side string, values []float64) error {
	for i, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("compare: %w", &ValueError{side, i, v, "leave it out or correct it"})
		}
		if math.Abs(v) > dispersion.MaxCoordinate {
			return fmt.Errorf("compare: %w", &ValueError{side, i, v, "too large to be squared"})
		}
	}
	return nil
}

// usefulTimes is how many times as wide an interval may be as it would be with
// the shots' spread known before few shots are called few.
const usefulTimes = 1.2

func meanWarnings(n1, n2 int, o Options) []error {
	var warnings []error
	if min(n1, n2) <= 3 {
		upper := (1 + o.Level) / 2
		need := 4
		for need < 1000 && studentQuantile(upper, float64(2*need-2)) > usefulTimes*normalQuantile(upper) {
			need++
		}
		warnings = append(warnings, &FewShotsWarning{
			Before: n1, After: n2, Need: need,
			For: "an interval less than 1.2 times as wide as with the spread of the shots known",
		})
	}
	return warnings
}
