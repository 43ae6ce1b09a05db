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
	Shots    []Shot     // with the carry, side, apex and descent they would have had
	From, To Conditions // what they were hit in, and what they are carried to

	Change []float64 // of each carry, m

	// MeanChange is that of the mean carry, and MeanSE what it is unsure of: the fit
	// and, far more, the form of the coefficients. It is about as large for a single
	// shot, since a fit that is off is off for all of them.
	MeanChange, MeanSE float64
	FitSE, FormSE      float64 // MeanSE² = FitSE² + FormSE²
}

// InAir carries shots from the conditions they were fitted in to others: each
// measured value is moved by as much as the fitted flight moves,
//
//	carry + (carry of the model there - carry of the model here)
//
// so that what a shot had beyond its launch it keeps. Side, apex and descent move
// alike, where they were measured. The fit need not be made from these shots alone.
//
// The doubt is that of the fit and that of the form: shots of one day can't tell
// how drag and lift change with the air, so the fit is made again with the
// numbers of the form that are kept lower and higher, see [FormDoubt]. It comes to
// about half of the change. Errors of the weather, and a club and
// a body that are slower in the cold, come on top. A device that has corrected its
// carries to other air already must not be corrected again.
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
	for i, s := range shots {
		here, there, err := both(s, f.Model(), f.Conditions, to)
		if err != nil {
			return Carried{}, &ShotError{Index: i, Err: err}
		}
		c.Change = append(c.Change, there.Carry-here.Carry)
		c.MeanChange += (there.Carry - here.Carry) / float64(len(shots))
		c.Shots[i] = moved(s, here, there)
	}
	doubts, err := f.doubts()
	if err != nil {
		return Carried{}, err
	}
	values := make([]float64, len(doubts.models))
	for i, m := range doubts.models {
		if values[i], err = meanChange(shots, m, f.Conditions, to); err != nil {
			return Carried{}, err
		}
	}
	c.FitSE, c.FormSE = doubts.se(doubts.slopes(values))
	c.MeanSE = math.Hypot(c.FitSE, c.FormSE)
	return c, nil
}

func meanChange(shots []Shot, m Model, from, to Conditions) (change float64, err error) {
	for i, s := range shots {
		here, there, err := both(s, m, from, to)
		if err != nil {
			return 0, &ShotError{Index: i, Err: err}
		}
		change += (there.Carry - here.Carry) / float64(len(shots))
	}
	return change, nil
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

// both flies a shot where it was hit and elsewhere.
func both(s Shot, m Model, from, to Conditions) (here, there Flight, err error) {
	m.Precision = usualPrecision
	if here, err = m.Fly(s.Launch, from); err == nil {
		there, err = m.Fly(s.Launch, to)
	}
	return here, there, err
}

// NameCarryGainInAir is the effect that [GainInAir] returns.
const NameCarryGainInAir = "carry_gain_in_air"

// GainInAir returns the gain in mean carry, in metres, of shots after over shots
// before, all carried to the same conditions. To the interval of
// [compare.MeanGain] it adds what carrying them is unsure of:
//
//	half² = (half of the interval)² + t²·(fit before² + fit after² + (form before + form after)²)
//
// The two fits err apart. The form is the same ball's on both days, so that its
// errors add up where one session is carried to thinner and the other to denser
// air; where both are carried the same way this is more doubt than there is. The
// less one of them has to be carried the better: carry the one to the other's air.
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
	form := before.FormSE + after.FormSE
	doubt := before.FitSE*before.FitSE + after.FitSE*after.FitSE + form*form
	half := math.Sqrt(math.Pow((e.Interval.High-e.Interval.Low)/2, 2) + t*t*doubt)
	e.Interval = dispersion.Interval{Low: e.Estimate - half, High: e.Estimate + half, Level: e.Interval.Level}
	e.Method += ", carried to the same air, with what that is unsure of"
	e.P, e.PFloor, e.HasP = 0, 0, false // its null is about the shots as carried
	return e, nil
}

// A ConditionsError says that shots were carried to different conditions, so
// that they can't be compared: those of the shots Before and After. It is always returned as *ConditionsError, wrapped.
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
