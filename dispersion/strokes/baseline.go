package strokes

import "math"

// A Baseline answers how many strokes are still to play, on average, from a
// distance to the hole and a lie. It never changes once it is made and may be
// asked from several goroutines at once.
type Baseline interface {
	// Expected returns the expected strokes from a distance in metres, the next
	// stroke counted. It never falls with the distance. At 0 the ball is in the
	// hole, whatever the lie, and no stroke is left.
	//
	// Errors: [ErrLie]; *[RangeError] for a distance that the baseline does not
	// reach or that is no distance.
	Expected(lie Lie, distance float64) (float64, error)

	// StandardError returns the standard error of what Expected returns.
	//
	// Errors: those of Expected; [ErrNoStandardError] where the baseline states
	// none. A baseline computed from a stated player has none: it is exact for
	// that player, and how well a pupil is described by that player is another
	// question.
	StandardError(lie Lie, distance float64) (float64, error)

	// Reach returns the shortest and the longest distance in metres at which
	// Expected answers for the lie, apart from 0; both are 0 for a lie that the
	// baseline does not know.
	Reach(lie Lie) (low, high float64)

	// Source tells in one line where the numbers come from.
	Source() string
}

// checkReach is the common guard of every baseline.
func checkReach(b interface{ Reach(Lie) (low, high float64) }, lie Lie, distance float64) error {
	if err := lie.check(); err != nil {
		return err
	}
	low, high := b.Reach(lie)
	if distance == 0 || distance >= low && distance <= high && high > 0 && !math.IsInf(distance, 0) {
		return nil
	}
	return rangeError(lie, distance, low, high)
}
