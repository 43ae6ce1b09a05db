package compare

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// HodgesLehmann returns the shift from before to after that wild shots hardly
// move: the median of all n₁n₂ differences of a value after and one before. The
// interval runs from the k-th smallest to the k-th largest difference, with the
// largest k for which
//
//	P(U < k) < (1-level)/2
//
// U being the Mann-Whitney count without ties and without a shift. P is that of
// the rank-sum test: the share of all splits whose sum of ranks is at least as
// far from its mean; ties share the mean of their ranks, and are counted out
// exactly. Beyond 100 shots in all, o.Resamples splits are drawn for P and the
// normal law gives k.
//
// Before and After are the medians, whose difference is not the estimate.
//
// It assumes that after differs from before by a shift alone, in a distribution
// of any shape. One wild shot in six or so does it no harm. Ties make the
// interval hold the truth more often than its level says.
//
// Differences come in steps, so the level attained differs from the one asked
// for: the Interval states the one attained, never below what was asked for,
// unless the shots are too few for that; then it has all differences in it.
//
// It takes two values a side; from 4 against 4 on it can reach 95 %.
//
// Errors: [ErrMissing] for a nil context; [dispersion.ErrLevel], [ErrResamples];
// *[dispersion.TooFewError] below 2 shots a side; *[ValueError];
// [dispersion.ErrDegenerate] where all values are equal; the context's error.
// Warnings: *[LevelWarning].
//
// The same inputs give the same bits on any number of cores. It keeps n₁n₂
// differences.
//
// References: J. L. Hodges, E. L. Lehmann, "Estimates of Location Based on Rank
// Tests", Annals of Mathematical Statistics 34(2), 1963, pp. 598-611. M.
// Hollander, D. A. Wolfe, Nonparametric Statistical Methods, 2nd ed., Wiley 1999,
// sections 4.1-4.3.
func HodgesLehmann(ctx context.Context, name, unit string, before, after []float64, o Options) (Effect, error) {
	o, err := startValues(ctx, before, after, 2, "a shift", o)
	if err != nil {
		return Effect{}, err
	}
	n1, n2 := len(before), len(after)
	pooled := append(slices.Clone(before), after...)
	if slices.Min(pooled) == slices.Max(pooled) {
		return Effect{}, fmt.Errorf("compare: %s: all values are equal: %w", name, dispersion.ErrDegenerate)
	}
	k, tail, err := orderForInterval(ctx, n1, n2, (1-o.Level)/2)
	if err != nil {
		return Effect{}, err
	}
	differences := make([]float64, 0, n1*n2)
	for _, a := range after {
		for _, b := range before {
			differences = append(differences, a-b)
		}
	}
	pairs := len(differences)
	at := ranked(differences, []int{(pairs - 1) / 2, pairs / 2, k - 1, pairs - k})
	e := Effect{
		Name: name, Unit: unit,
		N1: n1, N2: n2,
		Estimate: at[0]/2 + at[1]/2,
		Interval: dispersion.Interval{Low: at[2], High: at[3], Level: 1 - 2*tail},
		HasP:     true,
		Seed:     o.Seed,
	}
	if e.Before, err = dispersion.Median(before); err != nil {
		return Effect{}, err
	}
	if e.After, err = dispersion.Median(after); err != nil {
		return Effect{}, err
	}
	if e, err = withRankSumP(ctx, e, pooled, o); err != nil {
		return Effect{}, err
	}
	if e.Interval.Level < o.Level-1e-12 {
		e.Warnings = append(e.Warnings, &LevelWarning{Asked: o.Level, Attained: e.Interval.Level, Need: shotsForRanks(o.Level)})
	}
	return e.checked()
}

// withRankSumP completes the effect with p and the method.
func withRankSumP(ctx context.Context, e Effect, pooled []float64, o Options) (Effect, error) {
	const method = "median of all differences; interval from their order; "
	ranks := doubledMidranks(pooled)
	if len(ranks) <= exactRanks {
		d, err := newRankSum(ctx, ranks, e.N1)
		if err != nil {
			return Effect{}, err
		}
		sum := 0
		for _, r := range ranks[:e.N1] {
			sum += r
		}
		e.P, e.PFloor = d.twoSided(sum)
		e.Method = method + "p of the rank sum, all splits counted"
		return e, nil
	}
	mean := float64(e.N1) * float64(len(ranks)+1) // of the sum of doubled ranks
	perm, err := splitTest{
		n1: e.N1, n2: e.N2, tag: "rank sum", what: "rank sum", mirrored: true,
		statistic: func() func(resample.Split) (float64, error) {
			return func(s resample.Split) (float64, error) {
				sum := 0
				for _, i := range s.Order[:s.First] {
					sum += ranks[i]
				}
				return math.Abs(float64(sum) - mean), nil
			}
		},
	}.run(ctx, o)
	if err != nil {
		return Effect{}, err
	}
	e.P, e.PFloor, e.Resamples = perm.P, perm.PFloor, perm.Splits
	if perm.Exact { // the least and the largest sum are as far from the mean
		e.PFloor = 2 / float64(perm.Splits)
	}
	e.Method = method + perm.Method
	return e, nil
}

// shotsForRanks returns the shots of each side from which an interval by ranks
// can reach the level: 2/C(2n, n), the two outermost splits, below 1 - level.
func shotsForRanks(level float64) int {
	n, splits := 1, 2.0
	for 2/splits > 1-level && n < exactRanks {
		splits *= 4 - 2/float64(n+1)
		n++
	}
	return n
}

// startValues checks what every comparison of two lists of values needs.
func startValues(ctx context.Context, before, after []float64, need int, what string, o Options) (Options, error) {
	if ctx == nil {
		return o, fmt.Errorf("compare: %w", ErrMissing)
	}
	if err := ctx.Err(); err != nil {
		return o, err
	}
	o, err := o.resolved()
	if err != nil {
		return o, err
	}
	if err := checkValues(before, after); err != nil {
		return o, err
	}
	return o, enough(len(before), len(after), need, what)
}
