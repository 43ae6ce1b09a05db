package flight

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// Carried are shots as they would have flown in other conditions.
type Carried struct {
	Shots    []Shot // with the carry, side, apex and descent they would have had
	From, To Conditions

	Change []float64 // of each carry, m
	SE     []float64 // of each change, from the standard errors of the fit

	// MeanChange is that of the mean carry. Its standard error is nearly as large
	// as that of one shot: a fit that is off is off for all of them.
	MeanChange, MeanSE float64
}

// InAir carries shots from the conditions they were fitted in to others: each
// measured value is moved by as much as the fitted flight moves,
//
//	carry + (carry of the model there - carry of the model here)
//
// so that what a shot had beyond its launch it keeps. Side, apex and descent move
// alike, where they were measured. The fit need not be made from these shots alone.
//
// It allows for the standard errors of the fit and not for the form of the
// coefficients, for errors of the weather or for a club and a body that are
// slower in the cold. A device that has corrected its carries to other air
// already must not be corrected again.
//
// Errors: *[dispersion.TooFewError] without shots; *[ShotError]; *[RangeError] for
// the conditions; [ErrMissing] for a fit that [FitCoefficients] did not make.
func InAir(shots []Shot, f Fitted, to Conditions) (Carried, error) {
	if err := checkShots(shots, 1, "carrying shots to other air"); err != nil {
		return Carried{}, err
	}
	if err := f.check(); err != nil {
		return Carried{}, err
	}
	to, err := to.resolved()
	if err != nil {
		return Carried{}, err
	}
	c := Carried{From: f.Conditions, To: to, Shots: append([]Shot{}, shots...)}
	p := len(f.Coefficients)
	mean := make([]float64, p) // slopes of the mean change
	for i, s := range shots {
		here, there, err := f.both(s, to, nil)
		if err != nil {
			return Carried{}, &ShotError{Index: i, Err: err}
		}
		change := there.Carry - here.Carry
		slopes := make([]float64, p)
		for k := range p {
			h, t, err := f.both(s, to, f.nudged(k))
			if err != nil {
				return Carried{}, &ShotError{Index: i, Err: err}
			}
			slopes[k] = (t.Carry - h.Carry - change) / coefficientNudge
			mean[k] += slopes[k] / float64(len(shots))
		}
		c.Change, c.SE = append(c.Change, change), append(c.SE, f.se(slopes))
		c.MeanChange += change / float64(len(shots))
		c.Shots[i] = moved(s, here, there)
	}
	c.MeanSE = f.se(mean)
	return c, nil
}

// moved adds to what was measured of a shot what the flight changes.
func moved(s Shot, here, there Flight) Shot {
	s.Carry += there.Carry - here.Carry
	s.Side += there.Side - here.Side
	if s.Apex != 0 {
		s.Apex += there.Apex - here.Apex
	}
	if s.Descent != 0 {
		s.Descent += there.Descent - here.Descent
	}
	return s
}

const coefficientNudge = 5e-3

// nudged returns the fitted coefficients with the k-th a little larger.
func (f Fitted) nudged(k int) []float64 {
	at := f.values()
	at[k] += coefficientNudge
	return at
}

func (f Fitted) values() []float64 {
	at := make([]float64, len(f.Coefficients))
	for k, c := range f.Coefficients {
		at[k] = c.Value
	}
	return at
}

// both flies a shot where it was hit and elsewhere, with other coefficients if
// there are any.
func (f Fitted) both(s Shot, to Conditions, at []float64) (here, there Flight, err error) {
	m := f.Model()
	if at != nil {
		m.Coefficients = formAt(at)
	}
	m.Precision = usualPrecision
	if here, err = m.Fly(s.Launch, f.Conditions); err == nil {
		there, err = m.Fly(s.Launch, to)
	}
	return here, there, err
}

// se returns the standard error of what has the given slopes in the coefficients.
func (f Fitted) se(slopes []float64) float64 {
	var v float64
	for i := range slopes {
		for j := range slopes {
			v += slopes[i] * slopes[j] * f.Covariance[i][j]
		}
	}
	return math.Sqrt(max(v, 0))
}

// check tells a fit from a value that only looks like one.
func (f Fitted) check() error {
	p := len(f.Coefficients)
	ok := p >= 2 && p <= 3 && len(f.Covariance) == p
	for _, row := range f.Covariance {
		ok = ok && len(row) == p
	}
	if !ok {
		return fmt.Errorf("flight: no fit: use what FitCoefficients has returned: %w", ErrMissing)
	}
	return nil
}

// NameCarryGainInAir is the effect that [GainInAir] returns.
const NameCarryGainInAir = "carry_gain_in_air"

// GainInAir returns the gain in mean carry, in metres, of shots after over shots
// before, all carried to the same conditions. To the interval of
// [compare.MeanGain] it adds what carrying them is unsure of:
//
//	half² = (half of the interval)² + t²·(SE before² + SE after²)
//
// The standard errors are taken for independent, as those of two fits are; shots
// carried with one and the same fit have less doubt than this says.
//
// Errors: *[ConditionsError] for shots carried to different conditions; those of
// [compare.MeanGain].
func GainInAir(ctx context.Context, before, after Carried, o compare.Options) (compare.Effect, error) {
	if before.To != after.To {
		return compare.Effect{}, fmt.Errorf("flight: %w", &ConditionsError{Before: before.To, After: after.To})
	}
	e, err := compare.MeanGain(ctx, NameCarryGainInAir, "m", carriesOf(before.Shots), carriesOf(after.Shots), o)
	if err != nil {
		return e, err
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: e.DF}.Quantile((1 + e.Interval.Level) / 2)
	half := math.Sqrt(math.Pow((e.Interval.High-e.Interval.Low)/2, 2) + t*t*(before.MeanSE*before.MeanSE+after.MeanSE*after.MeanSE))
	e.Interval = dispersion.Interval{Low: e.Estimate - half, High: e.Estimate + half, Level: e.Interval.Level}
	e.Method += ", carried to the same air, with what that is unsure of"
	e.P, e.PFloor, e.HasP = 0, 0, false // its null is about the shots as carried
	return e, nil
}

// A ConditionsError says that shots were carried to different conditions, so
// that they can't be compared. It is always returned as *ConditionsError, wrapped.
type ConditionsError struct{ Before, After Conditions }

func (e *ConditionsError) Error() string {
	return fmt.Sprintf("carried to different conditions, %+v before and %+v after: carry both to the same", e.Before, e.After)
}

func carriesOf(shots []Shot) []float64 {
	carries := make([]float64, len(shots))
	for i, s := range shots {
		carries[i] = s.Carry
	}
	return carries
}
