package compare_test

import (
	"context"
	"fmt"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

func ExampleBookend() {
	before, after := groups()
	again, err := dispersion.NewGroup([]dispersion.Point{{X: 3, Y: 147}, {X: -2, Y: 143}, {X: 8, Y: 150}, {X: -5, Y: 141}, {X: 6, Y: 148}})
	if err != nil {
		fmt.Println(err)
		return
	}
	b, err := compare.Bookend(context.Background(), before, after, again, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	verdict, err := b.Judge(5)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("gain %.2f, drift %.2f\n%s\n", b.Gain.Estimate, b.Drift.Estimate, verdict.Sentence())
	// Output:
	// gain 15.35, drift 0.50
	// Worth having: these balls fit anything from 12 to 19 longer.
}

func ExamplePickInflation() {
	looks, err := compare.PickInflation(compare.Picking{Rule: compare.BestShots, Keep: 3, Of: 10})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("the best three of ten look %.3f standard deviations longer with nothing changed\n", looks)
	// Output: the best three of ten look 1.065 standard deviations longer with nothing changed
}

func ExamplePickedGain() {
	before := []float64{141, 148, 139, 152, 144, 137, 149, 142, 155, 146}
	shown := []float64{156, 153, 154} // the longest three of ten
	p, err := compare.PickedGain(context.Background(), "carry_gain", "yd", before, shown, compare.Picking{Rule: compare.BestShots, Keep: 3, Of: 10}, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("shown %.1f yd, left %.1f\n", p.Shown, p.Corrected.Estimate)
	// Output: shown 9.0 yd, left 2.6
}

func ExamplePairedGain() {
	old, fresh := []float64{146, 143, 149, 140, 145, 147}, []float64{151, 147, 152, 149, 148, 155}
	e, err := compare.PairedGain(context.Background(), "carry_gain", "yd", old, fresh, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f yd, p = %.4f\n", e.Estimate, e.P)
	// Output: 5.3 yd, p = 0.0312
}

func ExampleHolm() {
	adjusted, err := compare.Holm([]float64{.01, .04, .03, .005})
	fmt.Println(adjusted, err)
	// Output: [0.03 0.06 0.06 0.02] <nil>
}

func ExampleAnytimeGain() {
	old, fresh := []float64{141, 148, 139, 152, 144, 137, 149, 142}, []float64{158, 163, 155, 166, 159}
	e, err := compare.AnytimeGain(context.Background(), "carry_gain", "yd", old, fresh, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f yd, at any look from %.1f to %.1f\n", e.Estimate, e.Interval.Low, e.Interval.High)
	// Output: 16.2 yd, at any look from 4.6 to 27.8
}

func ExampleSmallestCarryShown() {
	gain, err := compare.SmallestCarryShown(6, 10, 0.80, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("ten balls a stage at 6 yd from ball to ball show %.0f yd\n", gain)
	// Output: ten balls a stage at 6 yd from ball to ball show 8 yd
}

func ExampleShownAreaRatio() {
	for _, sd := range []float64{8, 4, 3} {
		shown, err := compare.ShownAreaRatio(0.5, sd, 2)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.2f\n", shown)
	}
	// Output:
	// 0.53
	// 0.60
	// 0.65
}

func ExampleTrend() {
	trend, err := compare.Trend(context.Background(), "carry", [][]float64{
		{141, 148, 139, 152, 144}, {147, 143, 156, 150, 145}, {149, 158, 151, 146, 161},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(trend.Sentence())
	// Output: Of two balls from different stages the later one has more carry in 76 % of the pairs; by chance alone it would be half, and that far from half or further in 4.3 % of lessons.
}

func ExampleBenjaminiHochberg() {
	p, err := compare.BenjaminiHochberg([]float64{.01, .04, .03, .005})
	fmt.Printf("%.2f %v\n", p, err)
	// Output: [0.02 0.04 0.04 0.02] <nil>
}
