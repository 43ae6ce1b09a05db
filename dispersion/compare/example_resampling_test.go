package compare_test

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// The ratio of areas, resampled on the log scale and brought back at the ends.
func ExampleBootstrapMoments() {
	before, after := groups()
	b, err := compare.BootstrapMoments(context.Background(), before, after, compare.LogAreaRatio, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f, 95 %% from %.2f to %.2f, by %s\n",
		math.Exp(b.Estimate), math.Exp(b.Interval.Low), math.Exp(b.Interval.High), b.Method)
	// Output: 0.49, 95 % from 0.23 to 1.25, by bootstrap-t
}

// Any statistic will do: here how far the longest ball went.
func ExamplePermute() {
	before, after := groups()
	longest := func(points []dispersion.Point) (carry float64) {
		for _, p := range points {
			carry = max(carry, p.Y)
		}
		return carry
	}
	p, err := compare.Permute(context.Background(), before, after, func(b, a []dispersion.Point) (float64, error) {
		return longest(a) - longest(b), nil
	}, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%g yd longer at best; as much or more in %d of %d splits\n", p.Statistic, p.AtLeast, p.Splits)
	// Output: 13 yd longer at best; as much or more in 11 of 184756 splits
}

func ExampleBootstrap() {
	before, after := groups()
	nearest := func(points []dispersion.Point) float64 { // mean distance from the target line
		sum := 0.0
		for _, p := range points {
			sum += math.Abs(p.X)
		}
		return sum / float64(len(points))
	}
	b, err := compare.Bootstrap(context.Background(), before, after, func(b, a []dispersion.Point) (float64, error) {
		return math.Log(nearest(a) / nearest(b)), nil
	}, compare.Options{Resamples: 1999})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f times as far off line, 95 %% from %.2f to %.2f\n",
		math.Exp(b.Estimate), math.Exp(b.Interval.Low), math.Exp(b.Interval.High))
	// Output: 0.53 times as far off line, 95 % from 0.30 to 0.93
}

func ExampleCentreShift() {
	before, after := groups()
	s, err := compare.CentreShift(context.Background(), before, after, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f to the side, %.1f longer; no shift at all is in the region: %t\n", s.Shift.X, s.Shift.Y, s.Region.Contains(dispersion.Point{}))
	// Output: -0.2 to the side, 15.6 longer; no shift at all is in the region: false
}

func ExampleAnyDifference() {
	before, after := groups()
	d, err := compare.AnyDifference(context.Background(), before, after, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("p = %.5f, at the least %.5f\n", d.P, d.PFloor)
	// Output: p = 0.00002, at the least 0.00001
}

func ExampleSpreads() {
	before, after := groups()
	s, err := compare.Spreads(context.Background(), []*dispersion.Group{before, after}, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean distances %.1f and %.1f, p = %.3f\n", s.Distances[0], s.Distances[1], s.P)
	// Output: mean distances 8.5 and 5.3, p = 0.082
}

var oldCarries, freshCarries = carries(old), carries(fresh)

func carries(points []dispersion.Point) (values []float64) {
	for _, p := range points {
		values = append(values, p.Y)
	}
	return values
}

func ExampleHodgesLehmann() {
	e, err := compare.HodgesLehmann(context.Background(), "carry_shift", "yd", oldCarries, freshCarries, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f yd, from %.0f to %.0f in %.1f %% of lessons\n", e.Estimate, e.Interval.Low, e.Interval.High, 100*e.Interval.Level)
	// Output: 16.0 yd, from 11 to 21 in 95.7 % of lessons
}

func ExampleTrimmedGain() {
	e, err := compare.TrimmedGain(context.Background(), "carry_gain", "yd", oldCarries, freshCarries, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f yd, 95 %% from %.1f to %.1f\n", e.Estimate, e.Interval.Low, e.Interval.High)
	// Output: 15.5 yd, 95 % from 10.2 to 20.8
}

func ExampleEquivalent() {
	before, after := groups()
	shift, err := compare.SideShift(context.Background(), before, after, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := compare.Equivalent(shift, 8)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("less than 8 yd to either side: %t, p = %.3f\n", m.Holds, m.P)
	// Output: less than 8 yd to either side: true, p = 0.007
}

func ExampleNotWorse() {
	before, after := groups()
	spread, err := compare.SpreadRatio(context.Background(), before, after, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := compare.NotWorse(spread, 0.20)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("no more than 1.25 times as wide: %t\n", m.Holds)
	// Output: no more than 1.25 times as wide: true
}

func ExamplePosteriorOf() {
	before, after := groups()
	prior, err := compare.WeakPrior(7, 6)
	if err != nil {
		fmt.Println(err)
		return
	}
	b, err := compare.PosteriorOf(before, prior)
	if err != nil {
		fmt.Println(err)
		return
	}
	a, err := compare.PosteriorOf(after, prior)
	if err != nil {
		fmt.Println(err)
		return
	}
	tighter, err := compare.ProbabilityAreaBelow(b, a, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("a smaller pattern with probability %.2f\n", tighter)
	// Output: a smaller pattern with probability 0.91
}

func ExampleRobustSpreadRatio() {
	before, after := groups()
	spread, err := compare.RobustSpreadRatio(context.Background(), before, after, compare.Options{Resamples: 999})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("× %.2f, 95 %% from %.1f to %.1f\n", spread.Estimate, spread.Interval.Low, spread.Interval.High)
	// Output: × 0.70, 95 % from 0.3 to 1.6
}
