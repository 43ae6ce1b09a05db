package flight

import "math"

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
// the conditions; [ErrMissing] for a fit that [FitCoefficients] did not make;
// *[UndeterminedError] where with a ball of another form nothing fits its shots.
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
