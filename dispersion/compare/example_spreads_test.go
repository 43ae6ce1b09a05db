package compare_test

import (
	"context"
	"fmt"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// The answer that holds for wild balls too, and the one that is exact for normal
// shots, as radii.
func ExampleSpreadRatio() {
	before, after := groups()
	spread, err := compare.SpreadRatio(context.Background(), before, after, compare.Options{})
	check(err)
	fmt.Println(spread.Sentence())
	// Output: These balls fit anything from 16 % wider to 56 % tighter.
}

func ExampleAreaRatio() {
	before, after := groups()
	area, err := compare.AreaRatio(context.Background(), before, after, compare.Options{})
	check(err)
	fmt.Println(area.Sentence())
	// Output: These balls fit anything from 16 % wider to 58 % tighter.
}

// Behind a device that is off by 3 yd either way the same balls have tightened more.
func ExampleAreaBehindError() {
	before, after := groups()
	shown, err := compare.AreaRatio(context.Background(), before, after, compare.Options{})
	check(err)
	behind, err := compare.AreaBehindError(context.Background(), before, after, 3, 3, compare.Options{})
	check(err)
	fmt.Printf("area shown × %.2f, behind the device × %.2f\n", shown.Estimate, behind.Estimate)
	// Output: area shown × 0.49, behind the device × 0.38
}

// A device may read 2 yd longer for the new swing than for the old one: no number
// of balls averages that out.
func ExampleGainBehindError() {
	before, after := groups()
	gain, err := compare.CarryGain(context.Background(), before, after, compare.Options{})
	check(err)
	behind, err := compare.GainBehindError(gain, compare.DeviceError{Shift: 2})
	check(err)
	fmt.Printf("%.1f to %.1f, behind the device %.1f to %.1f\n", gain.Interval.Low, gain.Interval.High, behind.Interval.Low, behind.Interval.High)
	// Output: 10.9 to 20.3, behind the device 8.9 to 22.3
}

// Is the longer swing wilder?
func ExampleSpeedAgainstAccuracy() {
	before, after := groups()
	c, err := compare.SpeedAgainstAccuracy(context.Background(), []*dispersion.Group{before, after}, compare.Options{})
	check(err)
	fmt.Println(c.Sentence())
	// Output: Whether the longer shots are wilder or truer these balls can't tell: they support neither belief.
}

// How probable is it that the radius is below 0.8 times the old one, its area
// below 0.64?
func ExampleProbabilityAreaBelow() {
	before, after := groups()
	prior, err := compare.WeakPrior(6, 8)
	check(err)
	was, err := compare.PosteriorOf(before, prior)
	check(err)
	is, err := compare.PosteriorOf(after, prior)
	check(err)
	p, err := compare.ProbabilityAreaBelow(was, is, 0.64)
	check(err)
	fmt.Printf("%.0f %%\n", 100*p)
	// Output: 59 %
}

// With the prior that says nothing it is the interval of AreaRatio.
func ExamplePosteriorAreaRatio() {
	before, after := groups()
	was, err := compare.PosteriorOf(before, compare.Jeffreys())
	check(err)
	is, err := compare.PosteriorOf(after, compare.Jeffreys())
	check(err)
	ratio, err := compare.PosteriorAreaRatio(was, is, 0.95)
	check(err)
	area, err := compare.AreaRatio(context.Background(), before, after, compare.Options{})
	check(err)
	fmt.Printf("%.2f to %.2f and %.2f to %.2f\n", ratio.Interval.Low, ratio.Interval.High, area.Interval.Low, area.Interval.High)
	// Output: 0.18 to 1.35 and 0.18 to 1.35
}
