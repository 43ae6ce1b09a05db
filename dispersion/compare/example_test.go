package compare_test

import (
	"context"
	"fmt"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// Ten balls with the old swing and ten with the new one: side and carry in yards.
var (
	old = []dispersion.Point{
		{X: -6, Y: 141}, {X: 9, Y: 148}, {X: 2, Y: 139}, {X: -11, Y: 152}, {X: 4, Y: 144},
		{X: 13, Y: 137}, {X: -3, Y: 149}, {X: 7, Y: 142}, {X: -8, Y: 155}, {X: 1, Y: 146},
	}
	fresh = []dispersion.Point{
		{X: 3, Y: 158}, {X: -4, Y: 163}, {X: 6, Y: 155}, {X: 0, Y: 166}, {X: -2, Y: 159},
		{X: 5, Y: 161}, {X: -7, Y: 157}, {X: 2, Y: 168}, {X: -1, Y: 160}, {X: 4, Y: 162},
	}
)

func groups() (before, after *dispersion.Group) {
	before, err := dispersion.NewGroup(old)
	if err != nil {
		panic(err)
	}
	after, err = dispersion.NewGroup(fresh)
	if err != nil {
		panic(err)
	}
	return before, after
}

func ExampleCarryGain() {
	before, after := groups()
	gain, err := compare.CarryGain(context.Background(), before, after, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f, 95 %% from %.1f to %.1f\n", gain.Estimate, gain.Interval.Low, gain.Interval.High)
	// Output: 15.6, 95 % from 10.9 to 20.3
}

func ExampleSideShift() {
	before, after := groups()
	shift, err := compare.SideShift(context.Background(), before, after, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f, 95 %% from %.1f to %.1f\n", shift.Estimate, shift.Interval.Low, shift.Interval.High)
	// Output: -0.2, 95 % from -6.2 to 5.8
}

func ExampleJudge() {
	before, after := groups()
	gain, err := compare.CarryGain(context.Background(), before, after, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	gain.Unit = "yd"
	smallest, err := compare.SmallestCarry(before.Mean().Y, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	verdict, err := compare.Judge(gain, smallest)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(verdict.Sentence())
	fmt.Println(verdict.WithoutBookend().Kind)
	// Output:
	// Worth having: these balls fit anything from 11 to 20 yd longer.
	// probably
}

func ExampleJudgeSpread() {
	before, after := groups()
	spread, err := compare.SpreadRatio(context.Background(), before, after, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	area, err := compare.AreaRatio(context.Background(), before, after, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	verdict, err := compare.JudgeSpread(spread, area, compare.SmallestSpread)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(verdict.Sentence())
	// Output: Can't tell: these balls fit anything from 16 % wider to 58 % tighter; 75 more of each would settle it.
}

func ExampleAngleSpreadRatio() {
	before, after := groups()
	ratio, err := compare.AngleSpreadRatio(context.Background(), before, after, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f times as wide, 95 %% from %.2f to %.2f\n", ratio.Estimate, ratio.Interval.Low, ratio.Interval.High)
	// Output: 0.50 times as wide, 95 % from 0.27 to 0.94
}

func ExampleMishitRateChange() {
	change, err := compare.MishitRateChange(4, 12, 1, 12, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f, 95 %% from %.2f to %.2f\n", change.Estimate, change.Interval.Low, change.Interval.High)
	// Output: -0.25, 95 % from -0.53 to 0.08
}

func ExampleWilsonInterval() {
	rate, err := compare.WilsonInterval(0, 10, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("no mishit in ten balls fits any rate up to %.0f %%\n", 100*rate.High)
	// Output: no mishit in ten balls fits any rate up to 28 %
}

func ExampleMeanGain() {
	before := []float64{101.2, 103.5, 99.8, 102.2, 100.9}
	after := []float64{104.1, 106.0, 103.2, 105.5, 104.4}
	gain, err := compare.MeanGain(context.Background(), "ball_speed", "mph", before, after, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f mph, p = %.4f by %d splits\n", gain.Estimate, gain.P, gain.Resamples)
	// Output: 3.12 mph, p = 0.0159 by 252 splits
}

func ExampleBallsForCarry() {
	for _, sd := range []float64{4, 6, 8, 10} {
		balls, err := compare.BallsForCarry(sd, 5, 0.80, 0.95)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(balls)
	}
	// Output:
	// 12
	// 24
	// 42
	// 64
}

func ExampleBallsForArea() {
	balls, err := compare.BallsForArea(0.55, 0.80, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(balls, "balls a stage to see 45 % less area")
	// Output: 47 balls a stage to see 45 % less area
}
