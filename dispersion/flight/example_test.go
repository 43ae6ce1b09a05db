package flight_test

import (
	"fmt"
	"log"

	"github.com/landfall-golf/landfall/dispersion/flight"
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
