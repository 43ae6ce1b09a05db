package compare

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// lookScale is the gain, in standard deviations of single shots, for which
// looking again and again costs least.
const lookScale = 1.0

// AnytimeGain returns the gain so far with an interval that may be looked at after
// every ball, and stopped at when it looks good: the chance that any of all the
// intervals of a lesson misses the true gain is at most 1 - level. With m =
// n₁n₂/(n₁+n₂), ν = n₁+n₂-2, the pooled standard deviation s and A = 1 + m, the
// interval holds the gains g whose t = (x̄₂-x̄₁-g)/(s/√m) has
//
//	e(t) = A^(-1/2) · [(1 + t²/ν)/(1 + t²/(νA))]^((ν+1)/2) < 1/(1-level)
//
// e is a likelihood ratio of t, with the gain normal around g with the standard
// deviation of single shots, against no gain; over a lesson such ratios are a
// martingale, so they rarely ever get large (Ville's inequality). P is the p-value
// that holds at any time, min(1, 1/e) at g = 0.
//
// It assumes independent normal shots of one spread, and that when to change
// from old to new was settled beforehand. At 10 against 10 its interval is 1.7
// times as wide as [MeanGain]'s: the price of looking. Simulated with 10,000
// lessons of 10 old balls and a look after each of 30 new ones, without any gain:
// 1.3 % ever exclude 0, with half the spread in the new swing 3.3 %; single-look
// intervals do so in 24 and 15 %.
//
// It takes two shots a side, and four of each at 95 %, before the interval is finite:
// until then *[dispersion.TooFewError].
//
// Errors: those of [MeanGain]. Deterministic, O(n).
//
// References: J. Ville, Étude critique de la notion de collectif, 1939. M. F.
// Pérez-Ortiz et al., "E-Statistics, Group Invariance and Anytime-Valid Testing",
// Annals of Statistics 52(4), 2024, pp. 1410-1432.
func AnytimeGain(ctx context.Context, name, unit string, before, after []float64, o Options) (Effect, error) {
	if ctx == nil {
		return Effect{}, fmt.Errorf("compare: %w", ErrMissing)
	}
	if err := ctx.Err(); err != nil {
		return Effect{}, err
	}
	o, err := o.resolved()
	if err != nil {
		return Effect{}, err
	}
	if err := checkValues(before, after); err != nil {
		return Effect{}, err
	}
	n1, n2 := len(before), len(after)
	if err := enough(n1, n2, 2, "a comparison of means"); err != nil {
		return Effect{}, err
	}
	reach := anytimeReach(n1, n2, o.Level)
	if math.IsInf(reach, 1) {
		need := max(n1, n2)
		for math.IsInf(anytimeReach(need, need, o.Level), 1) {
			need++
		}
		return Effect{}, fmt.Errorf("compare: %w", &dispersion.TooFewError{Have: min(n1, n2), Need: need, For: "an interval that may be looked at after every ball, of each,"})
	}
	z, ok := standardise(before, after)
	if !ok {
		return Effect{}, fmt.Errorf("compare: %s: no spread before or after: %w", name, dispersion.ErrDegenerate)
	}
	s1, s2 := summaryOf(z.values[:n1]), summaryOf(z.values[n1:])
	df := s1.n + s2.n - 2
	m := s1.n * s2.n / (s1.n + s2.n)
	se := math.Sqrt((s1.ss + s2.ss) / df / m)
	if se == 0 {
		return Effect{}, fmt.Errorf("compare: %s: no spread before or after: %w", name, dispersion.ErrDegenerate)
	}
	estimate, half := (s2.mean-s1.mean)*z.scale, reach*se*z.scale
	return Effect{
		Name: name, Unit: unit, Method: "difference of means; interval and p that hold at any number of looks",
		Before: z.centre + z.scale*s1.mean, After: z.centre + z.scale*s2.mean,
		N1: n1, N2: n2,
		Estimate: estimate,
		Interval: dispersion.Interval{Low: estimate - half, High: estimate + half, Level: o.Level},
		P:        min(1, math.Exp(-logEvidence((s2.mean-s1.mean)/se, df, m))), HasP: true, Seed: o.Seed,
	}.checked()
}

// logEvidence returns ln e(t).
func logEvidence(t, df, m float64) float64 {
	a := 1 + m*lookScale*lookScale
	return -math.Log(a)/2 + (df+1)/2*(math.Log1p(t*t/df)-math.Log1p(t*t/(df*a)))
}

// anytimeReach returns the t at which e(t) is 1/(1-level), +Inf where it never is.
func anytimeReach(n1, n2 int, level float64) float64 {
	df := float64(n1 + n2 - 2)
	m := float64(n1) * float64(n2) / float64(n1+n2)
	a := 1 + m*lookScale*lookScale
	// (1+x)/(1+x/a) = k at x = t²/df; its limit for large x is a.
	k := math.Exp(2 / (df + 1) * (math.Log(a)/2 - math.Log1p(-level)))
	if k >= a {
		return math.Inf(1)
	}
	return math.Sqrt(df * (k - 1) / (1 - k/a))
}
