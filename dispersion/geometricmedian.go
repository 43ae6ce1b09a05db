package dispersion

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// GeometricMedian returns the point with the smallest sum of distances to the
// shots:
//
//	argmin over m of Σ |xᵢ - m|
//
// One wild shot moves it by a bounded amount, and up to half of the shots may
// be wild before it breaks down. It turns with the group, but does not follow
// a stretch of one axis. It assumes nothing about the shots.
//
// From one shot on it has an answer; without any a *[TooFewError] is among the
// warnings. It is unique unless the shots lie on one
// line with the two middle ones apart; then it is the midpoint between those,
// with the warning [ErrNotUnique].
//
// It is deterministic and takes a few passes over the shots: the step of Vardi
// and Zhang, which does not stop short at a shot, and Newton's near the end.
//
// Reference: Y. Vardi, C.-H. Zhang, "The Multivariate L1-Median and Associated
// Data Depth", Proceedings of the National Academy of Sciences 97(4), 2000,
// pp. 1423-1426.
func (g *Group) GeometricMedian() Centre {
	c := Centre{Method: "geometric median", N: g.N()}
	switch g.N() {
	case 0:
		c.Warnings = []error{tooFew(0, 1, "a geometric median")}
		return c
	case 1:
		c.Point = g.points[0]
		return c
	}
	if cov, _ := g.Cov(); cov.flat() {
		var unique bool
		c.Point, unique = medianOnLine(g.points)
		if !unique {
			c.Warnings = append(c.Warnings, ErrNotUnique)
		}
		return c
	}
	c.Point = medianInPlane(g.points, g.moments)
	return c
}

// medianOnLine returns the middle shot along the line, or the midpoint of the
// two middle ones; unique is false if those are apart.
func medianOnLine(points []Point) (m Point, unique bool) {
	sorted := slices.Clone(points)
	// Along a line the order by x is the order along it; y decides where the
	// line is upright.
	slices.SortFunc(sorted, func(a, b Point) int {
		return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y))
	})
	low, high := sorted[(len(sorted)-1)/2], sorted[len(sorted)/2]
	if low == high {
		return low, true
	}
	return Point{X: low.X/2 + high.X/2, Y: low.Y/2 + high.Y/2}, false
}

// medianInPlane works on points brought to a size near 1 around their mean, so
// that neither overflow nor a distant origin costs digits.
func medianInPlane(points []Point, m Moments) Point {
	size := math.Sqrt(max(m.SXX, m.SYY) / float64(m.N))
	scaled := make([]Point, len(points))
	for i, p := range points {
		scaled[i] = Point{X: (p.X - m.Mean.X) / size, Y: (p.Y - m.Mean.Y) / size}
	}
	z, at := minimiseDistances(scaled)
	if at >= 0 {
		return points[at]
	}
	return Point{X: m.Mean.X + z.X*size, Y: m.Mean.Y + z.Y*size}
}

// minimiseDistances returns the geometric median of points that are not all on
// one line, and its index if it is one of them, else -1. Each round takes the
// better of two steps: Newton's, shortened until it helps, is quick where the
// sum is smooth, and that of Vardi and Zhang where it has a kink.
func minimiseDistances(points []Point) (m Point, at int) {
	const rounds = 1000 // a bound, not a plan: a dozen is usual
	here := slopeAt(points, m)
	tested := -1
	for range rounds {
		if here.nearest != tested {
			tested = here.nearest
			if isMedian(points, tested) {
				return points[tested], tested
			}
		}
		next := here.vardiZhang(m)
		there := slopeAt(points, next)
		if step, ok := here.newton(); ok {
			for range 8 {
				to := r2.Add(m, step)
				if s := slopeAt(points, to); s.better(there) {
					next, there = to, s
					break
				}
				step = r2.Scale(.5, step)
			}
		}
		if !there.better(here) {
			break
		}
		m, here = next, there
	}
	return m, -1
}

// better tells whether the sum is smaller at s than at o or, where rounding
// hides that, the pull is: near the end sums agree to the last bits while the
// gradient still shrinks.
func (s slope) better(o slope) bool {
	if math.Abs(s.sum-o.sum) > 1e-15*o.sum {
		return s.sum < o.sum
	}
	return r2.Norm(s.gradient)-s.weight < r2.Norm(o.gradient)-o.weight
}

// A slope describes the sum of distances around one place.
type slope struct {
	sum      float64 // of the distances
	gradient Point   // over the shots that are not at the place itself
	xx, xy   float64 // second derivatives
	yy       float64
	target   Point   // mean of those shots, weighted by 1/distance
	weight   float64 // number of shots at the place itself
	nearest  int     // index of the nearest shot
}

func slopeAt(points []Point, m Point) slope {
	var s slope
	var inverse float64
	least := math.Inf(1)
	for i, p := range points {
		dx, dy := p.X-m.X, p.Y-m.Y
		d := math.Sqrt(dx*dx + dy*dy)
		if d < least {
			least, s.nearest = d, i
		}
		if d == 0 {
			s.weight++
			continue
		}
		w := 1 / d
		ux, uy := dx*w, dy*w
		s.sum += d
		s.gradient.X -= ux
		s.gradient.Y -= uy
		s.xx += w * uy * uy
		s.xy -= w * ux * uy
		s.yy += w * ux * ux
		s.target.X += p.X * w
		s.target.Y += p.Y * w
		inverse += w
	}
	if inverse > 0 {
		s.target = r2.Scale(1/inverse, s.target)
	}
	return s
}

// newton returns Newton's step; ok is false where it has none to offer.
func (s slope) newton() (step Point, ok bool) {
	det := s.xx*s.yy - s.xy*s.xy
	if s.weight > 0 || !(det > 0) {
		return Point{}, false
	}
	return Point{
		X: -(s.yy*s.gradient.X - s.xy*s.gradient.Y) / det,
		Y: -(s.xx*s.gradient.Y - s.xy*s.gradient.X) / det,
	}, true
}

// vardiZhang returns a place with a smaller sum of distances than m, unless m
// is the median.
func (s slope) vardiZhang(m Point) Point {
	pull := r2.Norm(s.gradient)
	if s.weight == 0 || pull == 0 {
		return s.target
	}
	stay := min(1, s.weight/pull)
	return r2.Add(r2.Scale(1-stay, s.target), r2.Scale(stay, m))
}

// isMedian tells whether shot k is the geometric median: the pull of the
// others must not exceed the number of shots that lie there.
func isMedian(points []Point, k int) bool {
	s := slopeAt(points, points[k])
	return r2.Norm(s.gradient) <= s.weight*(1+1e-14)
}

// MeanDistance returns the mean distance of the shots from p, in the unit of
// the points.
func (g *Group) MeanDistance(p Point) float64 {
	var sum float64
	for _, q := range g.points {
		sum += math.Hypot(q.X-p.X, q.Y-p.Y) / float64(g.N())
	}
	return sum
}
