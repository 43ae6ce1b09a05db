package main

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// A pair is a before and an after from one law: nothing has changed, which the
// methods don't know. Gains follow a shift and ratios a change of size as they
// are, so what their intervals hold here they hold at any true gain or ratio.
type pair struct {
	before, after *dispersion.Group
	again         *dispersion.Group // as many shots as before, from the same law
	narrow        *dispersion.Group // after, three quarters as wide about its true mean
}

// Narrower is how wide the narrow group of a pair is.
const narrower = .75

func drawPair(s shape, n [2]int, r *rand.Rand) (pair, error) {
	var p pair
	for _, g := range []struct {
		group **dispersion.Group
		n     int
	}{{&p.before, n[0]}, {&p.after, n[1]}, {&p.again, n[0]}} {
		points := make([]dispersion.Point, g.n)
		for i := range points {
			points[i] = s.draw(r)
		}
		var err error
		if *g.group, err = dispersion.NewGroup(points); err != nil {
			return pair{}, err
		}
	}
	points := p.after.Points()
	mean := dispersion.Point{X: middle.X, Y: middle.Y - s.short}
	for i, q := range points {
		points[i] = dispersion.Point{X: mean.X + narrower*(q.X-mean.X), Y: mean.Y + narrower*(q.Y-mean.Y)}
	}
	var err error
	p.narrow, err = dispersion.NewGroup(points)
	return p, err
}

// An answer is what a method makes of one pair.
type answer struct {
	holds bool    // its interval or region holds the truth
	width float64 // of the interval, on the log scale for a ratio; of a region the radius
	p     float64
	hasP  bool
}

// A rival is one default interval of two groups under study.
type rival struct {
	name   string
	asks   string // of what it is
	normal bool   // it is meant to hold on normal shots alone
	least  int    // fewest shots a side
	every  [4]int // it sees one in so many pairs, where the larger group has up to 5, 10, 20 and more shots
	try    func(ctx context.Context, p pair) (answer, error)
}

func carries(g *dispersion.Group) []float64 {
	var c []float64
	for _, p := range g.Points() {
		c = append(c, p.Y)
	}
	return c
}

// A twoCell is one line of the result.
type twoCell struct {
	method   string
	shape    string
	n        [2]int
	pairs    int // simulated
	coverage float64
	size     float64 // share of p-values up to 0.05
	hasP     bool
	width    float64 // median
}

var twoCounts = [][2]int{{5, 5}, {10, 10}, {20, 20}, {50, 50}, {10, 30}}

// The most pairs that any method sees.
const twoPairs = 4000

func twoGroups(out string, seed uint64) error {
	cells, err := simulatePairs(seed, shapes, twoCounts, twoPairs, rivals)
	if err != nil {
		return err
	}
	page := twoGroupsPage(seed, cells)
	for _, part := range []func(seed uint64) (string, error){ratesPart, spreadPart, robustPart, pickedPart, verdictPart, looksPart, fadingPart} {
		text, err := part(seed)
		if err != nil {
			return err
		}
		page += text
	}
	return writeTwoGroups(out, page, cells)
}

// simulatePairs tries every method on the same pairs of every shape and count,
// slow ones on a part of them.
func simulatePairs(seed uint64, shapes []shape, counts [][2]int, pairs int, rivals []rival) ([]twoCell, error) {
	ctx := context.Background()
	var cells []twoCell
	for si, s := range shapes {
		for _, n := range counts {
			fmt.Fprintf(os.Stderr, "two-groups: %s, %d against %d\n", s.name, n[0], n[1])
			r := rand.New(rand.NewPCG(seed, uint64(1e6*(si+1)+1000*n[0]+n[1])))
			seen := make([]twoTally, len(rivals))
			for round := range pairs {
				p, err := drawPair(s, n, r)
				if err != nil {
					return nil, err
				}
				for i, m := range rivals {
					if min(n[0], n[1]) < m.least || round%m.oneIn(n) != 0 {
						continue
					}
					a, err := m.try(ctx, p)
					if err := seen[i].add(a, noneIfLost(err)); err != nil {
						return nil, fmt.Errorf("%s on %s, %d against %d: %w", m.name, s.name, n[0], n[1], err)
					}
				}
			}
			for i, m := range rivals {
				if seen[i].tries() > 0 {
					cells = append(cells, seen[i].cell(m.name, s.name, n))
				}
			}
		}
	}
	return cells, nil
}

func (m rival) oneIn(n [2]int) int {
	at, _ := slices.BinarySearch([]int{5, 10, 20}, max(n[0], n[1]))
	return max(1, m.every[at])
}

// noneIfLost tells a pair that a method rightly refuses from a fault: shots
// nearly on one line, resamples of five shots without a value, or a ball so wild
// that it flies backwards and has no angle.
func noneIfLost(err error) error {
	if err == nil || err == errNone {
		return err
	}
	if errors.As(err, new(*compare.NoValueError)) || errors.As(err, new(*compare.ValueError)) {
		return errNone
	}
	return noneIfUnanswerable(err)
}

// A twoTally counts how often a method held the truth and called it untrue.
type twoTally struct {
	tally
	ps, small int
}

func (t *twoTally) add(a answer, err error) error {
	if err == nil && a.hasP {
		t.ps++
		if a.p <= .05 {
			t.small++
		}
	}
	return t.tally.add(a.holds, a.width, err)
}

func (t *twoTally) cell(method, shape string, n [2]int) twoCell {
	c := twoCell{method: method, shape: shape, n: n, pairs: t.tries(), width: t.width(), coverage: float64(t.held) / float64(t.tries())}
	if t.ps > 0 {
		c.hasP, c.size = true, float64(t.small)/float64(t.ps)
	}
	return c
}

func against(n [2]int) string {
	if n[0] == n[1] {
		return fmt.Sprint(n[0])
	}
	return strings.Trim(fmt.Sprint(n[0], " v ", n[1]), " ")
}
