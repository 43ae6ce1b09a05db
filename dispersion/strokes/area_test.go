package strokes

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// starRing is a ring of lattice points around a middle, in the order of their
// direction, which does not cross itself.
func starRing(r *rand.Rand, corners, reach int) []dispersion.Point {
	directions := [][2]int{{4, 0}, {3, 2}, {2, 4}, {0, 3}, {-2, 3}, {-4, 1}, {-3, -2}, {-1, -4}, {1, -3}, {3, -3}}
	var ring []dispersion.Point
	for _, d := range directions[:corners] {
		k := 1 + r.IntN(reach)
		ring = append(ring, dispersion.Point{X: float64(d[0] * k), Y: float64(d[1] * k)})
	}
	return ring
}

// exactTurn is the sign of the turn from p over q to r, in whole numbers.
func exactTurn(p, q, r dispersion.Point) int {
	n := func(v float64) *big.Int { return big.NewInt(int64(v)) }
	a := new(big.Int).Mul(n(q.X-p.X), n(r.Y-p.Y))
	return a.Cmp(new(big.Int).Mul(n(q.Y-p.Y), n(r.X-p.X)))
}

func exactContains(rings [][]dispersion.Point, p dispersion.Point) bool {
	inside := false
	for _, ring := range rings {
		last := ring[len(ring)-1]
		for _, q := range ring {
			low, high := last, q
			last = q
			if low.Y > high.Y {
				low, high = high, low
			}
			side := exactTurn(low, high, p)
			if side == 0 && p.X >= min(low.X, high.X) && p.X <= max(low.X, high.X) && p.Y >= low.Y && p.Y <= high.Y {
				return true
			}
			if low.Y <= p.Y && p.Y < high.Y && side > 0 {
				inside = !inside
			}
		}
	}
	return inside
}

// Every lattice point on and around random polygons with and without a hole.
//
// Source: arithmetic in whole numbers; orb v0.14.0 (planar.PolygonContains) off
// the edges, since it leaves out the edge of a hole.
func TestContainsOnEdgesAndHoles(t *testing.T) {
	r := rand.New(resample.NewStream(1, "area test", 0))
	edges := 0
	for range 40 {
		a := Area{Rings: [][]dispersion.Point{starRing(r, 10, 3)}}
		if r.IntN(2) == 0 { // a hole well inside: the outer ring keeps 1 from the middle
			a.Rings = append(a.Rings, []dispersion.Point{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: 1, Y: 1}, {X: 0, Y: 0}, {X: -1, Y: 1}})
		}
		for x := -14.0; x <= 14; x++ {
			for y := -14.0; y <= 14; y++ {
				p := dispersion.Point{X: x, Y: y}
				got, want := a.Contains(p), exactContains(a.Rings, p)
				if got != want {
					t.Fatalf("%v in %v: %v, want %v", p, a.Rings, got, want)
				}
				onHole := false
				if len(a.Rings) > 1 {
					onHole = onRing(a.Rings[1], p)
				}
				if onHole || onRing(a.Rings[0], p) {
					edges++
				}
				if reference := planar.PolygonContains(a.polygon(), orb.Point{x, y}); !onHole && got != reference && !onRing(a.Rings[0], p) {
					t.Fatalf("%v in %v: %v, orb has %v", p, a.Rings, got, reference)
				}
			}
		}
	}
	if edges < 400 {
		t.Errorf("only %d points on an edge", edges)
	}
}

func onRing(ring []dispersion.Point, p dispersion.Point) bool {
	last := ring[len(ring)-1]
	for _, q := range ring {
		if exactTurn(last, q, p) == 0 && p.X >= min(last.X, q.X) && p.X <= max(last.X, q.X) && p.Y >= min(last.Y, q.Y) && p.Y <= max(last.Y, q.Y) {
			return true
		}
		last = q
	}
	return false
}

// A notch whose floor is level: by hand.
func TestCutThroughALevelEdge(t *testing.T) {
	a := Area{Rings: [][]dispersion.Point{{{X: 0, Y: 0}, {X: 6, Y: 0}, {X: 6, Y: 4}, {X: 4, Y: 4}, {X: 4, Y: 2}, {X: 2, Y: 2}, {X: 2, Y: 4}, {X: 0, Y: 4}}}}
	for y, want := range map[float64][]stretch{
		-1: nil, 0: {{0, 6}}, 1: {{0, 6}}, 2: {{0, 6}}, 3: {{0, 2}, {4, 6}}, 4: {{0, 2}, {4, 6}}, 5: nil,
	} {
		got := a.cut(y, nil)
		if len(got) != len(want) {
			t.Errorf("at %g: %v, want %v", y, got, want)
			continue
		}
		for i := range got {
			if got[i] != want[i] {
				t.Errorf("at %g: %v, want %v", y, got, want)
			}
		}
	}
}
