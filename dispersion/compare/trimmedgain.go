package compare

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
)

// trimmed is the share of values left out at either end.
const trimmed = 0.2

// TrimmedGain returns the 20 % trimmed mean after minus the one before: of each
// side the g = ⌊n/5⌋ smallest and g largest values are left out. With h = n - 2g
// and s²w the variance after each of those has been replaced by the nearest
// value kept (Winsorised),
//
//	x̄t₂ - x̄t₁ ± t(ν)·√(d₁+d₂),  dⱼ = (nⱼ-1)·s²wⱼ/[hⱼ(hⱼ-1)]
//	ν = (d₁+d₂)²/[d₁²/(h₁-1) + d₂²/(h₂-1)]
//
// and p from the same t. It answers how the middle of the balls has moved, which
// a mishit or two at either end leave alone.
//
// It assumes independent shots. Trimmed means are of the struck and the missed
// alike, the worst left out whichever they are: for how good the clean shots are
// leave mishits out by their definition and take [MeanGain].
//
// It takes ten values a side: with fewer, leaving out two of each end says more
// about the rule than about the balls.
//
// Errors: [ErrMissing] for a nil context; [dispersion.ErrLevel], [ErrResamples];
// *[dispersion.TooFewError] below 10 shots a side; *[ValueError];
// [dispersion.ErrDegenerate] where the values kept have no spread on either side;
// the context's error.
//
// It is deterministic and takes O(n log n).
//
// Reference: K. K. Yuen, "The Two-Sample Trimmed t for Unequal Population
// Variances", Biometrika 61(1), 1974, pp. 165-170.
func TrimmedGain(ctx context.Context, name, unit string, before, after []float64, o Options) (Effect, error) {
	o, err := startValues(ctx, before, after, 10, "a trimmed mean", o)
	if err != nil {
		return Effect{}, err
	}
	// The values left out must not set the scale: a wild one would cost digits.
	z, ok := standardise(winsorised(before), winsorised(after))
	t1, t2 := trim(z.values[:len(before)]), trim(z.values[len(before):])
	w := welchOf(t1, t2)
	if !ok || !(w.se > 1e-12) {
		return Effect{}, fmt.Errorf("compare: %s: no spread in the middle, before or after: %w", name, dispersion.ErrDegenerate)
	}
	half := studentQuantile((1+o.Level)/2, w.df) * w.se * z.scale
	estimate := w.difference * z.scale
	return Effect{
		Name: name, Unit: unit, Method: "difference of 20 % trimmed means; Yuen's interval and p",
		Before: z.centre + z.scale*w.mean1, After: z.centre + z.scale*w.mean2,
		N1: len(before), N2: len(after),
		Estimate: estimate,
		Interval: dispersion.Interval{Low: estimate - half, High: estimate + half, Level: o.Level},
		DF:       w.df,
		P:        studentP(w.difference/w.se, w.df), HasP: true,
		Seed: o.Seed,
	}.checked()
}

// winsorised returns the values in order, those that are trimmed replaced by the
// nearest ones kept.
func winsorised(values []float64) []float64 {
	sorted := slices.Sorted(slices.Values(values))
	g := int(math.Floor(trimmed * float64(len(sorted))))
	for i := range g {
		sorted[i], sorted[len(sorted)-1-i] = sorted[g], sorted[len(sorted)-1-g]
	}
	return sorted
}

// trim returns, of winsorised values, the summary of h values whose mean is the
// trimmed one and whose squared standard error, ss/(h-1)/h, is that of the
// trimmed mean.
func trim(values []float64) summary {
	g := int(math.Floor(trimmed * float64(len(values))))
	kept := values[g : len(values)-g]
	return summary{n: float64(len(kept)), mean: summaryOf(kept).mean, ss: summaryOf(values).ss}
}
