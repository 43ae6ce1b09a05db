package dispersion

import (
	"cmp"
	"math"
	"math/big"
	"slices"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"
)

// A boundary is the line from one shot to another, whose right side is cut
// away.
type boundary struct {
	from, to int32
	beyond   int32 // shots strictly to the right
	on       int32 // shots on the line
}

// depthLines holds the boundaries of all regions from some depth on.
type depthLines struct {
	grid       []wholePoint // the shots, from the first
	origin     wholePoint   // of the grid
	least      int          // the grid counts in units of 10^least
	flat       bool         // all shots on one line
	boundaries []boundary
}

func depthsOf(points []Point, from int) depthLines {
	var d depthLines
	d.grid, d.least = wholes(points)
	d.origin = d.grid[0]
	for i, p := range d.grid {
		d.grid[i] = wholePoint{x: new(big.Int).Sub(p.x, d.origin.x), y: new(big.Int).Sub(p.y, d.origin.y)}
	}
	plane := newPlane(points)
	n := int32(len(points))
	var s sweep
	var lines []crossing
	d.flat = true
	for i := range points {
		s.around(plane, i)
		lines = s.crossings(lines)
		if len(lines) > 1 {
			d.flat = false
		}
		if s.again {
			continue // all lines were seen from the first shot here
		}
		for _, c := range lines {
			if c.shot < i {
				continue // seen from an earlier shot of the line
			}
			b := boundary{from: int32(i), to: int32(c.shot), on: int32(1 + s.same + c.ahead + c.behind)}
			leftOf := int32(c.left)
			rightOf := n - b.on - leftOf
			if below(points[c.shot], points[i]) { // the shot is on the other half
				leftOf, rightOf = rightOf, leftOf
			}
			if b.beyond = rightOf; int(b.beyond+b.on) >= from {
				d.boundaries = append(d.boundaries, b)
			}
			b.from, b.to = b.to, b.from
			if b.beyond = leftOf; int(b.beyond+b.on) >= from {
				d.boundaries = append(d.boundaries, b)
			}
		}
	}
	return d
}

// below tells whether the direction from b to a points into the lower
// half-plane.
func below(a, b Point) bool { return a.Y < b.Y || a.Y == b.Y && a.X < b.X }

// region returns the points of depth k, for k from the one given to depthsOf up
// to the number of shots. In every direction the k-th shot from the outside
// bounds the region. Turn such a line about that shot, either way, until it
// meets another: what both of those keep is kept by all lines between. So the
// lines through two shots or more are enough, those with fewer than k shots
// beyond and k or more when the ones on the line are counted too.
func (d depthLines) region(k int) cutting {
	if d.flat {
		return d.stretch(k)
	}
	r := box(d.grid)
	for _, b := range d.boundaries {
		if int(b.beyond) < k && k <= int(b.beyond+b.on) {
			r = r.within(leftOf(d.grid[b.from], d.grid[b.to]))
			if len(r) == 0 {
				break
			}
		}
	}
	return r
}

// stretch returns the points of depth k on the line that holds all shots: from
// the k-th from one end to the k-th from the other.
func (d depthLines) stretch(k int) cutting {
	sorted := slices.Clone(d.grid)
	order := func(a, b wholePoint) int { return cmp.Or(a.x.Cmp(b.x), a.y.Cmp(b.y)) }
	slices.SortFunc(sorted, order)
	low, high := sorted[k-1], sorted[len(sorted)-k]
	at := func(p wholePoint) cuttingCorner {
		return cuttingCorner{corner: corner{x: p.x, y: p.y, w: big.NewInt(1)}}
	}
	switch order(low, high) {
	case -1:
		return cutting{at(low), at(high)}
	case 0:
		return cutting{at(low)}
	}
	return nil
}

// deepestRegion returns the greatest depth of any point and the region of that
// depth.
func deepestRegion(points []Point) (depth int, d depthLines, region cutting) {
	plane := newPlane(points)
	var s sweep
	most := 1 // shots in one place
	for i := range points {
		s.around(plane, i)
		depth = max(depth, 1+s.same+s.least())
		most = max(most, 1+s.same)
	}
	// Some shot is that deep. A line through any point has at most half of the
	// shots elsewhere on one of its sides.
	d = depthsOf(points, depth)
	region = d.region(depth)
	limit := (len(points) + most) / 2
	depth += sort.Search(limit-depth, func(i int) bool {
		r := d.region(depth + i + 1)
		if len(r) > 0 {
			region = r // the search only ever goes deeper from here
		}
		return len(r) == 0
	})
	return depth, d, region
}

// corners returns the corners of a region, each rounded once.
func (d depthLines) corners(region cutting) []Point {
	corners := make([]Point, len(region))
	for i, c := range region {
		corners[i] = Point{X: d.unround(c.x, c.w, d.origin.x), Y: d.unround(c.y, c.w, d.origin.y)}
	}
	// Corners closer than the last bit have become one.
	corners = slices.Compact(corners)
	if len(corners) > 1 && corners[0] == corners[len(corners)-1] {
		corners = corners[:len(corners)-1]
	}
	return corners
}

// unround returns (v/w + origin)·10^least.
func (d depthLines) unround(v, w, origin *big.Int) float64 {
	t := new(big.Int).Mul(origin, w)
	f, _ := d.unit(new(big.Rat).SetFrac(t.Add(t, v), w)).Float64()
	return f
}

// unit turns a number of grid units into the unit of the shots.
func (d depthLines) unit(r *big.Rat) *big.Rat {
	ten := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(d.least, -d.least))), nil)
	if d.least < 0 {
		return r.Mul(r, new(big.Rat).SetFrac(big.NewInt(1), ten))
	}
	return r.Mul(r, new(big.Rat).SetInt(ten))
}

// middle returns the centroid of a region.
func (d depthLines) middle(region cutting) Point {
	first := region[0]
	// Steps from the first corner are rounded once, however small the region.
	step := func(v, w, v0 *big.Int) float64 {
		r := new(big.Rat).SetFrac(v, w)
		f, _ := d.unit(r.Sub(r, new(big.Rat).SetFrac(v0, first.w))).Float64()
		return f
	}
	steps := make([]Point, len(region))
	var size float64
	for i, c := range region {
		steps[i] = Point{X: step(c.x, c.w, first.x), Y: step(c.y, c.w, first.y)}
		size = max(size, math.Abs(steps[i].X), math.Abs(steps[i].Y))
	}
	start := d.corners(region[:1])[0]
	if size == 0 {
		return start
	}
	var area float64
	var mean Point
	for i := 2; i < len(steps); i++ {
		a, b := r2.Scale(1/size, steps[i-1]), r2.Scale(1/size, steps[i])
		piece := r2.Cross(a, b)
		area += piece
		mean = r2.Add(mean, r2.Scale(piece/3, r2.Add(a, b)))
	}
	if area > 0 {
		return r2.Add(start, r2.Scale(size/area, mean))
	}
	// A line, or a sliver that rounding has made one: midway to its far end.
	far := slices.MaxFunc(steps, func(a, b Point) int { return cmp.Compare(r2.Norm2(r2.Scale(1/size, a)), r2.Norm2(r2.Scale(1/size, b))) })
	return r2.Add(start, r2.Scale(.5, far))
}
