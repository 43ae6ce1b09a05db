package strokes

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb/planar"

	"github.com/landfall-golf/landfall/dispersion"
)

// An edge of a ring, from one corner to the next.
type edge struct {
	p, q  dispersion.Point
	ring  int
	place int // of p in the ring
	of    int // corners of the ring
}

// follows tells whether two edges share a corner by being next to each other.
func (e edge) follows(o edge) bool {
	return e.ring == o.ring && ((e.place+1)%e.of == o.place || (o.place+1)%o.of == e.place)
}

// checkRings returns an error where a ring crosses or touches itself or another
// one, folds back on itself, has no area, or is a hole outside the outer ring.
func (f feature) checkRings(a Area) error {
	var edges []edge
	for i, ring := range a.Rings {
		for j, p := range ring {
			edges = append(edges, edge{p, ring[(j+1)%len(ring)], i, j, len(ring)})
			if before, after := ring[(j+len(ring)-1)%len(ring)], ring[(j+1)%len(ring)]; folds(before, p, after) {
				return f.fault("a ring folds back on itself at %.7g, %.7g (metres in the plane): leave that corner out", p.X, p.Y)
			}
		}
	}
	slices.SortFunc(edges, func(e, o edge) int { return cmp.Compare(min(e.p.X, e.q.X), min(o.p.X, o.q.X)) })
	for i, e := range edges {
		end := max(e.p.X, e.q.X)
		for _, o := range edges[i+1:] {
			if min(o.p.X, o.q.X) > end {
				break
			}
			if !e.follows(o) && meet(e, o) {
				what := "a ring crosses or touches itself"
				if e.ring != o.ring {
					what = "two rings cross or touch each other"
				}
				return f.fault("%s near %.7g, %.7g (metres in the plane): put the corners in order around the area", what, o.p.X, o.p.Y)
			}
		}
	}
	for i, ring := range a.polygon() {
		if math.Abs(planar.Area(ring)) < 1e-6 {
			return f.fault("ring %d has no area", i+1)
		}
	}
	outer := Area{Rings: a.Rings[:1]}
	for i, hole := range a.Rings[1:] {
		if !outer.Contains(hole[0]) {
			return f.fault("ring %d is a hole outside of the area: make it a polygon of its own", i+2)
		}
	}
	return nil
}

// turn is positive where the way from p over q to r turns left, 0 where it goes
// straight on or back.
func turn(p, q, r dispersion.Point) float64 {
	return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X)
}

func folds(before, p, after dispersion.Point) bool {
	return turn(before, p, after) == 0 && (p.X-before.X)*(after.X-p.X)+(p.Y-before.Y)*(after.Y-p.Y) < 0
}

// meet tells whether two edges have a point in common.
func meet(e, o edge) bool {
	a, b := turn(e.p, e.q, o.p), turn(e.p, e.q, o.q)
	c, d := turn(o.p, o.q, e.p), turn(o.p, o.q, e.q)
	if (a > 0) != (b > 0) && a != 0 && b != 0 && (c > 0) != (d > 0) && c != 0 && d != 0 {
		return true
	}
	return a == 0 && within(e, o.p) || b == 0 && within(e, o.q) || c == 0 && within(o, e.p) || d == 0 && within(o, e.q)
}

// within tells whether a point on the line of an edge is on the edge.
func within(e edge, p dispersion.Point) bool {
	return min(e.p.X, e.q.X) <= p.X && p.X <= max(e.p.X, e.q.X) && min(e.p.Y, e.q.Y) <= p.Y && p.Y <= max(e.p.Y, e.q.Y)
}
