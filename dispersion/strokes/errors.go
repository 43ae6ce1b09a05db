package strokes

import (
	"errors"
	"fmt"
)

var (
	// ErrLie is returned for what is no lie.
	ErrLie = errors.New("not a lie: use tee, fairway, rough, sand, recovery or green")

	// ErrNoStandardError is returned by a baseline that states no uncertainty.
	ErrNoStandardError = errors.New("this baseline states no standard error")

	// ErrMissing is returned for a nil context, a nil baseline or no data.
	ErrMissing = errors.New("a needed input is missing")

	// ErrPutts is returned for counts of putts that can't be.
	ErrPutts = errors.New("these putts can't be counted")

	// ErrShot is returned for a shot or a value of one that can't be.
	ErrShot = errors.New("this can't be a shot")

	// ErrModel is returned for a putting model with parameters out of range.
	ErrModel = errors.New("a putting model needs an angle above 0 and up to 0.5 radians, a distance spread above 0 and up to 0.5, and a curve that falls with the distance")

	// ErrPlayer is returned for a player or a hole with a number out of range.
	ErrPlayer = errors.New("no baseline can be computed from this")

	// ErrResamples is returned for a number of resamples below 0 or above a million.
	ErrResamples = errors.New("the number of resamples must be from 0, which stands for the default, to a million")

	// ErrNoFit is returned where a search has found no best parameters.
	ErrNoFit = errors.New("no one set of parameters fits these data best: count more, from near and far")
)

// A RangeError names a distance that a baseline can't answer for. It is always
// returned as *RangeError, wrapped.
type RangeError struct {
	Lie       Lie
	Distance  float64 // metres
	Low, High float64 // the reach of the baseline for this lie, metres; both 0 if it does not know the lie
}

func (e *RangeError) Error() string {
	switch {
	case e.High == 0:
		return fmt.Sprintf("this baseline has no %v", e.Lie)
	case !(e.Distance >= 0): // true for NaN
		return fmt.Sprintf("%g is no distance: give metres from 0 up", e.Distance)
	}
	return fmt.Sprintf("%.4g m from the %v is outside the %.4g to %.4g m that this baseline covers", e.Distance, e.Lie, e.Low, e.High)
}

func rangeError(lie Lie, distance, low, high float64) error {
	return fmt.Errorf("strokes: %w", &RangeError{Lie: lie, Distance: distance, Low: low, High: high})
}

func noStandardError() error { return fmt.Errorf("strokes: %w", ErrNoStandardError) }

// A TableError names the place in a table of separated values that can't be
// read. It is always returned as *TableError, wrapped.
type TableError struct {
	Line   int    // in the file, from 1; 0 if the trouble is with the file as a whole
	Column string // as the header has it; "" if the trouble is with the line as a whole
	Reason string // what is wrong and what to do
}

func (e *TableError) Error() string {
	switch {
	case e.Line == 0:
		return e.Reason
	case e.Column == "":
		return fmt.Sprintf("line %d: %s", e.Line, e.Reason)
	}
	return fmt.Sprintf("line %d, column %s: %s", e.Line, e.Column, e.Reason)
}
