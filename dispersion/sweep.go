package dispersion

import (
	"cmp"
	"math"
	"slices"
)

// A crossing is a line through the centre of a sweep and at least one other
// shot, met when a line turns half a circle counter-clockwise about the
// centre, from pointing along +X.
type crossing struct {
	shot int // the lowest index of the shots on it, the centre's apart
	// ahead counts the shots on the half that points into the upper
	// half-plane, which pass from the left to the right of the turning line;
	// behind counts those on the other half.
	ahead, behind int
}

// A sweep is all the lines through one shot in order of angle.
type sweep struct {
	same      int  // other shots at the centre itself
	again     bool // one of them comes before the centre's own
	left      int  // shots left of the line as it starts
	others    int  // shots not at the centre
	crossings []crossing
	spokes    []spoke // work space
	buckets   []int32
	sorted    []spoke
}

// A spoke is the direction to one shot, turned by 180° where it points down.
type spoke struct {
	key   float64 // grows with the angle in [0, π)
	shot  int32
	ahead bool // not turned
}

// around fills s with the lines through the shot at centre. It sorts by
// quotients, and asks the plane only where those are too close to tell.
func (s *sweep) around(p *plane, centre int) {
	s.same, s.left, s.again = 0, 0, false
	s.spokes, s.crossings = s.spokes[:0], s.crossings[:0]
	o, at := p.points[centre], p.units[centre]
	nearest := math.Inf(1)
	for i, q := range p.points {
		if i == centre {
			continue
		}
		if q == o {
			s.same++
			s.again = s.again || i < centre
			continue
		}
		dx, dy := p.units[i].X-at.X, p.units[i].Y-at.Y
		// Coordinates as given compare exactly; units may have lost it.
		ahead := q.Y > o.Y || q.Y == o.Y && q.X > o.X
		if ahead {
			s.left++
		} else {
			dx, dy = -dx, -dy
		}
		length := math.Abs(dx) + math.Abs(dy)
		nearest = min(nearest, length)
		s.spokes = append(s.spokes, spoke{key: 1 - dx/length, shot: int32(i), ahead: ahead})
	}
	s.others = len(s.spokes)
	compare := func(a, b spoke) int {
		turn := p.turn(centre, int(a.shot), int(b.shot))
		if a.ahead != b.ahead {
			turn = -turn
		}
		return -turn // b to the left of a comes later
	}
	tied := 2 * (1.0/(1<<50) + 2*p.doubt/nearest)
	if !(tied < 1e-6) {
		slices.SortStableFunc(s.spokes, compare)
		s.group(s.spokes, compare)
		return
	}
	s.dealByKey()
	for from := 0; from < len(s.sorted); {
		to := from + 1
		for to < len(s.sorted) && s.sorted[to].key-s.sorted[to-1].key <= tied {
			to++
		}
		if to-from > 1 {
			slices.SortStableFunc(s.sorted[from:to], compare)
		}
		s.group(s.sorted[from:to], compare)
		from = to
	}
}

// group appends the crossings of spokes in order.
func (s *sweep) group(spokes []spoke, compare func(a, b spoke) int) {
	for i, r := range spokes {
		if i == 0 || compare(spokes[i-1], r) != 0 {
			s.crossings = append(s.crossings, crossing{shot: int(r.shot)})
		}
		c := &s.crossings[len(s.crossings)-1]
		c.shot = min(c.shot, int(r.shot))
		if r.ahead {
			c.ahead++
		} else {
			c.behind++
		}
	}
}

// dealByKey puts the spokes into s.sorted by dealing them to as many buckets as
// there are spokes, which takes linear time unless they crowd.
func (s *sweep) dealByKey() {
	n := len(s.spokes)
	perKey := float64(n) / 2
	bucket := func(r spoke) int { return min(n-1, int(r.key*perKey)) }
	s.sorted = slices.Grow(s.sorted[:0], n)[:n]
	s.buckets = slices.Grow(s.buckets[:0], n+1)[:n+1]
	clear(s.buckets)
	for _, r := range s.spokes {
		s.buckets[bucket(r)+1]++
	}
	for i := range n {
		s.buckets[i+1] += s.buckets[i]
	}
	for _, r := range s.spokes {
		b := bucket(r)
		s.sorted[s.buckets[b]] = r
		s.buckets[b]++ // ends as the start of the next bucket
	}
	from := int32(0)
	for _, to := range s.buckets[:n] {
		if to-from > 1 {
			sortByKey(s.sorted[from:to])
		}
		from = to
	}
}

func sortByKey(spokes []spoke) {
	if len(spokes) > 12 {
		slices.SortFunc(spokes, func(a, b spoke) int { return cmp.Compare(a.key, b.key) })
		return
	}
	for i := 1; i < len(spokes); i++ {
		for j := i; j > 0 && spokes[j].key < spokes[j-1].key; j-- {
			spokes[j], spokes[j-1] = spokes[j-1], spokes[j]
		}
	}
}

// least returns the smallest number of shots, those at the centre apart, on
// either side of a line through the centre that meets no other shot.
func (s *sweep) least() int {
	left := s.left
	least := min(left, s.others-left)
	for _, c := range s.crossings {
		left += c.behind - c.ahead
		least = min(least, left, s.others-left)
	}
	return least
}
