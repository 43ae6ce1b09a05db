package compare

import (
	"context"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// AreaRatio returns the area of the pattern after over the area before: the
// normal-shots answer to "has the spread changed?". With r = √|S₂|/√|S₁|,
// νⱼ = 2nⱼ-4 and
//
//	R = r·[(n₂-1)·ν₁]/[(n₁-1)·ν₂]
//
// R over the true ratio follows F(ν₂, ν₁) exactly. The interval is R/F₁₋ₐ, R/Fₐ
// with a = (1-level)/2; the estimate is R/F₀.₅, too large as often as too small;
// P is twice the smaller tail of R. Before and After are the areas π·√|S| of
// the one-sigma ellipses; at unequal n their ratio is not the estimate.
//
// It assumes independent shots from bivariate normal distributions. Golf
// groups have heavier tails, and there the interval is too narrow, the more so
// the more shots there are: read it beside [SpreadRatio], which [JudgeSpread]
// does. It is a ratio of areas; the radius shrinks by the square root.
//
// It takes three shots a side, where the interval reaches a factor of 39 either
// way at 95 %.
//
// Errors: [ErrMissing]; [dispersion.ErrLevel], [ErrResamples];
// *[dispersion.TooFewError] below 3 shots a side; [dispersion.ErrDegenerate]
// for shots on one line; the context's error. Warnings: *[FewShotsWarning]
// where the interval reaches beyond twice the radius either way.
//
// It is deterministic and takes O(n).
//
// Reference: T. W. Anderson, An Introduction to Multivariate Statistical
// Analysis, 3rd ed., Wiley 2003, section 7.5.
func AreaRatio(ctx context.Context, before, after *dispersion.Group, o Options) (Effect, error) {
	o, err := start(ctx, before, after, o)
	if err != nil {
		return Effect{}, err
	}
	n1, n2 := before.N(), after.N()
	if err := enough(n1, n2, 3, "an area ratio"); err != nil {
		return Effect{}, err
	}
	area1, err := before.AreaScale(o.Level)
	if err != nil {
		return Effect{}, err
	}
	area2, err := after.AreaScale(o.Level)
	if err != nil {
		return Effect{}, err
	}
	df1, df2 := float64(2*n1-4), float64(2*n2-4)
	ratio := area2.Raw / area1.Raw * float64(n2-1) * df1 / (float64(n1-1) * df2)
	law := fLaw(df2, df1)
	tail := (1 - o.Level) / 2
	e := Effect{
		Name: NameAreaRatio, Method: "ratio of areas, exact for normal shots; median-unbiased estimate; interval and p from F(2n-4, 2n-4)",
		Before: math.Pi * area1.Raw, After: math.Pi * area2.Raw,
		N1: n1, N2: n2,
		Estimate: ratio / law.Quantile(0.5), Null: 1,
		Interval: dispersion.Interval{Low: ratio / upperF(tail, df2, df1), High: ratio / law.Quantile(tail), Level: o.Level},
		P:        min(1, 2*min(lowerTail(ratio, df2, df1), upperTail(ratio, df2, df1))), HasP: true,
		Seed: o.Seed,
	}
	reach := func(n1, n2 int) float64 {
		df1, df2 := float64(2*n1-4), float64(2*n2-4)
		return math.Log(math.Max(upperF(tail, df2, df1), upperF(tail, df1, df2))) / 2
	}
	e.Warnings = reachWarnings(n1, n2, "normal shots", reach)
	return e.checked()
}

// upperF returns the point that F exceeds with the given probability, by the
// reciprocal of the lower tail of the swapped law: 1 - tail would lose digits.
func upperF(tail, df1, df2 float64) float64 {
	return 1 / fLaw(df2, df1).Quantile(tail)
}

// usefulReach is the natural logarithm of how far, as a factor of the radius,
// the interval of a ratio may reach either way before shots are called few.
const usefulReach = math.Ln2

// reachWarnings compares the reach of the interval, a factor's logarithm, with
// what is useful.
func reachWarnings(n1, n2 int, shots string, reach func(n1, n2 int) float64) []error {
	if reach(n1, n2) <= usefulReach {
		return nil
	}
	need := max(4, min(n1, n2))
	for need < 1000 && reach(need, need) > usefulReach {
		need++
	}
	return []error{&FewShotsWarning{
		Before: n1, After: n2, Need: need,
		For: "an interval that reaches no further than half and twice the spread, for " + shots,
	}}
}
