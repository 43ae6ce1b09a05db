package strokes

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"github.com/landfall-golf/landfall/dispersion"
)

// An Area is one polygon of a plan. Its edge belongs to it, and so does the
// edge of a hole in it.
type Area struct {
	Name   string // as in the file, else its place there, such as "feature 3"
	Ground Ground
	Rings  [][]dispersion.Point // the outer one first, then the holes; the first point is not repeated at the end

	rank int // of the ground: the higher one is on top
}

// A stretch is a closed interval along a line.
type stretch struct{ from, to float64 }

// cut returns where the level line at y meets the area, from left to right. The
// buffer is used if it is large enough.
//
// Just above the line the area lies between the edges that reach above it, taken
// two by two, and just below likewise; the closed area on the line is both
// together. So nothing depends on rounding at a corner, and a level edge counts
// like any other.
func (a Area) cut(y float64, buf []stretch) []stretch {
	var above, below []float64
	for _, ring := range a.Rings {
		last := ring[len(ring)-1]
		for _, p := range ring {
			low, high := last, p
			last = p
			if low.Y > high.Y {
				low, high = high, low
			}
			if y < low.Y || y > high.Y || low.Y == high.Y {
				continue
			}
			x := crossing(low, high, y)
			if y < high.Y {
				above = append(above, x)
			}
			if y > low.Y {
				below = append(below, x)
			}
		}
	}
	all := pairs(below, pairs(above, buf[:0]))
	slices.SortFunc(all, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
	n := 0
	for _, s := range all {
		if n > 0 && s.from <= all[n-1].to {
			all[n-1].to = max(all[n-1].to, s.to)
			continue
		}
		all[n] = s
		n++
	}
	return all[:n]
}

// crossing returns where the edge from low up to high meets the line at y: at a
// corner exactly there, and for both areas that share an edge at the same place.
func crossing(low, high dispersion.Point, y float64) float64 {
	switch y {
	case low.Y:
		return low.X
	case high.Y:
		return high.X
	}
	return low.X + float64((y-low.Y)*(high.X-low.X))/(high.Y-low.Y)
}

func pairs(x []float64, to []stretch) []stretch {
	slices.Sort(x)
	for i := 0; i+1 < len(x); i += 2 {
		to = append(to, stretch{x[i], x[i+1]})
	}
	return to
}

// Contains tells whether a point is in the area or on its edge.
func (a Area) Contains(p dispersion.Point) bool {
	for _, s := range a.cut(p.Y, nil) {
		if s.from <= p.X && p.X <= s.to {
			return true
		}
	}
	return false
}

// polygon returns the area as orb has it, with the first point repeated.
func (a Area) polygon() orb.Polygon {
	polygon := make(orb.Polygon, len(a.Rings))
	for i, ring := range a.Rings {
		for _, p := range ring {
			polygon[i] = append(polygon[i], orb.Point{p.X, p.Y})
		}
		polygon[i] = append(polygon[i], polygon[i][0])
	}
	return polygon
}

// moved returns the area with every point replaced.
func (a Area) moved(to func(dispersion.Point) dispersion.Point) Area {
	rings := make([][]dispersion.Point, len(a.Rings))
	for i, ring := range a.Rings {
		rings[i] = make([]dispersion.Point, len(ring))
		for j, p := range ring {
			rings[i][j] = to(p)
		}
	}
	a.Rings = rings
	return a
}
