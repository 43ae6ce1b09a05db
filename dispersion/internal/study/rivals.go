package main

import (
	"context"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// Few splits and resamples are enough where many pairs are seen: what a method
// does with the default number of them differs by less than the standard error.
var (
	fewSplits    = compare.Options{Resamples: 199}
	fewResamples = compare.Options{Resamples: 999}
	fewRobust    = compare.Options{Resamples: 199}
)

// What one pair takes decides how many pairs a method sees: all permutations of
// 10 against 10 take 11 milliseconds, a robust ratio of 20 against 20 60.
var (
	exact  = [4]int{1, 10, 2, 4}
	slow3  = [4]int{1, 20, 4, 8}
	energy = [4]int{4, 20, 4, 8}
	ranks  = [4]int{1, 2, 10, 20}
	robust = [4]int{1, 16, 32, 64}
	picked = [4]int{4, 4, 10, 20}
	booted = [4]int{4, 4, 4, 4}
	fast   [4]int
)

var rivals = []rival{
	{"CarryGain", "the gain in carry; p by permutation", false, 2, exact, func(ctx context.Context, p pair) (answer, error) {
		return gained(compare.CarryGain(ctx, p.before, p.after, fewSplits))
	}},
	{"CarryGain, ¾ as wide after", "the same with less spread after", false, 2, exact, func(ctx context.Context, p pair) (answer, error) {
		return gained(compare.CarryGain(ctx, p.before, p.narrow, fewSplits))
	}},
	{"SideShift", "the shift to the side; p by permutation", false, 2, exact, func(ctx context.Context, p pair) (answer, error) {
		return gained(compare.SideShift(ctx, p.before, p.after, fewSplits))
	}},
	{"HodgesLehmann", "the shift of the carry by ranks", false, 2, ranks, func(ctx context.Context, p pair) (answer, error) {
		return gained(compare.HodgesLehmann(ctx, "", "", carries(p.before), carries(p.after), fewSplits))
	}},
	{"TrimmedGain", "the gain in carry of the middle 60 %", false, 10, fast, func(ctx context.Context, p pair) (answer, error) {
		return gained(compare.TrimmedGain(ctx, "", "", carries(p.before), carries(p.after), compare.Options{}))
	}},
	{"CentreShift, ¾ as wide after", "the shift of the centre in the plane", false, 3, fast, func(ctx context.Context, p pair) (answer, error) {
		s, err := compare.CentreShift(ctx, p.before, p.narrow, compare.Options{})
		if err != nil {
			return answer{}, err
		}
		return answer{s.Region.Contains(dispersion.Point{}), radius(s.Region), s.P, true}, nil
	}},
	{"Bookend", "the gain in carry over the old swing before and after", false, 2, slow3, func(ctx context.Context, p pair) (answer, error) {
		b, err := compare.Bookend(ctx, p.before, p.after, p.again, fewSplits)
		return gained(b.Gain, err)
	}},
	{"PairedGain", "the gain in carry of pairs of blocks, of which n is the number", false, 2, exact, func(ctx context.Context, p pair) (answer, error) {
		if p.before.N() != p.after.N() {
			return answer{}, errNone
		}
		return gained(compare.PairedGain(ctx, "", "", carries(p.before), carries(p.after), fewSplits))
	}},
	{"PickedGain", "the gain in carry of the best half of the shots after", false, 5, picked, func(ctx context.Context, p pair) (answer, error) {
		shots := carries(p.after)
		slices.Sort(shots)
		n := len(shots)
		g, err := compare.PickedGain(ctx, "", "", carries(p.before), shots[n-n/2:], compare.Picking{Rule: compare.BestShots, Keep: n / 2, Of: n}, fewResamples)
		return gained(g.Corrected, err)
	}},
	{"SpreadRatio", "the ratio of spreads", false, 3, fast, ratio(compare.SpreadRatio, compare.Options{})},
	{"AreaRatio", "the ratio of areas", true, 3, fast, ratio(compare.AreaRatio, compare.Options{})},
	{"AngleSpreadRatio", "the ratio of spreads of angles", false, 3, fast, ratio(compare.AngleSpreadRatio, compare.Options{})},
	{"RobustSpreadRatio", "the ratio of spreads of the good shots", false, 10, robust, ratio(compare.RobustSpreadRatio, fewRobust)},
	{"PosteriorAreaRatio, ¾ as wide after", "the ratio of areas with a weak prior of 6 and 8 yards, the spreads before", true, 3, fast, posterior(6, 8)},
	{"PosteriorAreaRatio, ¾ as wide after, a prior too small", "the same with a weak prior of 3 and 4 yards", true, 3, fast, posterior(3, 4)},
	{"BootstrapMoments of a mean", "the gain in carry by resampling", false, 3, booted, bootstrapped(func(b, a dispersion.Moments) (float64, error) {
		return a.Mean.Y - b.Mean.Y, nil
	})},
	{"BootstrapMoments of LogAreaRatio", "the log ratio of areas by resampling", true, 3, booted, bootstrapped(compare.LogAreaRatio)},
	{"AnyDifference", "any difference at all, by energy distance; no interval", false, 2, energy, func(ctx context.Context, p pair) (answer, error) {
		d, err := compare.AnyDifference(ctx, p.before, p.after, fewSplits)
		return answer{p: d.P, hasP: true}, err
	}},
	{"Spreads", "any difference of spreads, here of two; no interval", false, 3, fast, func(ctx context.Context, p pair) (answer, error) {
		d, err := compare.Spreads(ctx, []*dispersion.Group{p.before, p.after}, compare.Options{})
		return answer{p: d.P, hasP: true}, err
	}},
}

// posterior holds the ratio of areas against that of groups of which the second is narrower.
func posterior(side, carry float64) func(context.Context, pair) (answer, error) {
	return func(_ context.Context, p pair) (answer, error) {
		prior, err := compare.WeakPrior(side, carry)
		if err != nil {
			return answer{}, err
		}
		before, err := compare.PosteriorOf(p.before, prior)
		if err != nil {
			return answer{}, err
		}
		after, err := compare.PosteriorOf(p.narrow, prior)
		if err != nil {
			return answer{}, err
		}
		e, err := compare.PosteriorAreaRatio(before, after, level)
		return held(e, narrower*narrower), err
	}
}

// held tells whether the interval of an effect holds the truth.
func held(e compare.Effect, truth float64) answer {
	a := answer{e.Interval.Low <= truth && truth <= e.Interval.High, e.Interval.High - e.Interval.Low, e.P, e.HasP}
	if e.Null == 1 {
		a.width = math.Log(e.Interval.High / e.Interval.Low)
	}
	return a
}

func gained(e compare.Effect, err error) (answer, error) { return held(e, 0), err }

func ratio(f func(context.Context, *dispersion.Group, *dispersion.Group, compare.Options) (compare.Effect, error), o compare.Options) func(context.Context, pair) (answer, error) {
	return func(ctx context.Context, p pair) (answer, error) {
		e, err := f(ctx, p.before, p.after, o)
		return held(e, 1), err
	}
}

func bootstrapped(statistic func(before, after dispersion.Moments) (float64, error)) func(context.Context, pair) (answer, error) {
	return func(ctx context.Context, p pair) (answer, error) {
		b, err := compare.BootstrapMoments(ctx, p.before, p.after, statistic, fewResamples)
		return answer{holds: b.Interval.Low <= 0 && 0 <= b.Interval.High, width: b.Interval.High - b.Interval.Low}, err
	}
}
