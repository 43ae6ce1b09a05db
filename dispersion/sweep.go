package dispersion

import (
	"cmp"
	"math"
	"slices"
)

// A sweep is all the lines through one shot, its centre, in order of angle: a
// line turns half a circle counter-clockwise about it, from pointing along +X.
type sweep struct {
	same   int     // other shots at the centre itself
	again  bool    // one of them comes before the centre's own
	left   int     // shots left of the line as it starts
	spokes []spoke // to the shots elsewhere, in order
	dealt  []spoke // work space
	ends   []int32 // work space
}

// A spoke is the direction to one shot, turned by 180° where it points down.
type spoke struct {
	key    float64 // grows with the angle in [0, π)
	shot   int32
	ahead  bool // not turned: the shot passes from the left of the line to the right
	joined bool // on one line with the spoke before
}

// around fills s with the lines through the shot at centre. It sorts by
// quotients, and asks the plane only where those are too close to tell.
func (s *sweep) around(p *plane, centre int) {
	s.same, s.left, s.again = 0, 0, false
	spokes := slices.Grow(s.dealt[:0], len(p.points))
	o, at := p.points[centre], p.units[centre]
	nearest := math.Inf(1)
	for i, q := range p.points {
		if q == o {
			if i != centre {
				s.same++
				s.again = s.again || i < centre
			}
			continue
		}
		u := p.units[i]
		dx, dy := u.X-at.X, u.Y-at.Y
		// Coordinates as given compare exactly; units may have lost it.
		ahead := q.Y > o.Y || q.Y == o.Y && q.X > o.X
		if ahead {
			s.left++
		} else {
			dx, dy = -dx, -dy
		}
		length := math.Abs(dx) + math.Abs(dy)
		nearest = min(nearest, length)
		spokes = append(spokes, spoke{key: 1 - dx/length, shot: int32(i), ahead: ahead})
	}
	s.dealt = spokes
	s.spokes = slices.Grow(s.spokes[:0], len(spokes))[:len(spokes)]
	tied := 2 * (1.0/(1<<50) + 2*p.doubt/nearest)
	if !(tied < 1e-6) {
		copy(s.spokes, spokes)
		s.settle(p, centre, 0, len(spokes))
		return
	}
	s.sortByKey()
	for from := 0; from < len(s.spokes); {
		to := from + 1
		for to < len(s.spokes) && s.spokes[to].key-s.spokes[to-1].key <= tied {
			to++
		}
		if to-from > 1 {
			s.settle(p, centre, from, to)
		}
		from = to
	}
}

// settle sorts the spokes from, from+1, …, to-1 for certain, and finds which
// are on one line.
func (s *sweep) settle(p *plane, centre, from, to int) {
	close := s.spokes[from:to]
	compare := func(a, b spoke) int {
		turn := p.turn(centre, int(a.shot), int(b.shot))
		if a.ahead != b.ahead {
			turn = -turn
		}
		return -turn // b to the left of a comes later
	}
	slices.SortFunc(close, compare)
	for i := 1; i < len(close); i++ {
		close[i].joined = compare(close[i-1], close[i]) == 0
	}
}

// sortByKey sorts s.dealt into s.spokes: dealt to as many buckets as there are
// spokes, they are nearly in order, which takes linear time unless they crowd.
func (s *sweep) sortByKey() {
	n := len(s.dealt)
	perKey := float64(n) / 2
	s.ends = slices.Grow(s.ends[:0], n+1)[:n+1]
	clear(s.ends)
	for i := range s.dealt {
		s.ends[1+min(n-1, int(s.dealt[i].key*perKey))]++
	}
	crowd := int32(0)
	for i := range n {
		crowd = max(crowd, s.ends[i+1])
		s.ends[i+1] += s.ends[i]
	}
	for _, r := range s.dealt {
		b := min(n-1, int(r.key*perKey))
		s.spokes[s.ends[b]] = r
		s.ends[b]++
	}
	if crowd > 20 {
		slices.SortFunc(s.spokes, func(a, b spoke) int { return cmp.Compare(a.key, b.key) })
		return
	}
	for i := 1; i < n; i++ {
		r := s.spokes[i]
		j := i
		for ; j > 0 && r.key < s.spokes[j-1].key; j-- {
			s.spokes[j] = s.spokes[j-1]
		}
		s.spokes[j] = r
	}
}

// least returns the smallest number of shots, those at the centre apart, on
// either side of a line through the centre that meets no other shot.
func (s *sweep) least() int {
	left, others := s.left, len(s.spokes)
	least := min(left, others-left)
	for i, r := range s.spokes {
		if i > 0 && !r.joined {
			least = min(least, left, others-left)
		}
		if r.ahead {
			left--
		} else {
			left++
		}
	}
	return least // the last position is the first one turned round
}

// A crossing is a line through the centre of a sweep and at least one other
// shot.
type crossing struct {
	shot          int // the lowest index of the shots on it, the centre's apart
	ahead, behind int // shots on the half that points up, and on the other
	left          int // shots strictly to the left of its upward direction
}

// crossings returns the lines in order, in space that the caller lends.
func (s *sweep) crossings(space []crossing) []crossing {
	space = space[:0]
	left := s.left
	for i := 0; i < len(s.spokes); {
		c := crossing{shot: int(s.spokes[i].shot)}
		for first := i; i < len(s.spokes) && (i == first || s.spokes[i].joined); i++ {
			c.shot = min(c.shot, int(s.spokes[i].shot))
			if s.spokes[i].ahead {
				c.ahead++
			} else {
				c.behind++
			}
		}
		c.left = left - c.ahead
		left += c.behind - c.ahead
		space = append(space, c)
	}
	return space
}
