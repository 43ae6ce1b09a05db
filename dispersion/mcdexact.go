package dispersion

import (
	"math"
	"math/bits"
	"slices"

	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// detTie is how near two determinants are, relatively, to count as equal.
const detTie = 1e-9

// smallestDeterminant returns the indices of the h points with the smallest
// determinant, and whether that is proven, for at most exactLimit points.
func smallestDeterminant(points []Point, h int, s *resample.Stream) (subset []int, proven bool) {
	n := len(points)
	if h == n {
		subset = make([]int, n)
		for i := range subset {
			subset[i] = i
		}
		return subset, true
	}
	first := fastMCD(points, h, randomStarts(n), s)
	if binomial(n, h) <= 20000 {
		return enumerate(points, first), true
	}
	return searchCones(points, first, mostCuts)
}

// flatSubset tells whether h of a few points are on one line. Of any h points
// two are among the first n-h+2.
func flatSubset(points []Point, h int) bool {
	n := len(points)
	if n > exactLimit {
		return false // the determinant found tells
	}
	for i := range n - h + 2 {
		for j := range i {
			a, b := points[j], points[i]
			ux, uy := b.X-a.X, b.Y-a.Y
			on := 0
			for k, p := range points {
				vx, vy := p.X-a.X, p.Y-a.Y
				cross := ux*vy - uy*vx
				if cross*cross <= 1e-26*(ux*ux+uy*uy)*(vx*vx+vy*vy) {
					on++
				}
				if on+n-1-k < h {
					break
				}
			}
			if on >= h && (ux != 0 || uy != 0) {
				return true
			}
		}
	}
	return identical(points, h)
}

// identical tells whether h of the points are one point.
func identical(points []Point, h int) bool {
	for i := range len(points) - h + 1 {
		same := 0
		for _, p := range points {
			if p == points[i] {
				same++
			}
		}
		if same >= h {
			return true
		}
	}
	return false
}

// binomial returns n over h, or the largest float64-exact value below it.
func binomial(n, h int) float64 {
	b := 1.0
	for i := range h {
		b *= float64(n-i) / float64(i+1)
	}
	return b
}

// A record is the best subset so far, with the rule for ties.
type record struct {
	points []Point
	det    float64
	set    uint64
	twin   []uint64 // the points at one place, for places with more than one
}

func newRecord(points []Point) *record {
	r := &record{points: points, det: math.Inf(1)}
	seen := map[Point]uint64{}
	for i, p := range points {
		seen[p] |= 1 << i
	}
	for _, p := range points {
		if set := seen[p]; bits.OnesCount64(set) > 1 {
			r.twin = append(r.twin, set)
			delete(seen, p)
		}
	}
	return r
}

// canonical returns the set with the lowest indices among points at one place.
func (r *record) canonical(set uint64) uint64 {
	for _, t := range r.twin {
		k := bits.OnesCount64(set & t)
		set &^= t
		for ; k > 0; k-- {
			low := t & -t
			set |= low
			t &^= low
		}
	}
	return set
}

// offer takes a subset with the given scatter if it is better, or as good and
// first in order.
func (r *record) offer(xx, xy, yy float64, set uint64) {
	det := xx*yy - xy*xy
	if det > r.det*(1+detTie) {
		return
	}
	if det < 1e-6*xx*yy {
		det = r.carefulDet(set) // a far point has cost the digits
	}
	if det > r.det*(1+detTie) {
		return
	}
	set = r.canonical(set)
	// The set that holds the lowest index on which two differ comes first.
	diff := set ^ r.set
	first := diff != 0 && set&(diff&-diff) != 0
	if det < r.det*(1-detTie) || first {
		r.set = set
		r.det = min(r.det, det)
	}
}

// carefulDet returns the determinant of a subset as the sum over its pairs of
// the squared cross products of their offsets from the mean (Cauchy and Binet),
// in which nothing cancels.
func (r *record) carefulDet(set uint64) float64 {
	var in []Point
	for s := set; s != 0; s &= s - 1 {
		in = append(in, r.points[bits.TrailingZeros64(s)])
	}
	m := momentsOf(in).Mean
	var det float64
	for i, p := range in {
		for _, q := range in[:i] {
			cross := (p.X-m.X)*(q.Y-m.Y) - (q.X-m.X)*(p.Y-m.Y)
			det += cross * cross
		}
	}
	return det
}

func (r *record) indices() []int {
	var out []int
	for s := r.set; s != 0; s &= s - 1 {
		out = append(out, bits.TrailingZeros64(s))
	}
	return out
}

func sumsOf(points []Point, subset []int) (s sums, set uint64) {
	for _, i := range subset {
		s.add(points[i])
		set |= 1 << i
	}
	return s, set
}

// enumerate visits the subsets in depth, nearest points first, and leaves a
// branch once its points alone have too large a determinant: a further point
// never lowers it.
func enumerate(points []Point, first []int) []int {
	best := newRecord(points)
	s, set := sumsOf(points, first)
	xx, xy, yy := s.scatter()
	best.offer(xx, xy, yy, set)
	order := nearestFirst(points, &s)
	h := len(first)
	var visit func(at sums, set uint64, next int)
	visit = func(at sums, set uint64, next int) {
		if at.n >= 3 && at.det() > best.det*(1+detTie) {
			return
		}
		left := h - int(at.n)
		if left == 0 {
			xx, xy, yy := at.scatter()
			best.offer(xx, xy, yy, set)
			return
		}
		for i := next; i+left <= len(order); i++ {
			with := at
			with.add(points[order[i]])
			visit(with, set|1<<order[i], i+1)
		}
	}
	visit(sums{}, 0, 0)
	return best.indices()
}

// nearestFirst orders the points by their distance from a subset's centre in
// its own metric.
func nearestFirst(points []Point, s *sums) []int {
	xx, xy, yy := s.scatter()
	c, m := Cov{XX: xx, XY: xy, YY: yy}, Point{X: s.x / s.n, Y: s.y / s.n}
	order := make([]int, len(points))
	distance := make([]float64, len(points))
	for i, p := range points {
		order[i], distance[i] = i, c.squaredDistance(m, p)
	}
	slices.SortStableFunc(order, func(i, j int) int {
		if distance[i] < distance[j] {
			return -1
		}
		if distance[i] > distance[j] {
			return 1
		}
		return 0
	})
	return order
}
