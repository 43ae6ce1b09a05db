package compare

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// A DeviceError says how far off a device is in one column, in its unit. What
// the maker states is mostly Random. An error common to all shots needs no
// number: it cancels from every gain and every spread.
type DeviceError struct {
	Random float64 // standard deviation of the error of a single shot
	Shift  float64 // how far the errors may differ, on average, between before and after
}

func (d DeviceError) check() error {
	for _, v := range []float64{d.Random, d.Shift} {
		if !(v >= 0) || v > dispersion.MaxCoordinate {
			return fmt.Errorf("compare: a device error of %g: %w", v, ErrDeviceError)
		}
	}
	return nil
}

// GainBehindError returns the gain as it stands with a device of that error. The
// random part is already in the spread of the shots, and so in the interval. The
// shift is not, and no number of balls averages it out: both ends move by it, and
// [Judge] holds the gain that is left behind it against the smallest worth having.
//
// A column that the device calculates from others, as carry often is in a bay,
// inherits their errors and those of the model: give it a Shift where club, ball
// or surface changed in between.
//
// Errors: [ErrDeviceError]; [ErrEffect] for an unsound effect or a ratio.
func GainBehindError(e Effect, d DeviceError) (Effect, error) {
	if err := d.check(); err != nil {
		return Effect{}, err
	}
	if !e.sound() || e.ratio() {
		return Effect{}, fmt.Errorf("compare: %q: %w", e.Name, ErrEffect)
	}
	e.Interval.Low -= d.Shift
	e.Interval.High += d.Shift
	e.Shift += d.Shift
	if d.Shift > 0 {
		e.HasP, e.P, e.PFloor = false, 0, 0
		e.Method += fmt.Sprintf("; widened by a device shift of %g", d.Shift)
	}
	return e.checked()
}

// AreaBehindError returns the area ratio of the patterns behind the device, with
// independent errors of side and carry of the given standard deviations. A random
// error adds to both spreads, so it hides a tightening: the same is taken off
// both covariances S,
//
//	estimate, low, high × √(|S₂-E|/|S₂|) / √(|S₁-E|/|S₁|),  E = diag(side², carry²)
//
// E is taken as known: the answer is for reading beside [AreaRatio], at several
// errors, and there is no p.
//
// Errors: those of [AreaRatio]; [ErrDeviceError]; [ErrHidden] where a pattern is
// no larger than the error.
func AreaBehindError(ctx context.Context, before, after *dispersion.Group, side, carry float64, o Options) (Effect, error) {
	if err := (DeviceError{Random: side, Shift: carry}).check(); err != nil {
		return Effect{}, err
	}
	e, err := AreaRatio(ctx, before, after, o)
	if err != nil {
		return Effect{}, err
	}
	left1, err := shareBehind(before, side, carry)
	if err != nil {
		return Effect{}, err
	}
	left2, err := shareBehind(after, side, carry)
	if err != nil {
		return Effect{}, err
	}
	times := left2 / left1
	e.Before, e.After = e.Before*left1, e.After*left2
	e.Estimate *= times
	e.Interval.Low, e.Interval.High = e.Interval.Low*times, e.Interval.High*times
	e.HasP, e.P, e.PFloor = false, 0, 0
	e.Method += fmt.Sprintf("; a device error of %g in side and %g in carry taken off both", side, carry)
	return e.checked()
}

// shareBehind returns the share of the area that is left behind the error.
func shareBehind(g *dispersion.Group, side, carry float64) (float64, error) {
	c, err := g.Cov()
	if err != nil {
		return 0, err
	}
	behind := dispersion.Cov{XX: c.XX - side*side, XY: c.XY, YY: c.YY - carry*carry}
	share := behind.XX / c.XX * (behind.YY / c.YY)
	cross := c.XY / math.Sqrt(c.XX) / math.Sqrt(c.YY)
	if !(behind.XX > 0 && behind.YY > 0 && share > cross*cross) {
		return 0, fmt.Errorf("compare: %w", ErrHidden)
	}
	return math.Sqrt((share - cross*cross) / (1 - cross*cross)), nil
}

// ShownAreaRatio returns the area ratio that a device shows on average when the
// true one is as given, sd is the true standard deviation of carry and side
// before and both columns have the random error:
//
//	shown = (ratio·sd² + error²) / (sd² + error²)
//
// With an error of 2 yd a halved area shows as 0.53, 0.60, 0.65 where sd is 8, 4,
// 3 yd.
//
// Errors: [ErrDeviceError]; [ErrPlan] for a ratio or sd not above 0.
func ShownAreaRatio(ratio, sd, random float64) (float64, error) {
	if err := (DeviceError{Random: random}).check(); err != nil {
		return 0, err
	}
	if !(ratio > 0 && sd > 0) || math.IsInf(ratio, 1) || math.IsInf(sd, 1) {
		return 0, fmt.Errorf("compare: an area ratio of %g at a standard deviation of %g: %w", ratio, sd, ErrPlan)
	}
	// By the larger of the two, so that no quotient overflows.
	if random > sd {
		q := sd / random
		return (ratio*q*q + 1) / (q*q + 1), nil
	}
	q := random / sd
	return (ratio + q*q) / (1 + q*q), nil
}
