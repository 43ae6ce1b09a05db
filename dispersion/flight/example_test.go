package flight_test

import (
	"context"
	"fmt"
	"log"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/flight"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}

// A 7 iron of a slower player, in standard air, with illustrative coefficients.
func ExampleModel_Fly() {
	m := flight.Model{Coefficients: flight.Illustrative()}
	f, err := m.Fly(flight.Launch{
		Speed: 85 * flight.MPH, Angle: 19 * flight.Degree,
		Spin: 5500 * flight.RPM, Tilt: 5 * flight.Degree,
	}, flight.Conditions{})
	check(err)
	fmt.Printf("carry %.0f yd, %.1f yd right, %.0f ft high\n", f.Carry/flight.Yard, f.Side/flight.Yard, f.Apex/flight.Foot)
	// Output: carry 118 yd, 4.3 yd right, 50 ft high
}

// The air of a cold morning and of a hot noon.
func ExampleMoistAir() {
	for _, celsius := range []float64{5, 30} {
		a, err := flight.MoistAir(celsius, 100000, .6)
		check(err)
		fmt.Printf("%g °C: %.3f kg/m³\n", celsius, a.Density)
	}
	// Output:
	// 5 °C: 1.251 kg/m³
	// 30 °C: 1.138 kg/m³
}

func ExampleStandardAtmosphere() {
	a, err := flight.StandardAtmosphere(1500)
	check(err)
	fmt.Printf("%.1f °C, %.3f kg/m³\n", a.Temperature-273.15, a.Density)
	// Output: 5.2 °C, 1.058 kg/m³
}

// What the device measured says how this ball flies.
func ExampleFitCoefficients() {
	truth := flight.Model{Coefficients: flight.Form{Drag: .22, DragSpin: .18, DragReynolds: .06, Lift: .5, LiftPower: .4}}
	var shots []flight.Shot
	for i := range 8 {
		l := flight.Launch{
			Speed: (82 + float64(i)) * flight.MPH, Angle: (17 + float64(i*5%8)/2) * flight.Degree,
			Spin: (5000 + 150*float64(i*3%8)) * flight.RPM,
		}
		f, err := truth.Fly(l, flight.Conditions{})
		check(err)
		shots = append(shots, flight.Shot{Launch: l, Carry: f.Carry, Apex: f.Apex, Descent: f.Descent})
	}
	fit, err := flight.FitCoefficients(shots, flight.Conditions{}, flight.DragAndLift)
	check(err)
	for _, c := range fit.Coefficients {
		fmt.Printf("%s %.2f\n", c.Name, c.Value)
	}
	// Output:
	// drag 0.22
	// lift 0.50
}

// The gain of the demo lesson taken apart, and whether she swung faster or hit it
// better.
func ExampleSplitGain() {
	l, err := datasets.DemoLesson()
	check(err)
	all, err := flight.ShotsOf(l, l.Shots)
	check(err)
	fit, err := flight.FitCoefficients(all.Shots, flight.Conditions{}, flight.DragAndLift)
	check(err)
	p := l.Pairs()[0] // the last like stage against the first
	before, err := flight.ShotsOf(l, clean(p.Before))
	check(err)
	after, err := flight.ShotsOf(l, clean(p.After))
	check(err)
	ctx := context.Background()
	split, err := flight.SplitGain(ctx, before.Shots, after.Shots, fit, compare.Options{})
	check(err)
	fmt.Printf("%.1f yd further; what moved along\n", split.Carry.Gain/flight.Yard)
	for _, p := range split.Carry.Parts {
		fmt.Printf("%+.1f yd: %s\n", p.Flight.Estimate/flight.Yard, p.Name)
	}
	strike, err := flight.SplitStrike(ctx, before.Shots, after.Shots, compare.Options{})
	check(err)
	fmt.Printf("ball speed: swung faster %+.1f mph, hit better %+.1f mph\n", strike.Swing.Estimate/flight.MPH, strike.Strike.Estimate/flight.MPH)
	// Output:
	// 14.5 yd further; what moved along
	// +14.5 yd: ball speed
	// -0.8 yd: launch angle
	// +0.1 yd: spin
	// +0.3 yd: direction and axis
	// +0.5 yd: rest
	// ball speed: swung faster +0.5 mph, hit better +6.3 mph
}

func ExampleSensitivities() {
	l, err := datasets.DemoLesson()
	check(err)
	all, err := flight.ShotsOf(l, l.Shots)
	check(err)
	fit, err := flight.FitCoefficients(all.Shots, flight.Conditions{}, flight.DragAndLift)
	check(err)
	now, err := flight.ShotsOf(l, clean(l.Pairs()[0].After))
	check(err)
	for _, s := range must(flight.Sensitivities(context.Background(), now.Shots, fit, compare.Options{})) {
		i := s.Carry.Interval
		fmt.Printf("a little more %s: %+.2f yd, %.2f to %.2f\n", s.Of, s.Carry.Estimate/flight.Yard, i.Low/flight.Yard, i.High/flight.Yard)
	}
	// Output:
	// a little more ball speed: +2.06 yd, 1.52 to 2.65
	// a little more launch angle: +0.67 yd, 0.47 to 0.87
	// a little more spin: -0.02 yd, -0.81 to 0.79
}

func ExampleShapesOf() {
	l, err := datasets.DemoLesson()
	check(err)
	first, err := flight.ShotsOf(l, clean(l.Pairs()[0].Before))
	check(err)
	shapes, err := flight.ShapesOf(context.Background(), first.Shots, flight.RightHanded, 0, compare.Options{})
	check(err)
	fmt.Printf("%d straight, %d fades, %d draws\n", shapes.Words[flight.Straight], shapes.Words[flight.Fade], shapes.Words[flight.Draw])
	fmt.Printf("of the side, %.0f %% is start line and %.0f %% curve\n", 100*shapes.FromStart.Estimate, 100*shapes.FromCurve.Estimate)
	// Output:
	// 7 straight, 2 fades, 0 draws
	// of the side, 58 % is start line and 42 % curve
}

// A session of a cold day, as it would have been on a hot one.
func ExampleInAir() {
	l, err := datasets.DemoLesson()
	check(err)
	m, err := flight.ShotsOf(l, clean(l.Pairs()[0].Before))
	check(err)
	cold, err := flight.MoistAir(5, 101000, .8)
	check(err)
	hot, err := flight.MoistAir(30, 101000, .5)
	check(err)
	fit, err := flight.FitCoefficients(m.Shots, flight.Conditions{Air: cold.Air()}, flight.DragAndLift)
	check(err)
	c, err := flight.InAir(m.Shots, fit, flight.Conditions{Air: hot.Air()})
	check(err)
	fmt.Printf("%+.1f yd, give or take %.1f\n", c.MeanChange/flight.Yard, 2*c.MeanSE/flight.Yard)
	// Output:
	// +3.6 yd, give or take 4.3
}

// clean returns the shots of a group without the mishits.
func clean(g lesson.Group) (shots []lesson.Shot) {
	for i, s := range g.Shots {
		if !g.Mishit[i] {
			shots = append(shots, s)
		}
	}
	return shots
}

func must[T any](v T, err error) T {
	check(err)
	return v
}
