package flight_test

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/flight"
)

// Without air a ball of 30 m/s at 45° flies v²/g = 91.77 m and is highest, at a
// quarter of that, half way.
func ExampleModel_Path() {
	m := flight.Model{Coefficients: flight.Constant{}}
	f, path, err := m.Path(flight.Launch{Speed: 30, Angle: 45 * flight.Degree}, flight.Conditions{}, 3)
	check(err)
	fmt.Printf("carry %.2f m\n", f.Carry)
	for _, s := range path {
		fmt.Printf("after %.2f s: %.2f m on, %.2f m up\n", s.Time, s.Carry, math.Abs(s.Height))
	}
	// Output:
	// carry 91.77 m
	// after 0.00 s: 0.00 m on, 0.00 m up
	// after 2.16 s: 45.89 m on, 22.94 m up
	// after 4.33 s: 91.77 m on, 0.00 m up
}

// The mean of the flights of two launches that start 2 degrees left and right.
func ExampleMeanFlightOf() {
	shots := []flight.Shot{
		{Launch: flight.Launch{Speed: 38, Angle: 19 * flight.Degree, Direction: -2 * flight.Degree, Spin: 5500 * flight.RPM}, Carry: 108},
		{Launch: flight.Launch{Speed: 38, Angle: 19 * flight.Degree, Direction: 2 * flight.Degree, Spin: 5500 * flight.RPM}, Carry: 108},
	}
	mean, err := flight.MeanFlightOf(shots, flight.Model{Coefficients: flight.Illustrative()}, flight.Conditions{})
	check(err)
	end := len(mean.Spots) - 1
	fmt.Printf("lands %.0f m on and %.0f m to the side, with a standard deviation to the side of %.1f m = √2·%.0f·tan 2°\n",
		mean.Spots[end].Carry, math.Abs(mean.Spots[end].Side), mean.SideSD[end], mean.Spots[end].Carry)
	// Output: lands 108 m on and 0 m to the side, with a standard deviation to the side of 5.4 m = √2·108·tan 2°
}

// A shot of 100 m that started 2 degrees left and landed 4 m right of the target
// line: it curved by 7.5 m.
func ExampleShapeOf() {
	s := flight.Shot{Launch: flight.Launch{Speed: 38, Angle: 19 * flight.Degree, Direction: -2 * flight.Degree, Spin: 5500 * flight.RPM}, Carry: 100, Side: 4}
	shape, err := flight.ShapeOf(s, flight.RightHanded, 0)
	check(err)
	fmt.Printf("a %s: start %.1f m, curve %+.1f m\n", shape.Word, shape.StartSide, shape.CurveSide)
	// Output: a fade: start -3.5 m, curve +7.5 m
}

// What of the demo lesson a flight can be reckoned for.
func ExampleShotsOf() {
	l, err := datasets.DemoLesson()
	check(err)
	m, err := flight.ShotsOf(l, l.Shots)
	check(err)
	fmt.Printf("%d of %d shots\n", len(m.Shots), len(l.Shots))
	// Output: 47 of 47 shots
}

// More ball speed: swung faster, or hit better? From 80 to 84 mph of club speed,
// and from 1.30 to 1.35 of it taken on.
func ExampleSplitStrike() {
	var before, after []flight.Shot
	for i := range 6 {
		off := float64(i%3-1) * flight.MPH
		launch := flight.Launch{Angle: 19 * flight.Degree, Spin: 5500 * flight.RPM}
		launch.Speed = 1.30 * (80*flight.MPH + off)
		before = append(before, flight.Shot{Launch: launch, Carry: 108, ClubSpeed: 80*flight.MPH + off})
		launch.Speed = 1.35 * (84*flight.MPH + off)
		after = append(after, flight.Shot{Launch: launch, Carry: 120, ClubSpeed: 84*flight.MPH + off})
	}
	s, err := flight.SplitStrike(context.Background(), before, after, compare.Options{})
	check(err)
	fmt.Printf("swung faster %.1f mph = 4·1.325, hit better %.1f = 0.05·82\n", s.Swing.Estimate/flight.MPH, s.Strike.Estimate/flight.MPH)
	// Output: swung faster 5.3 mph = 4·1.325, hit better 4.1 = 0.05·82
}

// Two lessons of the same balls, one in the cold and one in the heat: in one air
// nothing was gained, and carrying the balls there has its own doubt.
func ExampleGainInAir() {
	l, err := datasets.DemoLesson()
	check(err)
	m, err := flight.ShotsOf(l, clean(l.Pairs()[0].Before))
	check(err)
	cold, hot := flight.Conditions{Air: must(flight.MoistAir(5, 101000, .8)).Air()}, flight.Conditions{Air: must(flight.MoistAir(30, 101000, .5)).Air()}
	there := must(flight.InAir(m.Shots, must(flight.FitCoefficients(m.Shots, cold, flight.DragAndLift)), hot))
	shots := there.Shots // what they would have been in the heat
	here := must(flight.InAir(shots, must(flight.FitCoefficients(shots, hot, flight.DragAndLift)), hot))
	gain, err := flight.GainInAir(context.Background(), there, here, compare.Options{})
	check(err)
	fmt.Printf("%.1f yd, give or take %.0f\n", math.Abs(gain.Effect.Estimate)/flight.Yard, (gain.Effect.Interval.High-gain.Effect.Interval.Low)/2/flight.Yard)
	// Output: 0.0 yd, give or take 8
}

// At the height of a course it is the height above the sea, to a metre.
func ExampleGeopotential() {
	h, err := flight.Geopotential(1500)
	check(err)
	fmt.Printf("%.1f m\n", h)
	// Output: 1499.6 m
}
