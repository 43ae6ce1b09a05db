package flight

import (
	"errors"
	"math"
	"testing"
)

// What can't be struck gets an error that says what it was.
func TestImpossibleLaunches(t *testing.T) {
	good := Launch{Speed: 60, Angle: .3, Spin: 300}
	with := func(change func(*Launch, *Conditions)) (Launch, Conditions) {
		l, c := good, Conditions{}
		change(&l, &c)
		return l, c
	}
	nan, inf := math.NaN(), math.Inf(1)
	for _, row := range []struct {
		of     string
		change func(*Launch, *Conditions)
	}{
		{"ball speed", func(l *Launch, _ *Conditions) { l.Speed = 0 }},
		{"ball speed", func(l *Launch, _ *Conditions) { l.Speed = -40 }},
		{"ball speed", func(l *Launch, _ *Conditions) { l.Speed = nan }},
		{"ball speed", func(l *Launch, _ *Conditions) { l.Speed = inf }},
		{"launch angle", func(l *Launch, _ *Conditions) { l.Angle = -90 * Degree }},
		{"launch angle", func(l *Launch, _ *Conditions) { l.Angle = 19 }},
		{"launch angle", func(l *Launch, _ *Conditions) { l.Angle = nan }},
		{"start line", func(l *Launch, _ *Conditions) { l.Direction = 3 }},
		{"start line", func(l *Launch, _ *Conditions) { l.Direction = nan }},
		{"spin", func(l *Launch, _ *Conditions) { l.Spin = 1e6 * RPM }},
		{"spin", func(l *Launch, _ *Conditions) { l.Spin = -1 }},
		{"spin", func(l *Launch, _ *Conditions) { l.Spin = nan }},
		{"tilt of the spin axis", func(l *Launch, _ *Conditions) { l.Tilt = nan }},
		{"wind along", func(_ *Launch, c *Conditions) { c.Wind.Along = 200 }},
		{"wind across", func(_ *Launch, c *Conditions) { c.Wind.Across = nan }},
		{"roughness", func(_ *Launch, c *Conditions) { c.Wind.Roughness = -1 }},
		{"density of the air", func(_ *Launch, c *Conditions) { c.Air = Air{Density: nan, Viscosity: 1.8e-5} }},
		{"viscosity of the air", func(_ *Launch, c *Conditions) { c.Air = Air{Density: 1.2} }},
		{"landing height", func(_ *Launch, c *Conditions) { c.Landing = nan }},
		{"landing height", func(_ *Launch, c *Conditions) { c.Landing = 1e4 }},
	} {
		l, c := with(row.change)
		var out *RangeError
		if _, err := (Model{Coefficients: Illustrative()}).Fly(l, c); !errors.As(err, &out) || out.Of != row.of {
			t.Errorf("%+v, %+v: %v, want a *RangeError of the %s", l, c, err, row.of)
		}
	}
	for _, m := range []Model{
		{Coefficients: Illustrative(), Precision: nan}, {Coefficients: Illustrative(), Precision: 2}, {Coefficients: Illustrative(), SpinDecay: nan},
		{Coefficients: Illustrative(), Ball: Ball{Mass: -1}}, {Coefficients: Illustrative(), Ball: Ball{Diameter: nan}},
	} {
		var out *RangeError
		if _, err := m.Fly(good, Conditions{}); !errors.As(err, &out) {
			t.Errorf("%+v: %v, want a *RangeError", m, err)
		}
	}
	if _, err := (Model{}).Fly(good, Conditions{}); !errors.Is(err, ErrMissing) {
		t.Errorf("without coefficients: %v", err)
	}
}

// Ground that a ball does not rise above, level ground for a launch that is not
// upward included.
func TestGroundTooHigh(t *testing.T) {
	for _, row := range []struct {
		angle, landing float64
	}{{.3, 200}, {.3, 35}, {0, 0}, {-.2, 0}, {-.2, 1}} {
		var out *HeightError
		if _, err := (Model{Coefficients: Illustrative()}).Fly(Launch{Speed: 50, Angle: row.angle, Spin: 100}, Conditions{Landing: row.landing}); !errors.As(err, &out) || out.Landing != row.landing {
			t.Errorf("launched at %g onto %g m: %v, want a *HeightError", row.angle, row.landing, err)
		}
	}
	m := Model{Coefficients: Illustrative()}
	l := Launch{Speed: 50, Angle: .3, Spin: 100}
	f, err := m.Fly(l, Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := m.Fly(l, Conditions{Landing: f.Apex - .01}); err != nil {
		t.Errorf("just below the apex: %v", err)
	}
	if _, err := m.Fly(l, Conditions{Landing: f.Apex + .01}); err == nil {
		t.Error("it lands above its apex")
	}
}

type coefficientFunc func(s, re float64) (float64, float64)

func (f coefficientFunc) DragLift(s, re float64) (float64, float64) { return f(s, re) }

// Coefficients of one's own that are no numbers, or so large that the ball loops
// or hovers, end in an error and in time.
func TestWildCoefficients(t *testing.T) {
	l := Launch{Speed: 60, Angle: .3, Spin: 300}
	for i, c := range []coefficientFunc{
		func(_, _ float64) (float64, float64) { return math.NaN(), .1 },
		func(_, _ float64) (float64, float64) { return .2, math.Inf(1) },
		func(_, _ float64) (float64, float64) { return -.1, .1 },
		func(_, re float64) (float64, float64) { return re / 1000, .1 },
	} {
		var bad *CoefficientError
		if _, err := (Model{Coefficients: c}).Fly(l, Conditions{}); !errors.As(err, &bad) {
			t.Errorf("coefficients %d: %v, want a *CoefficientError", i, err)
		}
	}
	for i, c := range []coefficientFunc{
		func(_, _ float64) (float64, float64) { return 0, 10 },
		func(_, _ float64) (float64, float64) { return 0, 2 },
		func(_, _ float64) (float64, float64) { return 10, 10 },
		func(s, re float64) (float64, float64) { return .2, 10 * math.Sin(re*s) },
		func(_, re float64) (float64, float64) { return math.Mod(re, 7), math.Mod(re, 5) }, // jumps at every look
	} {
		f, err := Model{Coefficients: c}.Fly(l, Conditions{})
		if err == nil && !(f.Time < longestFlight && math.Abs(f.Carry) < 1e4) || err != nil && !errors.Is(err, ErrNoLanding) {
			t.Errorf("coefficients %d: %+v, %v", i, f, err)
		}
	}
}

// Whatever is thrown at it comes down, with finite numbers, or gives an error.
func FuzzFly(f *testing.F) {
	f.Add(70., .2, .0, 270., .1, .0, .0, .0, .0, .24, .54)
	f.Add(1., 1.55, 1.5, 2094., 3.1, 60., -60., 2., -500., 10., 10.)
	f.Add(150., -1.5, -1.5, 0., -3.1, -60., 60., 1e-300, -500., 0., -10.)
	f.Add(1e200, 1e-200, 1e200, 1e6, 1e200, 200., 1e-200, 1e200, 1e200, 1e200, 1e-200)
	f.Add(1., 1e-300, 0., 0., 0., 0., 0., 0., 0., 0., 0.)
	f.Add(1., 1e-300, 0., 1e-300, 1e-300, 1e-300, 0., 0., -1e-300, 1e-300, 1e-300)
	f.Fuzz(func(t *testing.T, speed, angle, direction, spin, tilt, along, across, roughness, landing, drag, lift float64) {
		m := Model{Coefficients: Constant{drag, lift}, Precision: .01}
		got, err := m.Fly(Launch{speed, angle, direction, spin, tilt}, Conditions{Wind: Wind{along, across, roughness}, Landing: landing})
		if err != nil {
			if got != (Flight{}) {
				t.Errorf("%+v beside %v", got, err)
			}
			return
		}
		for _, v := range []float64{got.Carry, got.Side, got.Time, got.Speed, got.Descent, got.Spin, got.Apex, got.ApexCarry} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%+v", got)
			}
		}
		if got.Time <= 0 || got.Time > longestFlight+longestStep || got.Apex < 0 || got.Apex < landing-1e-6 {
			t.Errorf("%+v", got)
		}
	})
}
