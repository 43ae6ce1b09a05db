package strokes

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// A Spot is where a ball lies.
type Spot struct {
	Lie      Lie
	Distance float64 // to the hole, metres; 0 is in the hole
}

// A Shot is one stroke on a course.
type Shot struct {
	Round, Hole string // which; a hole is told by both
	Club        string
	From, To    Spot // where it was hit from, and where the ball came to rest
	Penalty     int  // penalty strokes that came with it
	Line        int  // in the file that it was read from; 0 if it was read from none
}

// Gained returns the strokes gained by a shot,
//
//	E(from) - E(to) - 1 - penalty
//
// in strokes against the baseline: above 0 the shot was better than what the
// baseline expects from there. Over a hole that is played out, each shot from
// where the last came to rest, they add up to E(first) less the strokes taken,
// whatever the baseline says in between.
//
// Errors: [ErrMissing] for a nil baseline; [ErrShot] for a shot from within the
// hole or with a negative penalty; those of the baseline.
func Gained(b Baseline, s Shot) (float64, error) {
	if b == nil {
		return 0, fmt.Errorf("strokes: strokes gained: no baseline: %w", ErrMissing)
	}
	if s.From.Distance == 0 || s.Penalty < 0 {
		return 0, fmt.Errorf("strokes: a shot from %g m with %d penalty strokes: %w", s.From.Distance, s.Penalty, ErrShot)
	}
	before, err := b.Expected(s.From.Lie, s.From.Distance)
	if err != nil {
		return 0, err
	}
	if s.To.Distance == 0 {
		return before - 1 - float64(s.Penalty), nil
	}
	after, err := b.Expected(s.To.Lie, s.To.Distance)
	if err != nil {
		return 0, err
	}
	return before - after - 1 - float64(s.Penalty), nil
}

// GainedAll returns the strokes gained by each shot in turn, as [Gained] does.
//
// Errors: those of Gained, naming the shot.
func GainedAll(b Baseline, shots []Shot) ([]float64, error) {
	gained := make([]float64, len(shots))
	for i, s := range shots {
		g, err := Gained(b, s)
		if err != nil && s.Line > 0 {
			return nil, fmt.Errorf("line %d: %w", s.Line, err)
		}
		if err != nil {
			return nil, fmt.Errorf("shot %d: %w", i, err)
		}
		gained[i] = g
	}
	return gained, nil
}

// GainedAt returns the strokes that balls hit in the bay would gain from a spot
// on a generic hole, whose flag is straight ahead: with a ball that comes to rest
// at point p, side and carry in metres, and leaves x metres,
//
//	E(from) - 1 - mean of E(lie, x)
//
// over the lies that the hole may have there. Shots hit to one target are thus
// scored against each other; the roll is not known in a bay and is taken to be
// none. No ball is holed from here, as with [Compute]: one that lands on the hole
// has a putt left, or a carry rounded to the yard would often gain a stroke.
//
// Errors: [ErrMissing] for a nil baseline; [ErrPlayer] for a hole out of range;
// [ErrShot] for a shot from within the hole; an error naming a point that is not
// finite; those of the baseline.
func GainedAt(b Baseline, h GenericHole, from Spot, points []dispersion.Point) ([]float64, error) {
	if b == nil {
		return nil, fmt.Errorf("strokes: strokes gained: no baseline: %w", ErrMissing)
	}
	if err := h.check(); err != nil {
		return nil, err
	}
	if from.Distance == 0 {
		return nil, fmt.Errorf("strokes: strokes gained from the hole itself: %w", ErrShot)
	}
	before, err := b.Expected(from.Lie, from.Distance)
	if err != nil {
		return nil, err
	}
	gained := make([]float64, len(points))
	for i, p := range points {
		left := math.Hypot(p.X, from.Distance-p.Y)
		if math.IsNaN(left) || math.IsInf(left, 0) {
			return nil, fmt.Errorf("strokes: point %d is (%g, %g): a landing point needs finite numbers: %w", i, p.X, p.Y, ErrShot)
		}
		after, err := h.after(b, left, math.Abs(p.X))
		if err != nil {
			return nil, fmt.Errorf("point %d: %w", i, err)
		}
		gained[i] = before - 1 - after
	}
	return gained, nil
}

// after returns the mean expected strokes over the lies that a ball may have
// which leaves so much and is so far to the side of the line.
func (h GenericHole) after(b Baseline, left, side float64) (float64, error) {
	left = max(left, holeRadius)
	sum := 0.0
	for lie, share := range h.lies(left, side) {
		if share == 0 {
			continue
		}
		e, err := b.Expected(Lie(lie), left)
		if err != nil {
			return 0, err
		}
		sum += share * e
	}
	return sum, nil
}

// lies returns the share of each lie there.
func (h GenericHole) lies(left, side float64) (shares [numLies]float64) {
	switch h.ground(left, side) {
	case onGreen:
		shares[Green] = 1
	case bySurround:
		shares[Sand], shares[Fairway], shares[Rough] = h.GreenSand, h.GreenShort, max(0, 1-h.GreenSand-h.GreenShort)
	case onFairway:
		shares[Fairway] = 1
	case bySide:
		shares[Sand], shares[Rough] = h.FairwaySand, 1-h.FairwaySand
	case inTrees:
		shares[Recovery] = 1
	}
	return shares
}
