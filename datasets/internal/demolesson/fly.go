package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/landfall-golf/landfall/dispersion/flight"
)

// A measured is what the device says of a flight, in the units of the columns;
// the speed is the true one.
type measured struct{ speed, spin, tilt, apex, descent float64 }

// flown finds the ball speed and the tilt with which a ball launched so lands
// where the device says, but for its errors, and measures the flight.
func flown(air *rand.Rand, l flight.Launch, spin, carry, side float64) (measured, error) {
	m := flight.Model{Coefficients: flight.Form{
		Drag: nila.Drag, DragSpin: nila.DragSpin, DragReynolds: nila.DragReynolds, Lift: nila.Lift, LiftPower: nila.LiftPower,
	}, Precision: 1e-6}
	l.Spin = (spin + nila.SpinSD*air.NormFloat64()) * flight.RPM
	carry += nila.CarryError * air.NormFloat64()
	side += nila.SideError * air.NormFloat64()
	l, f, err := aimed(m, l, carry*flight.Yard, side*flight.Yard)
	if err != nil {
		return measured{}, err
	}
	return measured{
		speed:   l.Speed / flight.MPH,
		spin:    l.Spin/flight.RPM + nila.SpinError*air.NormFloat64(),
		tilt:    l.Tilt/flight.Degree + nila.TiltError*air.NormFloat64(),
		apex:    f.Apex/flight.Foot + nila.ApexError*air.NormFloat64(),
		descent: f.Descent/flight.Degree + nila.DescentError*air.NormFloat64(),
	}, nil
}

// aimed returns the launch that lands at the carry and side, by Newton's method
// in ball speed and tilt.
func aimed(m flight.Model, l flight.Launch, carry, side float64) (flight.Launch, flight.Flight, error) {
	const nudge = 1e-3
	l.Speed = 38
	for range 30 {
		f, err := m.Fly(l, flight.Conditions{})
		if err != nil {
			return l, f, err
		}
		long, right := carry-f.Carry, side-f.Side
		if math.Hypot(long, right) < 1e-4 {
			return l, f, nil
		}
		faster, leaning := l, l
		faster.Speed += nudge
		leaning.Tilt += nudge
		a, err := m.Fly(faster, flight.Conditions{})
		if err != nil {
			return l, f, err
		}
		b, err := m.Fly(leaning, flight.Conditions{})
		if err != nil {
			return l, f, err
		}
		a.Carry, a.Side, b.Carry, b.Side = (a.Carry-f.Carry)/nudge, (a.Side-f.Side)/nudge, (b.Carry-f.Carry)/nudge, (b.Side-f.Side)/nudge
		det := a.Carry*b.Side - b.Carry*a.Side
		l.Speed += min(max((long*b.Side-right*b.Carry)/det, -5), 5)
		l.Tilt += min(max((right*a.Carry-long*a.Side)/det, -.3), .3)
	}
	return l, flight.Flight{}, fmt.Errorf("no ball launched at %.1f degrees lands at %.1f m, %.1f m aside", l.Angle/flight.Degree, carry, side)
}
