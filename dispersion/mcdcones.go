package dispersion

import "math"

// mostCuts is how many cones are cut before the proof is given up, after about
// a third of a second. Normal groups of up to 64 shots take some 20,000, heavy
// tails and wild shots up to ten times as many.
const mostCuts = 400_000

// searchCones proves which h points have the smallest determinant without
// looking at every subset. For a symmetric positive W and a vector v let
//
//	F(W, v) = sum of the h smallest of xᵀWx - 2v·x over the points x.
//
// F is the least of the linear functions that belong to the subsets H, hence
// concave, and for one subset with scatter S the least value over v and
// det W = 1 of its own function plus h·vᵀW⁻¹v is 2√det S. So a determinant
// below B²/4 exists only where
//
//	G(W, v) = F(W, v) + h·vᵀW⁻¹v - B√det W < 0.
//
// The cone of all (W, v) is cut into simplicial cones with five edges. On each,
// F lies above the linear function through its values on the edges, and the
// two other terms, being convex and of degree 1, lie above their tangent at any
// one place. Where tangent and F together are not negative on any edge, G is
// nowhere negative and the cone is done. It is also done where one subset is
// the nearest on all five edges, for F is linear there. Any other cone is cut
// in two. Work hardly grows with n, since only the subsets that an ellipse can
// cut out, and of those the few that come near the best, play a part.
//
// The idea owes to: M. Schyns, G. Haesbroeck, F. Critchley, "RelaxMCD: Smooth
// Optimisation for the Minimum Covariance Determinant Estimator", Computational
// Statistics & Data Analysis 54(4), 2010, pp. 843-857 (concavity), and to R.
// Horst, H. Tuy, Global Optimization, 3rd ed., Springer 1996 (conical
// subdivision).
func searchCones(points []Point, first []int, most int) (subset []int, proven bool) {
	c := newConeSearch(points, first)
	for _, cone := range c.cover() {
		if !c.done(&cone) {
			c.open = append(c.open, cone)
		}
	}
	for cut := 0; len(c.open) > 0; cut++ {
		if cut == most {
			return c.best.indices(), false
		}
		last := len(c.open) - 1
		cone := c.open[last]
		c.open = c.open[:last]
		i, j := c.edgeToCut(&cone)
		middle := c.between(cone[i], cone[j])
		for _, k := range [2]int{i, j} {
			half := cone
			half[k] = middle
			if !c.done(&half) {
				c.open = append(c.open, half)
			}
		}
	}
	return c.best.indices(), true
}

// five holds one number for each of x², xy, y², x, y. A pair (W, v) is written
// as {W11, 2·W12, W22, -2·v1, -2·v2}, so that its value at a point is the
// product with the point's five.
type five [5]float64

func (a *five) dot(b *five) float64 {
	return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] + a[3]*b[3] + a[4]*b[4]
}

// A ray is one edge of a cone.
type ray struct {
	at      five
	set     uint64  // the h points with the smallest values
	moments five    // sum of their fives
	value   float64 // F
}

type simplicialCone [5]*ray

type coneSearch struct {
	points []five // in the metric of the first subset: centre 0, scatter h·I
	h      int
	best   *record // in that metric
	open   []simplicialCone
	free   []ray // rays are handed out from here
	reach  float64
}

func newConeSearch(points []Point, first []int) *coneSearch {
	s, set := sumsOf(points, first)
	c := &coneSearch{points: make([]five, len(points)), h: len(first)}
	h := float64(c.h)
	xx, xy, yy := s.scatter()
	l11 := math.Sqrt(xx / h)
	l21 := xy / h / l11
	l22 := math.Sqrt(yy/h - l21*l21)
	far := make([]float64, len(points))
	white := make([]Point, len(points))
	for i, p := range points {
		u := (p.X - s.x/s.n) / l11
		v := (p.Y - s.y/s.n - l21*u) / l22
		c.points[i] = five{u * u, u * v, v * v, u, v}
		far[i] = math.Hypot(u, v)
		white[i] = Point{X: u, Y: v}
	}
	c.best = newRecord(white)
	c.best.offer(h, 0, h, set)
	// No mean of h points is farther away than the mean distance of the h
	// farthest.
	n := len(points)
	kthSmallest(far, n-c.h)
	for _, d := range far[n-c.h:] {
		c.reach += d / h
	}
	return c
}

// cover returns cones that hold every W with trace 2 and every v = Wm for a
// reachable mean m: the 24 simplices of the box of x, y in [-1, 1] with
// W = (1+x, y; y, 1-x) and v in ±2·reach.
func (c *coneSearch) cover() []simplicialCone {
	corner := make([]*ray, 16)
	for k := range corner {
		side := func(bit int) float64 { return float64(2*(k>>bit&1) - 1) }
		corner[k] = c.ray(five{1 + side(0), 2 * side(1), 1 - side(0), -4 * c.reach * side(2), -4 * c.reach * side(3)})
	}
	var cones []simplicialCone
	for a := range 4 {
		for b := range 4 {
			for d := range 4 {
				e := 6 - a - b - d
				if a == b || a == d || b == d {
					continue
				}
				cones = append(cones, simplicialCone{corner[0], corner[1<<a], corner[1<<a|1<<b], corner[1<<a|1<<b|1<<d], corner[1<<a|1<<b|1<<d|1<<e]})
			}
		}
	}
	return cones
}

func (c *coneSearch) between(a, b *ray) *ray {
	var at five
	for k := range at {
		at[k] = (a.at[k] + b.at[k]) / 2
	}
	r := c.ray(at)
	h := float64(c.h)
	m := &r.moments
	xx, xy, yy := m[0]-m[3]*m[3]/h, m[1]-m[3]*m[4]/h, m[2]-m[4]*m[4]/h
	c.best.offer(xx, xy, yy, r.set)
	return r
}

// ray evaluates F.
func (c *coneSearch) ray(at five) *ray {
	if len(c.free) == 0 {
		c.free = make([]ray, 512)
	}
	r := &c.free[0]
	c.free = c.free[1:]
	r.at = at
	var values, sorted [exactLimit]float64
	n := len(c.points)
	for i := range c.points {
		values[i] = c.points[i].dot(&at)
	}
	sorted = values
	limit := kthSmallest(sorted[:n], c.h-1)
	spare := c.h
	for i := range n {
		if values[i] < limit {
			spare--
			r.set |= 1 << i
			r.take(&c.points[i])
		}
	}
	for i := 0; spare > 0; i++ {
		if values[i] == limit {
			spare--
			r.set |= 1 << i
			r.take(&c.points[i])
		}
	}
	r.value = r.moments.dot(&at)
	return r
}

func (r *ray) take(p *five) {
	for k := range p {
		r.moments[k] += p[k]
	}
}

// edgeToCut returns the two edges between which the bounds lose most: by the
// kink of F, and by the curvature of the rest, which grows with the square of
// the distance.
func (c *coneSearch) edgeToCut(cone *simplicialCone) (i, j int) {
	most := -1.0
	for b := range 5 {
		for a := range b {
			p, q := cone[a], cone[b]
			var loss float64
			for k := range p.at {
				d := p.at[k] - q.at[k]
				loss += d * d
			}
			loss *= 1.2 * float64(c.h)
			if p.set != q.set {
				loss += p.moments.dot(&q.at) - q.value + q.moments.dot(&p.at) - p.value
			}
			if loss > most {
				most, i, j = loss, a, b
			}
		}
	}
	return i, j
}

// done tells whether the cone holds no better subset than the best that has
// been seen.
func (c *coneSearch) done(cone *simplicialCone) bool {
	one := true
	var width float64
	for _, r := range cone[1:] {
		one = one && r.set == cone[0].set
		for k := range r.at {
			width = max(width, math.Abs(r.at[k]-cone[0].at[k]))
		}
	}
	if one {
		return true
	}
	h := float64(c.h)
	bound := math.Sqrt(c.best.det * (1 + 2*detTie)) // half of B
	weights := five{1, 1, 1, 1, 1}
	// The tangent may be taken anywhere. Near matrices without inverse it is
	// steep, so it is moved into the cone by a share of the simplex's width,
	// and toward the edges where it failed.
	for _, inward := range [4]float64{.2, .05, .3, .1} {
		var at five
		var total float64
		for e, r := range cone {
			total += weights[e]
			for k := range at {
				at[k] += weights[e] * r.at[k]
			}
		}
		at[0] += inward * width * total
		at[2] += inward * width * total
		det := at[0]*at[2] - at[1]*at[1]/4
		if !(det > 0 && at[0] > 0) {
			continue
		}
		mx := (at[1]*at[4]/2 - at[2]*at[3]) / (2 * det)
		my := (at[1]*at[3]/2 - at[0]*at[4]) / (2 * det)
		r := bound / math.Sqrt(det)
		tangent := five{-h*mx*mx - r*at[2], -h*mx*my + r*at[1]/2, -h*my*my - r*at[0], -h * mx, -h * my}
		worst, where := 0.0, -1
		for e, edge := range cone {
			if g := edge.value + tangent.dot(&edge.at); g < worst {
				worst, where = g, e
			}
		}
		if where < 0 {
			return true
		}
		weights[where] = 2*weights[where] + 1
	}
	return outside(cone)
}

// outside tells whether a straight cut parts the cone from all positive W.
func outside(cone *simplicialCone) bool {
	var x, y float64
	for _, r := range cone {
		x += (r.at[0] - r.at[2]) / 2
		y += r.at[1] / 2
	}
	size := math.Hypot(x, y)
	for _, r := range cone {
		if x*(r.at[0]-r.at[2])+y*r.at[1] < size*(r.at[0]+r.at[2]) {
			return false
		}
	}
	return size > 0
}
