package compare

import (
	"context"
	"math"
)

// A MoveKind says whether the thing that was worked on changed.
type MoveKind int

const (
	MoveUnclear MoveKind = iota // the shots fit both
	Moved                       // the interval excludes 0
	Stayed                      // the whole interval is within half a ball-to-ball spread of 0
)

// A Move tells whether what was worked on, a struck or started column such as
// strike or path, changed at all. Without that a gain came from somewhere else.
type Move struct {
	Kind   MoveKind // whether the column moved
	Effect Effect   // of the column; neither way better
	Spread float64  // pooled standard deviation of single balls, before and after
}

// stayedShare is the share of the ball-to-ball spread within which a change of
// the mean is called none to speak of. Our own choice, no source.
const stayedShare = 0.5

// Manipulation returns whether a measured column changed from before to after. To
// be looked at before any result, since a result is then easier to believe.
//
// The change is [MeanGain]. Moved and Stayed can both be wrong, each like the
// interval: at 95 % in one of twenty columns that are looked at. Stayed takes
// some 60 balls a side to be said at all.
//
// Errors and warnings: those of [MeanGain].
func Manipulation(ctx context.Context, column, unit string, before, after []float64, o Options) (Move, error) {
	e, err := MeanGain(ctx, column, unit, before, after, o)
	if err != nil {
		return Move{}, err
	}
	e.NoBetter = true
	// The values are sound and have a spread: MeanGain has seen to it.
	z, _ := standardise(before, after)
	s1, s2 := summaryOf(z.values[:len(before)]), summaryOf(z.values[len(before):])
	m := Move{Effect: e, Spread: math.Sqrt((s1.ss+s2.ss)/(s1.n+s2.n-2)) * z.scale}
	switch i := e.Interval; {
	case i.Low > 0 || i.High < 0:
		m.Kind = Moved
	case max(-i.Low, i.High) <= stayedShare*m.Spread:
		m.Kind = Stayed
	}
	return m, nil
}
