package flight

import (
	"context"
	"math/rand/v2"
	"testing"
)

// A maker makes shots from a known truth: launches about a mean, flown with known
// coefficients, measured by a device with known errors.
type maker struct {
	form   Form
	at     Conditions
	mean   Launch
	sd     Launch
	device struct{ speed, angle, spin, carry, apex, descent float64 }
}

// ironMaker makes the shots of a 7 iron, measured as well as radar does it.
func ironMaker() maker {
	m := maker{
		form: Form{Drag: .22, DragSpin: .18, DragReynolds: .06, Lift: .50, LiftPower: .4},
		mean: Launch{Speed: 38, Angle: 19 * Degree, Direction: 1 * Degree, Spin: 5500 * RPM, Tilt: 2 * Degree},
		sd:   Launch{Speed: 1.2, Angle: 1.2 * Degree, Direction: 2 * Degree, Spin: 400 * RPM, Tilt: 5 * Degree},
	}
	m.device.speed, m.device.angle, m.device.spin = .2, .2*Degree, 80*RPM
	m.device.carry, m.device.apex, m.device.descent = 1, .4, .6*Degree
	return m
}

func (m maker) shots(t testing.TB, rng *rand.Rand, n int) []Shot {
	t.Helper()
	model := Model{Coefficients: m.form}
	shots := make([]Shot, n)
	for i := range shots {
		g := rng.NormFloat64
		l := m.mean
		l.Speed += m.sd.Speed * g()
		l.Angle += m.sd.Angle * g()
		l.Direction += m.sd.Direction * g()
		l.Spin += m.sd.Spin * g()
		l.Tilt += m.sd.Tilt * g()
		f, err := model.Fly(l, m.at)
		if err != nil {
			t.Fatal(err)
		}
		l.Speed += m.device.speed * g()
		l.Angle += m.device.angle * g()
		l.Spin += m.device.spin * g()
		shots[i] = Shot{
			Launch: l, Carry: f.Carry + m.device.carry*g(), Side: f.Side + m.device.carry*g(),
			Apex: f.Apex + m.device.apex*g(), Descent: f.Descent + m.device.descent*g(), ClubSpeed: l.Speed / 1.3,
		}
	}
	return shots
}

var noContext context.Context
