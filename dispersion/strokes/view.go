package strokes

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
)

// ErrPlace is returned for a ball that can't be played from where it is.
var ErrPlace = errors.New("the ball must lie on the hole, out of every hazard and away from the flag")

// A View is a hole as a player sees it from the ball: the side and the carry of
// a point are measured in metres from the ball, the target line running to the
// flag. It tells what a landing ball costs. It never changes and is safe for
// concurrent use.
//
// A ball stays where it lands: bounce and roll are not in it, nor are trees in
// the way of the flight.
type View struct {
	hole     *Hole
	baseline Baseline
	ball     dispersion.Point // in the plan
	lie      Lie
	toFlag   float64
	start    float64 // expected strokes from the ball
	areas    []Area  // seen from the ball

	sin, cos float64 // of the turn from the plan to the view
}

// From returns the view from a place of the plan where the ball has the given
// lie.
//
// Errors: [ErrMissing]; [ErrPlace] for a ball in a hazard, within a metre of the
// flag or more than 3 km from it; [ErrLie]; *[RangeError] where the baseline
// does not reach.
func (h *Hole) From(ball dispersion.Point, lie Lie, b Baseline) (*View, error) {
	if h == nil || b == nil {
		return nil, fmt.Errorf("strokes: a view of a hole: %w", ErrMissing)
	}
	v := &View{hole: h, baseline: b, ball: ball, lie: lie, toFlag: distance(ball, h.flag)}
	if !(v.toFlag >= 1 && v.toFlag <= farthestVertex) || h.Ground(ball).Penalty != NoPenalty {
		return nil, fmt.Errorf("strokes: a ball at %.5g, %.5g, %.5g m from the flag: %w", ball.X, ball.Y, v.toFlag, ErrPlace)
	}
	var err error
	if v.start, err = b.Expected(lie, v.toFlag); err != nil {
		return nil, err
	}
	v.sin, v.cos = (h.flag.X-ball.X)/v.toFlag, (h.flag.Y-ball.Y)/v.toFlag
	v.areas = make([]Area, len(h.areas))
	for i, a := range h.areas {
		v.areas[i] = a.moved(v.seen)
	}
	return v, nil
}

// FromTee returns the view from the tee. Errors: those of [Hole.From].
func (h *Hole) FromTee(b Baseline) (*View, error) {
	if h == nil {
		return nil, fmt.Errorf("strokes: a view of a hole: %w", ErrMissing)
	}
	return h.From(h.tee, Tee, b)
}

// Approach returns the view from the fairway at a distance from the flag, on the
// straight line from tee to flag: where the plan has no fairway there, as if it
// had. Errors: those of [Hole.From]; [ErrPlace] for more than the length of the
// hole.
func (h *Hole) Approach(metres float64, b Baseline) (*View, error) {
	if h == nil {
		return nil, fmt.Errorf("strokes: a view of a hole: %w", ErrMissing)
	}
	share := metres / h.Length()
	if !(share > 0 && share <= 1) {
		return nil, fmt.Errorf("strokes: %.5g m from the flag of a hole of %.5g m: %w", metres, h.Length(), ErrPlace)
	}
	return h.From(dispersion.Point{X: h.flag.X + share*(h.tee.X-h.flag.X), Y: h.flag.Y + share*(h.tee.Y-h.flag.Y)}, Fairway, b)
}

// seen returns a point of the plan as seen from the ball.
func (v *View) seen(p dispersion.Point) dispersion.Point {
	x, y := p.X-v.ball.X, p.Y-v.ball.Y
	return dispersion.Point{X: x*v.cos - y*v.sin, Y: x*v.sin + y*v.cos}
}

// Distance returns how far the flag is from the ball, in metres.
func (v *View) Distance() float64 { return v.toFlag }

// Flag returns where the flag is: straight ahead.
func (v *View) Flag() dispersion.Point { return dispersion.Point{Y: v.toFlag} }

// Expected returns the expected strokes from the ball for the player of the
// baseline, the next stroke counted.
func (v *View) Expected() float64 { return v.start }

// Source returns that of the baseline.
func (v *View) Source() string { return v.baseline.Source() }

// Areas returns the areas of the hole as seen from the ball, from the lowest to
// the topmost.
func (v *View) Areas() []Area {
	areas := make([]Area, len(v.areas))
	for i, a := range v.areas {
		areas[i] = a.moved(func(p dispersion.Point) dispersion.Point { return p })
	}
	return areas
}

// Ground returns what a ball finds at a point of the view: see [Hole.Ground].
func (v *View) Ground(p dispersion.Point) Ground { return groundAt(v.areas, p) }

// Strokes returns what a stroke costs that lands the ball at a point of the
// view: one, and what is then expected,
//
//	1 + E(lie, distance)                         on a lie
//	2 + E(start)                                 stroke and distance
//	2 + min(E(drop), E(start))                   drop on the line
//
// The ball enters a hazard where the straight line to its landing point last
// crosses the edge; the drop is the first place behind that, seen from the flag,
// that is in no hazard. No ball is holed from here, as with [Compute]: one that
// lands on the hole has a putt left.
//
// Errors: *[RangeError] where the baseline does not reach or lacks the lie;
// *[dispersion.PointError] for a point that is not finite.
func (v *View) Strokes(p dispersion.Point) (float64, error) {
	if !finite(p) {
		return 0, fmt.Errorf("strokes: a landing point: %w", &dispersion.PointError{Point: p})
	}
	for i, a := range slices.Backward(v.areas) {
		if a.Contains(p) {
			return v.cost(i, p)
		}
	}
	return v.cost(-1, p)
}

func finite(p dispersion.Point) bool {
	return math.Abs(p.X) <= dispersion.MaxCoordinate && math.Abs(p.Y) <= dispersion.MaxCoordinate
}

// cost returns what a ball costs that lands in area i; -1 is outside of all.
func (v *View) cost(i int, p dispersion.Point) (float64, error) {
	ground := outside
	if i >= 0 {
		ground = v.areas[i].Ground
	}
	if ground.Penalty == NoPenalty {
		rest, err := v.rest(ground.Lie, p)
		return 1 + rest, err
	}
	again := 2 + v.start
	if ground.Penalty == StrokeAndDistance {
		return again, nil
	}
	drop, lie, ok := v.drop(v.areas[i], p)
	if !ok {
		return again, nil
	}
	rest, err := v.rest(lie, drop)
	return min(again, 2+rest), err
}

// rest returns the expected strokes from a point. Nearer to the flag than the
// baseline reaches for a lie counts as the nearest that it does reach, and on the
// hole itself as beside it: one point where nothing is left to play would draw
// every aim towards it, and be smeared over the grid around it.
func (v *View) rest(lie Lie, p dispersion.Point) (float64, error) {
	d := max(distance(p, v.Flag()), holeRadius)
	low, high := v.baseline.Reach(lie)
	if high > 0 {
		d = max(d, low)
	}
	return v.baseline.Expected(lie, d)
}

const (
	dropStep  = 0.5 // metres between two places that are looked at
	dropReach = 300 // metres behind which nobody walks
)

// drop returns where a ball that landed at p in a hazard is dropped, and its lie
// there.
func (v *View) drop(a Area, p dispersion.Point) (dispersion.Point, Lie, bool) {
	entry := v.lastEntry(a, p)
	flag := v.Flag()
	away := distance(entry, flag)
	if away == 0 {
		return entry, 0, false
	}
	for back := 0.0; back <= dropReach; back += dropStep {
		s := (away + back) / away
		at := dispersion.Point{X: flag.X + s*(entry.X-flag.X), Y: flag.Y + s*(entry.Y-flag.Y)}
		if g := v.Ground(at); g.Penalty == NoPenalty {
			return at, g.Lie, true
		}
	}
	return entry, 0, false
}

// lastEntry returns where a ball on its way to p in area a last came from ground
// without such a penalty: two waters that touch, or of which one lies on the
// other, are one.
func (v *View) lastEntry(a Area, p dispersion.Point) dispersion.Point {
	const before = 1e-6 // metres
	at := a.lastEntry(p)
	for range v.areas {
		away := math.Hypot(at.X, at.Y)
		if away <= before {
			break
		}
		s := (away - before) / away
		back := dispersion.Point{X: s * at.X, Y: s * at.Y}
		i := len(v.areas) - 1
		for i >= 0 && !v.areas[i].Contains(back) {
			i--
		}
		if i < 0 || v.areas[i].Ground.Penalty != DropOnLine {
			break
		}
		at = v.areas[i].lastEntry(back)
	}
	return at
}

// lastEntry returns where the straight line from the ball, at 0, to p last
// crosses the edge of the area; p itself if it does not.
func (a Area) lastEntry(p dispersion.Point) dispersion.Point {
	best := -1.0
	for _, ring := range a.Rings {
		last := ring[len(ring)-1]
		for _, q := range ring {
			if t, ok := along(p, last, q); ok {
				best = max(best, t)
			}
			last = q
		}
	}
	if best < 0 {
		return p
	}
	return dispersion.Point{X: best * p.X, Y: best * p.Y}
}

// along returns at what share of the way from 0 to p the edge from q to r is
// crossed.
func along(p, q, r dispersion.Point) (t float64, ok bool) {
	dx, dy := r.X-q.X, r.Y-q.Y
	det := p.X*dy - p.Y*dx
	if det == 0 {
		return 0, false
	}
	t = (q.X*dy - q.Y*dx) / det
	u := (q.X*p.Y - q.Y*p.X) / det
	return t, t >= 0 && t <= 1 && u >= 0 && u <= 1
}
