package flight

import (
	"errors"
	"fmt"

	"github.com/landfall-golf/landfall/dispersion"
)

var (
	// ErrMissing is returned for a nil context or a nil set of coefficients.
	ErrMissing = errors.New("a needed input is missing")

	// ErrNoLanding is returned where a ball has not come down after a minute, or
	// its flight can't be followed: no ball does that, so the coefficients are to
	// be looked at.
	ErrNoLanding = errors.New("this ball does not come down within a minute: look at the coefficients of drag and lift")

	// ErrNoStartLine is returned where the start line of every shot is exactly 0,
	// which is what shots have whose start line was not measured.
	ErrNoStartLine = errors.New("no start line was measured, and without it start and curve can't be told apart: read shots that have one")

	// ErrNoSide is returned where every shot landed on the target line, so that
	// there is no side to take apart.
	ErrNoSide = errors.New("every shot landed on the target line, so there is no side to take apart")

	// ErrExtrapolated is the warning that a formula is used outside the range it
	// was published for.
	ErrExtrapolated = errors.New("extrapolated")
)

// A RangeError says which input can't be and what it may be. It is always
// returned as *RangeError, wrapped.
type RangeError struct {
	Of        string  // such as "ball speed"
	Value     float64 // in Unit
	Low, High float64 // what is taken, both ends included, in Unit
	Unit      string
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("%s %g %s: give a number from %g to %g", e.Of, e.Value, e.Unit, e.Low, e.High)
}

// within returns a *RangeError for a value outside [low, high], NaN included.
func within(of string, value, low, high float64, unit string) error {
	if value >= low && value <= high {
		return nil
	}
	return fmt.Errorf("flight: %w", &RangeError{Of: of, Value: value, Low: low, High: high, Unit: unit})
}

func tooFew(have, need int, what string) error {
	return fmt.Errorf("flight: %w", &dispersion.TooFewError{Have: have, Need: need, For: what})
}
