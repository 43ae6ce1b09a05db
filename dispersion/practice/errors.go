package practice

import (
	"errors"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

var (
	// ErrMissing is returned for a nil context, lesson, group or season.
	ErrMissing = errors.New("a context, lesson, group or season that is needed here is nil")

	// ErrResamples is returned for a number of resamples below 0 or above a million.
	ErrResamples = errors.New("the number of resamples must be from 0, which stands for 9999, to a million")

	// ErrPlaces is returned for places in a session that are not one for each
	// value and growing.
	ErrPlaces = errors.New("each value needs its place in the session, a ball number or a time, each later than the one before")

	// ErrShare is returned for a share of false signals that can't be.
	ErrShare = errors.New("a share of false signals must be above 0 and below 1, and high enough for so few shots")

	// ErrRunLength is returned for a run length that can't be.
	ErrRunLength = errors.New("a run length must be from 10 to 1,000 balls")

	// ErrColumn is returned for a column that holds no numbers for these shots.
	ErrColumn = errors.New("no numbers in this column")
)

// A ValueError names a value that can't be used.
type ValueError struct {
	Index  int // in its input, from 0
	Value  float64
	Reason string
}

func (e *ValueError) Error() string {
	return fmt.Sprintf("value %d is %g: %s", e.Index, e.Value, e.Reason)
}

// A FewShotsWarning accompanies an answer from so few shots that it says little.
type FewShotsWarning struct {
	Have, Need int    // shots there are, and from how many on the answer says something
	For        string // the answer in doubt
}

func (w *FewShotsWarning) Error() string {
	return fmt.Sprintf("%d shots are few: it takes %d for %s", w.Have, w.Need, w.For)
}

// checkValues refuses what can't be reckoned with.
func checkValues(values []float64) error {
	for i, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("practice: %w", &ValueError{i, v, "leave it out or correct it"})
		}
		if math.Abs(v) > dispersion.MaxCoordinate {
			return fmt.Errorf("practice: %w", &ValueError{i, v, "too large to be squared"})
		}
	}
	return nil
}

// checkSeries checks the number of values and each of them.
func checkSeries(values []float64, need int, what string) error {
	if len(values) < need {
		return fmt.Errorf("practice: %w", &dispersion.TooFewError{Have: len(values), Need: need, For: what})
	}
	return checkValues(values)
}

// checkLevel puts the default in.
func checkLevel(level float64) (float64, error) {
	if level == 0 {
		return 0.95, nil
	}
	if !(level > 0 && level < 1) {
		return 0, fmt.Errorf("practice: level %g: %w", level, dispersion.ErrLevel)
	}
	return level, nil
}

// checkResamples puts the default in.
func checkResamples(n int) (int, error) {
	if n < 0 || n > resample.Most {
		return 0, fmt.Errorf("practice: %d resamples: %w", n, ErrResamples)
	}
	if n == 0 {
		return 9999, nil
	}
	return n, nil
}

// Kinds of warning of a season, to be told apart with errors.Is.
var (
	ErrOrder   = errors.New("order")   // sessions were put into the order of time
	ErrClock   = errors.New("clock")   // a date without an hour had to do
	ErrZone    = errors.New("zone")    // times with and without a time zone
	ErrSession = errors.New("session") // left out, or too small to say much
	ErrDays    = errors.New("days")    // how much days differ by themselves is not in an interval
	ErrTaught  = errors.New("taught")  // teaching went on between a gain and the balls that tell of it
	ErrMishits = errors.New("mishits") // how often the ball was mishit changed too
)

// A SeasonError says which session can't be part of a season, and why.
type SeasonError struct {
	Session string // its name; "" where it has none
	Line    int    // in its file; 0 where it is about the session as a whole
	Reason  string // what is wrong and what to do
}

func (e *SeasonError) Error() string {
	s := fmt.Sprintf("session %q", e.Session)
	if e.Line > 0 {
		s += fmt.Sprintf(", line %d", e.Line)
	}
	return s + ": " + e.Reason
}

// A PhaseError says that a season holds no balls to answer a question with.
type PhaseError struct {
	Phase   Phase
	Club    string
	Column  string   // that the balls need a number in
	Session string   // asked for; "" for none in particular
	Clubs   []string // with which there are such balls
}

func (e *PhaseError) Error() string {
	s := fmt.Sprintf("no %s balls with club %q and a %s", e.Phase, e.Club, e.Column)
	if e.Session != "" {
		s += fmt.Sprintf(" in session %q", e.Session)
	}
	if len(e.Clubs) > 0 {
		return s + fmt.Sprintf("; there are some with %q", e.Clubs)
	}
	return s + ": it takes balls hit before any teaching, at the start and in a session at least 24 h later"
}

// warning returns a warning of one of the kinds above.
func warning(kind error, format string, args ...any) error {
	return fmt.Errorf("%w: %s", kind, fmt.Sprintf(format, args...))
}
