package compare

import (
	"errors"
	"fmt"
)

var (
	// ErrMissing is returned for a nil context, group or statistic.
	ErrMissing = errors.New("a context, a group before, a group after and a statistic, where one is asked for, are needed")

	// ErrResamples is returned for a number of resamples below 0 or above a million.
	ErrResamples = errors.New("the number of resamples must be from 0, which stands for the default, to a million")

	// ErrBlock is returned for a negative block length, or one longer than half a
	// group, of which resampling would make little else than the group again.
	ErrBlock = errors.New("blocks must be no longer than half of the smaller group; 0 or 1 stand for independent shots")

	// ErrNoBootstrapT is a warning: BCa stands in for bootstrap-t below 20 shots on
	// a side.
	ErrNoBootstrapT = errors.New("there is no bootstrap-t interval, since too many resamples have no standard error of their own; BCa, which stands in for it, is less sure with so few shots")

	// ErrSmallest is returned where the smallest change worth having is not
	// above 0, or is not below 1 for a ratio.
	ErrSmallest = errors.New("the smallest change worth having must be above 0, and for a spread a share below 1 such as 0.20")

	// ErrEffect is returned for an effect that no function here can have made.
	ErrEffect = errors.New("the effect is not complete: use one that this package has returned")

	// ErrNoBetter is returned for an effect of which neither way is better.
	ErrNoBetter = errors.New("neither way is better in itself, so there is no verdict on it")

	// ErrUnlike is returned where two verdicts or effects don't belong together.
	ErrUnlike = errors.New("these answer different questions and can't be joined")

	// ErrPrior is returned for a prior, or a posterior, that is no distribution.
	ErrPrior = errors.New("a prior needs finite numbers, shots not below 0, at least -1 degree of freedom and a scale that is a covariance; the weak one needs standard deviations above 0")

	// ErrStages is returned where two or more stages are needed.
	ErrStages = errors.New("at least two stages are needed")

	// ErrPlan is returned for planning inputs that make no sense.
	ErrPlan = errors.New("planning needs a spread and a gain above 0, a ratio above 0 other than 1, and a power between the share of false alarms and 1")

	// ErrOutOfReach is returned where more balls would be needed than anybody hits:
	// a million a stage, or a thousand for a mishit rate.
	ErrOutOfReach = errors.New("more balls a stage would be needed than anybody hits")
)

// A ValueError names a value that can't be used.
type ValueError struct {
	Side   string  // "before", "after", "in stage 2", …
	Index  int     // of the value in its input, from 0
	Value  float64 // as given
	Reason string
}

func (e *ValueError) Error() string {
	return fmt.Sprintf("value %d %s is %g: %s", e.Index, e.Side, e.Value, e.Reason)
}

// A CountError names counts that can't be: fewer than no mishits, more mishits
// than balls, or no balls.
type CountError struct {
	Side    string // "before", "after", or "" for a single rate
	Mishits int
	Of      int // balls in all
}

func (e *CountError) Error() string {
	text := fmt.Sprintf("%d mishits of %d balls", e.Mishits, e.Of)
	if e.Side != "" {
		text += " " + e.Side
	}
	return text + " can't be: at least one ball is needed, ten million at most, and between none and all of them mishit"
}

// A NoValueError tells that some resamples leave the statistic without a value,
// such as an area where the shots drawn lie on one line. It is an error where
// more than one in ten do: there are too few shots for this statistic. Up to
// that it is a warning, and the answer is made of the others.
type NoValueError struct {
	Failed, Of int   // resamples without a value, of all that were drawn
	Err        error // what the statistic said in the first of them
}

func (e *NoValueError) Error() string {
	return fmt.Sprintf("the statistic has no value for %d of %d resamples: %v", e.Failed, e.Of, e.Err)
}

// Unwrap returns what the statistic said.
func (e *NoValueError) Unwrap() error { return e.Err }

// An ExtremeWarning tells that an end of a bootstrap interval is, or nearly is,
// the most extreme resample, so that another seed would move it far.
type ExtremeWarning struct {
	Interval string // "percentile", "BCa" or "bootstrap-t"
	Need     int    // resamples that would do; 0 if no number would
}

func (w *ExtremeWarning) Error() string {
	text := fmt.Sprintf("an end of the %s interval is the most extreme resample", w.Interval)
	if w.Need > 0 {
		return text + fmt.Sprintf("; it takes %d resamples", w.Need)
	}
	return text + ", and more resamples would not help: the shots are too few or too uneven for it"
}

// A LevelWarning tells that no interval of this kind from so few shots can hold
// the truth as often as was asked for.
type LevelWarning struct {
	Asked, Attained float64 // levels, as fractions
	Need            int     // shots of each from which it can
}

func (w *LevelWarning) Error() string {
	return fmt.Sprintf("with so few shots the interval holds the truth in %.6g %% of lessons and not in %.6g; it takes %d of each", 100*w.Attained, 100*w.Asked, w.Need)
}

// A FewShotsWarning accompanies an answer from so few shots that it says
// little. Need is computed for what For names.
type FewShotsWarning struct {
	Before, After int // shots there are
	Need          int // shots of each that would do
	For           string
}

func (w *FewShotsWarning) Error() string {
	return fmt.Sprintf("%d shots against %d are few: it takes %d of each for %s", w.Before, w.After, w.Need, w.For)
}

// A FloorWarning tells that no outcome whatever could have given a p-value
// below the usual line.
type FloorWarning struct {
	Floor float64 // the smallest p that these numbers of shots can give
	Line  float64 // 1 - level
	Need  int     // shots of each from which p can fall below the line
}

func (w *FloorWarning) Error() string {
	return fmt.Sprintf("with so few shots p can't fall below %.2g; from %d of each it can fall below %.2g", w.Floor, w.Need, w.Line)
}
