package flight

import (
	"fmt"
	"math"
)

// A Model is how a ball flies.
type Model struct {
	Ball         Ball         // the zero value is that of the rules
	Coefficients Coefficients // needed

	// SpinDecay is c in dω/dt = -c·ω·V/r. 0 means 2·10⁻⁵, at which an iron loses
	// 5 % of its spin in a second; a negative one means that spin lasts.
	//
	// Reference: Smits and Smith 1994, see [Illustrative] (from memory).
	SpinDecay float64

	// Precision is how far off the landing may be for want of small steps, in
	// metres, from 1e-11 to 1; 0 means 1e-3.
	Precision float64
}

const (
	usualSpinDecay = 2e-5
	usualPrecision = 1e-3
)

func (m Model) resolved() (Model, error) {
	if m.Coefficients == nil {
		return m, fmt.Errorf("flight: no coefficients of drag and lift: %w", ErrMissing)
	}
	var err error
	if m.Ball, err = m.Ball.resolved(); err != nil {
		return m, err
	}
	if m.SpinDecay == 0 {
		m.SpinDecay = usualSpinDecay
	}
	m.SpinDecay = max(m.SpinDecay, 0)
	if err := within("spin decay", m.SpinDecay, 0, 1e-2, "a radius"); err != nil {
		return m, err
	}
	if m.Precision == 0 {
		m.Precision = usualPrecision
	}
	return m, within("precision", m.Precision, 1e-11, 1, "m")
}

// A state is where a ball is and how it moves: side, along, up; the same of the
// velocity; the spin.
type state [7]float64

// A field is the forces on one ball in one flight.
type field struct {
	coefficients  Coefficients
	radius        float64
	push          float64 // ρA/2m, 1/m
	reynolds      float64 // at 1 m/s
	decay         float64
	axis          [3]float64
	across, along float64
	profile       func(z float64) float64
	bad           *CoefficientError // the first unusable answer
}

func newField(m Model, c Conditions, axis [3]float64) *field {
	r := m.Ball.Diameter / 2
	return &field{
		coefficients: m.Coefficients, radius: r,
		push:     c.Air.Density * m.Ball.area() / (2 * m.Ball.Mass),
		reynolds: c.Air.Density * m.Ball.Diameter / c.Air.Viscosity,
		decay:    m.SpinDecay / r, axis: axis,
		across: c.Wind.Across, along: c.Wind.Along, profile: c.Wind.profile(),
	}
}

// rate writes the derivative of s: gravity, drag against the motion through the
// air, lift square to it and to the axis of the spin, and the loss of spin.
func (f *field) rate(s, d *state) {
	share := 1.0
	if f.profile != nil {
		share = f.profile(s[2])
	}
	u, v, w := s[3]-share*f.across, s[4]-share*f.along, s[5]
	speed := math.Sqrt(u*u + v*v + w*w)
	d[0], d[1], d[2] = s[3], s[4], s[5]
	d[3], d[4], d[5], d[6] = 0, 0, -gravity, 0
	if speed == 0 {
		return
	}
	ratio, reynolds := f.radius*s[6]/speed, f.reynolds*speed
	drag, lift := f.coefficients.DragLift(ratio, reynolds)
	if !(drag >= 0 && drag <= 10 && lift >= -10 && lift <= 10) { // true for NaN
		if f.bad == nil {
			f.bad = &CoefficientError{ratio, reynolds, drag, lift}
		}
		return
	}
	drag *= f.push * speed
	lift *= f.push * speed
	a := &f.axis
	d[3] += lift*(a[1]*w-a[2]*v) - drag*u
	d[4] += lift*(a[2]*u-a[0]*w) - drag*v
	d[5] += lift*(a[0]*v-a[1]*u) - drag*w
	d[6] = -f.decay * s[6] * speed
}
