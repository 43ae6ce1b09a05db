package dispersion

import (
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

const (
	exactLimit  = 64  // shots up to which the best subset is proven: they fit the bits of one word
	nestedLimit = 600 // shots up to which every random start sees all of them
	keptStarts  = 10  // the best starts that are followed to the end
)

// standardised returns the points with the median of each axis at 0 and its
// median absolute deviation at 1, so that determinants neither overflow nor
// lose digits to a distant origin. An axis of which most values are equal gets
// its mean deviation instead.
func standardised(points []Point) (out []Point, origin Point, sx, sy float64) {
	out = make([]Point, len(points))
	values := make([]float64, len(points))
	for axis := range 2 {
		for i, p := range points {
			values[i] = [2]float64{p.X, p.Y}[axis]
		}
		slices.Sort(values)
		centre := values[len(values)/2]
		var mean float64
		for i, v := range values {
			values[i] = math.Abs(v - centre)
			mean += values[i] / float64(len(values))
		}
		slices.Sort(values)
		size := values[len(values)/2]
		if size < 1e-12*mean {
			size = mean
		}
		if size == 0 {
			size = 1 // all values are equal, and remain so
		}
		if axis == 0 {
			origin.X, sx = centre, size
		} else {
			origin.Y, sy = centre, size
		}
	}
	for i, p := range points {
		out[i] = Point{X: (p.X - origin.X) / sx, Y: (p.Y - origin.Y) / sy}
	}
	return out, origin, sx, sy
}

// sums are the raw sums over a subset of standardised points.
type sums struct{ n, xx, xy, yy, x, y float64 }

func (s *sums) add(p Point) {
	s.n++
	s.xx += float64(p.X * p.X)
	s.xy += float64(p.X * p.Y)
	s.yy += float64(p.Y * p.Y)
	s.x += p.X
	s.y += p.Y
}

// scatter returns the centred sums of products.
func (s *sums) scatter() (xx, xy, yy float64) {
	return s.xx - float64(s.x*s.x)/s.n, s.xy - float64(s.x*s.y)/s.n, s.yy - float64(s.y*s.y)/s.n
}

// det returns the determinant of the scatter, at least 0.
func (s *sums) det() float64 {
	xx, xy, yy := s.scatter()
	return max(0, float64(xx*yy)-float64(xy*xy))
}

// A concentrator improves subsets of its points by C-steps.
type concentrator struct {
	points   []Point
	distance []float64
	sorted   []float64
}

func newConcentrator(points []Point) *concentrator {
	return &concentrator{points: points, distance: make([]float64, len(points)), sorted: make([]float64, len(points))}
}

// step returns the sums of the h points nearest to the centre of s in its own
// metric; their determinant is not above that of s, if s held h points. Ties
// at the edge go to the lower index. With in not nil, the indices are put there.
func (c *concentrator) step(s sums, h int, in []int) (sums, []int) {
	xx, xy, yy := s.scatter()
	mx, my := s.x/s.n, s.y/s.n
	for i, p := range c.points {
		dx, dy := p.X-mx, p.Y-my
		c.distance[i] = float64(yy*dx*dx) - float64(2*xy*dx*dy) + float64(xx*dy*dy)
	}
	copy(c.sorted, c.distance)
	limit := kthSmallest(c.sorted, h-1)
	spare := h
	for _, d := range c.distance {
		if d < limit {
			spare--
		}
	}
	var out sums
	in = in[:0]
	for i, d := range c.distance {
		if d < limit || d == limit && spare > 0 {
			if d == limit {
				spare--
			}
			out.add(c.points[i])
			in = append(in, i)
		}
	}
	return out, in
}

// kthSmallest returns the value at index k of the sorted values; it reorders
// them. NaNs are not expected.
func kthSmallest(v []float64, k int) float64 {
	lo, hi := 0, len(v)-1
	for lo < hi {
		pivot := v[lo+(hi-lo)/2]
		i, j := lo, hi
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for v[j] > pivot {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return v[k]
		}
	}
	return v[k]
}

// A start is a subset on its way down.
type start struct {
	at  sums
	det float64
}

// randomStarts draws small subsets, takes two C-steps from each and keeps the
// best.
func (c *concentrator) randomStarts(count, h int, s *resample.Stream, buffer []int) []start {
	var kept []start
	for range count {
		var at sums
		// Three shots, and more while those are on one line.
		for tries := 0; tries < 20 && (at.n < 3 || flatSums(&at)); tries++ {
			at.add(c.points[s.Below(len(c.points))])
		}
		if flatSums(&at) {
			continue
		}
		at, buffer = c.step(at, h, buffer)
		at, buffer = c.step(at, h, buffer)
		kept = keep(kept, start{at, at.det()})
	}
	return kept
}

func flatSums(s *sums) bool {
	xx, xy, yy := s.scatter()
	return Cov{XX: xx, XY: xy, YY: yy}.flat()
}

// keep inserts s into the best starts, unless it is among them already.
func keep(kept []start, s start) []start {
	at := 0
	for at < len(kept) && kept[at].det < s.det {
		at++
	}
	if at < len(kept) && kept[at].det == s.det {
		return kept
	}
	kept = slices.Insert(kept, at, s)
	return kept[:min(len(kept), keptStarts)]
}

// advance takes two C-steps from each start and keeps what is best then.
func (c *concentrator) advance(starts []start, h int, buffer []int) []start {
	var kept []start
	for _, k := range starts {
		at, _ := c.step(k.at, h, buffer)
		at, _ = c.step(at, h, buffer)
		kept = keep(kept, start{at, at.det()})
	}
	return kept
}

// converge takes C-steps until the determinant no longer falls.
func (c *concentrator) converge(s start, h int, in []int) (start, []int) {
	for range 200 {
		next, members := c.step(s.at, h, in)
		in = members
		det := next.det()
		done := det >= s.det && s.at.n == float64(h)
		s = start{next, det}
		if done || det == 0 {
			break
		}
	}
	return s, in
}

// randomStarts is how many starts are enough for n points: few points have few
// ways to go wrong, and the proof puts right what remains.
func randomStarts(n int) int {
	if n <= exactLimit {
		return 100
	}
	return 500
}

// fastMCD returns the h points with the smallest determinant that random
// starts lead to.
func fastMCD(points []Point, h, count int, s *resample.Stream) []int {
	whole := newConcentrator(points)
	buffer := make([]int, 0, len(points))
	var kept []start
	if len(points) <= nestedLimit {
		kept = whole.randomStarts(count, h, s, buffer)
	} else {
		kept = whole.advance(nestedStarts(points, h, count, s), h, buffer)
		kept = kept[:min(len(kept), 4)]
	}
	var best []int
	least := math.Inf(1)
	for _, k := range kept {
		var end start
		if end, buffer = whole.converge(k, h, buffer); end.det < least {
			least, best = end.det, slices.Clone(buffer)
		}
	}
	return best
}

// nestedStarts finds the starts for many points in up to five disjoint random
// parts of at most 300, joins the parts and keeps what is best there.
func nestedStarts(points []Point, h, count int, s *resample.Stream) []start {
	order := make([]int, len(points))
	for i := range order {
		order[i] = i
	}
	parts := min(5, len(points)/300)
	size := min(len(points)/parts, 300)
	pool := make([]Point, parts*size)
	for i := range pool {
		j := i + s.Below(len(order)-i)
		order[i], order[j] = order[j], order[i]
		pool[i] = points[order[i]]
	}
	share := float64(h) / float64(len(points))
	buffer := make([]int, 0, len(pool))
	joined := newConcentrator(pool)
	hPool := int(math.Ceil(share * float64(len(pool))))
	var kept []start
	for p := range parts {
		part := newConcentrator(pool[p*size : (p+1)*size])
		kept = append(kept, part.randomStarts(count/parts, int(math.Ceil(share*float64(size))), s, buffer)...)
	}
	return joined.advance(kept, hPool, buffer)
}
