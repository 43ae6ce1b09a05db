package dispersion

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

// A depth region holds exactly the points that are that deep: the shots, and a
// fine grid of points between them. Its corners are that deep too, up to the
// rounding of their coordinates, and the region one deeper lies in it.
func TestDepthRegionsHoldWhatTheySay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reach := rapid.SampledFrom([]int{2, 6, 40}).Draw(t, "reach")
		tenth := rapid.Custom(func(t *rapid.T) Point {
			return Point{X: float64(rapid.IntRange(-reach, reach).Draw(t, "x")) / 10, Y: float64(1500+rapid.IntRange(-reach, reach).Draw(t, "y")) / 10}
		})
		g, err := NewGroup(rapid.SliceOfN(tenth, 1, 14).Draw(t, "points"))
		if err != nil {
			t.Fatal(err)
		}
		deepest, _, _ := deepestRegion(g.points)
		var regions []Polygon
		for k := 1; k <= deepest; k++ {
			r, err := g.DepthRegion(k)
			if err != nil {
				t.Fatal(err)
			}
			regions = append(regions, r)
		}
		at := tenth.Draw(t, "at")
		halfway := r2.Add(at, g.points[0])
		halfway = Point{X: math.Round(50*halfway.X) / 100, Y: math.Round(50*halfway.Y) / 100}
		for _, p := range append(g.Points(), at, halfway) {
			depth := g.Depth(p)
			for i, r := range regions {
				if r.Contains(p) != (depth >= i+1) {
					t.Fatalf("the region of depth %d holds %v: %v, but its depth is %d", i+1, p, r.Contains(p), depth)
				}
			}
		}
		for i, r := range regions {
			held := 0
			for _, d := range g.Depths() {
				if d >= i+1 {
					held++
				}
			}
			if r.Shots != held {
				t.Fatalf("the region of depth %d counts %d shots, %d are that deep", i+1, r.Shots, held)
			}
			if i > 0 && slices.ContainsFunc(r.Corners, func(c Point) bool { return !regions[i-1].Contains(c) }) {
				t.Fatalf("the region of depth %d sticks out of the one before", i+1)
			}
		}
		m, err := g.TukeyMedian(.9)
		if err != nil {
			t.Fatal(err)
		}
		if !regions[deepest-1].Contains(m.Point) {
			t.Fatalf("the Tukey median %v is not among the deepest points %v", m.Point, regions[deepest-1].Corners)
		}
		var asked *DepthError
		if _, err := g.DepthRegion(deepest + 1); !errors.As(err, &asked) || asked.Deepest != deepest || asked.Depth != deepest+1 {
			t.Fatalf("one deeper: error %v", err)
		}
		if _, err := g.DepthRegion(0); !errors.As(err, &asked) || asked.Deepest != deepest {
			t.Fatalf("depth 0: error %v", err)
		}
	})
}

// The hull and the circle hold every shot; the hull turns left at every corner,
// which is a shot; no smaller circle would do, for its edge has shots on both
// sides of every line through its centre.
func TestHullAndCircleHoldEveryShot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		scale := rapid.SampledFrom([]float64{1e-9, 1, 1e12}).Draw(t, "scale")
		offset := rapid.SampledFrom([]float64{0, 1, 1000}).Draw(t, "offset")
		points := drawPoints(t, 1)
		for i, p := range points {
			points[i] = Point{X: (p.X + offset) * scale, Y: (p.Y - offset) * scale}
		}
		g, err := NewGroup(points)
		if err != nil {
			t.Fatal(err)
		}
		hull := g.ConvexHull()
		circle, err := g.EnclosingCircle()
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range points {
			if !hull.Contains(p) || !circle.Contains(p) {
				t.Fatalf("%v is outside of the hull or the circle", p)
			}
		}
		corners := hull.Corners
		if area := hull.Area(); area > circle.Area()*(1+1e-12) {
			t.Fatalf("hull area %g, circle area %g", area, circle.Area())
		}
		if len(corners) > 2 {
			plane := newPlane(corners)
			for i := range corners {
				if plane.turn(i, (i+1)%len(corners), (i+2)%len(corners)) != 1 {
					t.Fatalf("no left turn after corner %d of %v", i, corners)
				}
			}
		}
		for _, c := range corners {
			if !slices.Contains(points, c) {
				t.Fatalf("the corner %v is no shot", c)
			}
		}
		// The directions to shots on the edge leave no gap above 180°.
		var angles []float64
		for _, p := range points {
			d := r2.Sub(p, circle.Centre)
			if r2.Norm(d) >= circle.Radius*(1-1e-9) {
				angles = append(angles, math.Atan2(d.Y, d.X))
			}
		}
		slices.Sort(angles)
		for i, a := range angles {
			next := angles[(i+1)%len(angles)]
			if i == len(angles)-1 {
				next += 2 * math.Pi
			}
			if circle.Radius > 0 && next-a > math.Pi+1e-4 {
				t.Fatalf("a gap of %g between shots on the edge: the circle could shrink", next-a)
			}
		}
	})
}

// An affine map in whole numbers maps depths unchanged and hulls corner by
// corner, and the Tukey median to rounding.
func TestDepthFollowsAffineMaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := drawPoints(t, 3)
		g, err := NewGroup(points)
		if err != nil {
			t.Fatal(err)
		}
		// Shear and stretch by 2 and 3: tenths stay tenths, though float sums
		// need rounding back to the decimal.
		apply := func(p Point) Point {
			return Point{X: math.Round(10*(2*p.X+3*p.Y)) / 10, Y: math.Round(10*(p.Y-p.X)) / 10}
		}
		mapped := make([]Point, len(points))
		for i, p := range points {
			mapped[len(points)-1-i] = apply(p)
		}
		h, err := NewGroup(mapped)
		if err != nil {
			t.Fatal(err)
		}
		depths := h.Depths()
		slices.Reverse(depths)
		if want := g.Depths(); !slices.Equal(depths, want) {
			t.Fatalf("depths %v, want %v", depths, want)
		}
		if a, b := g.ConvexHull().Area()*5, h.ConvexHull().Area(); math.Abs(a-b) > 1e-9*max(1, a) {
			t.Fatalf("the hull's area grew to %g, want %g", b, a)
		}
		before, err := g.TukeyMedian(.9)
		if err != nil {
			t.Fatal(err)
		}
		after, err := h.TukeyMedian(.9)
		if err != nil {
			t.Fatal(err)
		}
		want := Point{X: 2*before.Point.X + 3*before.Point.Y, Y: before.Point.Y - before.Point.X}
		if r2.Norm(r2.Sub(after.Point, want)) > 1e-9*(1+r2.Norm(want)) {
			t.Fatalf("the Tukey median went to %v, want %v", after.Point, want)
		}
	})
}

// Source: all 2ⁿ ways to lie to either side of a turning line, counted one by
// one; J. L. Hodges 1955 for the formula (from memory).
func TestDepthConfidence(t *testing.T) {
	for n := 2; n <= 13; n++ {
		counts := make([]int, n+1)
		for ways := range 1 << n {
			left := 0
			for i := range n {
				left += ways >> i & 1
			}
			least := min(left, n-left)
			for i := range n {
				left += 1 - 2*(ways>>i&1)
				least = min(least, left, n-left)
			}
			counts[least]++
		}
		deeper := 1 << n
		for k := 1; 2*(k-1) < n; k++ {
			deeper -= counts[k-1]
			near(t, "confidence", depthConfidence(n, k), float64(deeper)/float64(int(1)<<n), 1e-15)
		}
	}
	if got := depthConfidence(6, 4); got != 0 {
		t.Errorf("confidence of half the shots or more: %g", got)
	}
}

// By hand: 2·2·2⁻ⁿ is at most 0.05 from n = 7 on; for n = 10, P(B < 2) is
// 11/1024.
func TestMedianRank(t *testing.T) {
	for _, c := range []struct {
		n, rank    int
		confidence float64
	}{{6, 0, 1}, {7, 1, 1 - 4.0/128}, {10, 2, 1 - 44.0/1024}, {11, 2, 1 - 48.0/2048}} {
		rank, confidence := medianRank(c.n, .95)
		if rank != c.rank {
			t.Errorf("n = %d: rank %d, want %d", c.n, rank, c.rank)
		}
		near(t, "confidence", confidence, c.confidence, 1e-12)
	}
}

// A polygon's corners, edges and inside belong to it; a hair outside does not.
func TestPolygonContains(t *testing.T) {
	square := Polygon{Corners: []Point{{X: 1000}, {X: 1002}, {X: 1002, Y: 2}, {X: 1000, Y: 2}}}
	line := Polygon{Corners: []Point{{X: 0}, {X: 4, Y: 3}}}
	for _, c := range []struct {
		p    Polygon
		at   Point
		want bool
	}{
		{square, Point{X: 1001, Y: 1}, true}, {square, Point{X: 1002, Y: 1}, true}, {square, Point{X: 1000}, true},
		{square, Point{X: 1002 + 1e-11, Y: 1}, false}, {square, Point{X: 999, Y: 0}, false}, {square, Point{X: math.NaN()}, false},
		{line, Point{X: 2, Y: 1.5}, true}, {line, Point{X: 2, Y: 1.6}, false}, {line, Point{X: 8, Y: 6}, false},
		{Polygon{}, Point{}, false},
	} {
		if got := c.p.Contains(c.at); got != c.want {
			t.Errorf("%v holds %v: %v", c.p.Corners, c.at, got)
		}
	}
	near(t, "area", square.Area(), 4, 1e-15)
	if line.Area() != 0 || len(line.Outline(100)) != 2 || line.Outline(0) != nil {
		t.Error("a line has no area and two corners, and no outline of no points")
	}
}

// Sources: √π for two shots; for more Monte Carlo of two million groups, of
// another program, with a standard error of 0.0003, beside ours of 0.0015.
func TestExpectedLargestDistance(t *testing.T) {
	for n, want := range map[int]float64{
		2: math.Sqrt(math.Pi), 3: 2.4077, 4: 2.7940, 5: 3.0659, 6: 3.2751, 7: 3.4442, 8: 3.5854, 9: 3.7054, 10: 3.8115, 15: 4.1959, 20: 4.4508,
	} {
		got, err := ExpectedLargestDistance(n)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got-want) > 4*math.Hypot(.0015, .0003) {
			t.Errorf("n = %d: %g, want %g", n, got, want)
		}
	}
	between, err := ExpectedLargestDistance(35)
	if err != nil || between < 4.88 || between > 4.94 { // between 30 and 40, by a plot
		t.Errorf("n = 35: %g, %v", between, err)
	}
	if _, err := ExpectedLargestDistance(1); !errors.As(err, new(*TooFewError)) {
		t.Errorf("n = 1: %v", err)
	}
	if _, err := ExpectedLargestDistance(51); err == nil {
		t.Error("n = 51: no error")
	}
}

// A small part of `go run ./dispersion/internal/study`: the regions of centres
// on heavy tails, t(3), where normal theory is not.
func TestCentresCoverOnHeavyTails(t *testing.T) {
	const groups = 500
	rng := rand.New(rand.NewPCG(5, 6))
	for _, n := range []int{5, 12} {
		held, tries := map[string]int{}, map[string]int{}
		points := make([]Point, n)
		for range groups {
			for i := range points {
				var chi2 float64
				for range 3 {
					z := rng.NormFloat64()
					chi2 += z * z
				}
				s := math.Sqrt(3 / chi2)
				points[i] = Point{X: 8 * s * rng.NormFloat64(), Y: 5 * s * rng.NormFloat64()}
			}
			g := mustGroup(t, points)
			for _, f := range []func(float64) (Centre, error){g.GeometricMedianCentre, g.MedianCentre, g.TukeyMedian} {
				c, err := f(.9)
				if err != nil {
					t.Fatal(err)
				}
				if c.Region == nil {
					continue
				}
				tries[c.Method]++
				if c.Region.Contains(Point{}) {
					held[c.Method]++
				}
			}
		}
		for method, of := range tries {
			share, floor := float64(held[method])/float64(of), .9-4*math.Sqrt(.9*.1/float64(of))
			if of != groups || share < floor {
				t.Errorf("%s of %d shots: %d of %d regions hold the centre, want a share of %.3f or more", method, n, held[method], of, floor)
			}
		}
	}
}

// The confidence of a depth region is exact, whatever the tails.
func TestDepthConfidenceIsTheCoverage(t *testing.T) {
	const groups = 3000
	rng := rand.New(rand.NewPCG(7, 8))
	points := make([]Point, 11)
	held := make([]int, 4)
	for range groups {
		for i := range points {
			wild := math.Exp(3 * rng.NormFloat64())
			points[i] = Point{X: wild * rng.NormFloat64(), Y: wild * rng.NormFloat64()}
		}
		depth := mustGroup(t, points).Depth(Point{})
		for k := range held {
			if depth >= k+1 {
				held[k]++
			}
		}
	}
	for k, hits := range held {
		want := depthConfidence(11, k+1)
		band := 4 * math.Sqrt(want*(1-want)/groups)
		if share := float64(hits) / groups; math.Abs(share-want) > band {
			t.Errorf("depth %d: coverage %.4f, want %.4f ± %.4f", k+1, share, want, band)
		}
	}
}
