package dispersion

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

// drawPoints draws a group on a grid of tenths, as devices report it.
func drawPoints(t *rapid.T, least int) []Point {
	tenth := rapid.Custom(func(t *rapid.T) Point {
		return Point{
			X: float64(rapid.IntRange(-400, 400).Draw(t, "side")) / 10,
			Y: float64(rapid.IntRange(800, 2000).Draw(t, "carry")) / 10,
		}
	})
	return rapid.SliceOfN(tenth, least, 40).Draw(t, "points")
}

// An affine map of the shots maps the ellipses with it: every point of the old
// edge lands on the new one, and areas grow by the determinant.
func TestEllipsesFollowAffineMaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := drawPoints(t, 4)
		g, err := NewGroup(points)
		if err != nil {
			t.Fatal(err)
		}
		c, _ := g.Cov()
		if major, minor, _ := c.Axes(); minor < major/1e3 {
			t.Skip("too thin to compare edges to 1e-9")
		}
		coefficient := rapid.Float64Range(-3, 3)
		a, b, d, e := coefficient.Draw(t, "a"), coefficient.Draw(t, "b"), coefficient.Draw(t, "d"), coefficient.Draw(t, "e")
		det := math.Abs(a*e - b*d)
		if det < .05 {
			t.Skip("the map flattens the group")
		}
		shift := Point{X: rapid.Float64Range(-1e3, 1e3).Draw(t, "dx"), Y: rapid.Float64Range(-1e3, 1e3).Draw(t, "dy")}
		apply := func(p Point) Point {
			return Point{X: a*p.X + b*p.Y + shift.X, Y: d*p.X + e*p.Y + shift.Y}
		}
		mapped := make([]Point, len(points))
		for i, p := range points {
			mapped[i] = apply(p)
		}
		h, err := NewGroup(mapped)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range []func(*Group, float64) (Ellipse, error){(*Group).MeanEllipse, (*Group).PredictionEllipse} {
			before, err := f(g, .9)
			if err != nil {
				t.Fatal(err)
			}
			after, err := f(h, .9)
			if err != nil {
				t.Fatal(err)
			}
			if got, want := after.Area(), before.Area()*det; math.Abs(got-want) > 1e-8*want {
				t.Fatalf("area %g, want %g", got, want)
			}
			for _, p := range before.Outline(12) {
				q := apply(p)
				in := r2.Add(after.Centre, r2.Scale(1-1e-6, r2.Sub(q, after.Centre)))
				out := r2.Add(after.Centre, r2.Scale(1+1e-6, r2.Sub(q, after.Centre)))
				if !after.Contains(in) || after.Contains(out) {
					t.Fatalf("the image %v of an edge point is not on the edge of %v", q, after)
				}
			}
		}
	})
}

// Shifting, turning and scaling the shots does the same to the geometric
// median, and their order does not matter.
func TestGeometricMedianFollowsTheGroup(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := drawPoints(t, 3)
		g, err := NewGroup(points)
		if err != nil {
			t.Fatal(err)
		}
		m := g.GeometricMedian()
		if len(m.Warnings) > 0 {
			return // not unique: on one line
		}
		angle := rapid.Float64Range(-3, 3).Draw(t, "angle")
		scale := rapid.Float64Range(.01, 100).Draw(t, "scale")
		shift := Point{X: 50, Y: -20}
		apply := func(p Point) Point { return r2.Add(shift, r2.Scale(scale, r2.Rotate(p, angle, Point{}))) }
		turned := make([]Point, len(points))
		for i, p := range points {
			turned[len(points)-1-i] = apply(p)
		}
		h, err := NewGroup(turned)
		if err != nil {
			t.Fatal(err)
		}
		if d := r2.Norm(r2.Sub(h.GeometricMedian().Point, apply(m.Point))); d > 1e-6*scale {
			t.Fatalf("the median moved by %g at scale %g", d, scale)
		}
	})
}

// No other place has a smaller sum of distances.
func TestGeometricMedianIsTheMinimum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, err := NewGroup(drawPoints(t, 1))
		if err != nil {
			t.Fatal(err)
		}
		m := g.GeometricMedian().Point
		least := g.MeanDistance(m)
		for _, step := range []float64{1e-3, .1, 3} {
			for angle := 0.0; angle < 6; angle++ {
				at := r2.Add(m, Point{X: step * math.Cos(angle), Y: step * math.Sin(angle)})
				if g.MeanDistance(at) < least*(1-1e-14) {
					t.Fatalf("%v is better than %v", at, m)
				}
			}
		}
		for _, p := range g.Points() {
			if g.MeanDistance(p) < least*(1-1e-14) {
				t.Fatalf("the shot %v is better than %v", p, m)
			}
		}
	})
}

// However the shots are cut into parts, merging gives the same moments as
// adding one by one, to rounding.
func TestMergeEqualsAdd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := drawPoints(t, 2)
		cut := rapid.IntRange(0, len(points)).Draw(t, "cut")
		var all, left, right Moments
		for i, p := range points {
			all.Add(p)
			if i < cut {
				left.Add(p)
			} else {
				right.Add(p)
			}
		}
		left.Merge(right)
		whole := momentsOf(points)
		for _, m := range []Moments{left, whole} {
			for _, pair := range [][2]float64{{m.Mean.X, all.Mean.X}, {m.Mean.Y, all.Mean.Y}, {m.SXX, all.SXX}, {m.SXY, all.SXY}, {m.SYY, all.SYY}} {
				if m.N != all.N || math.Abs(pair[0]-pair[1]) > 1e-10*max(1, math.Abs(pair[1])) {
					t.Fatalf("%+v, want %+v", m, all)
				}
			}
		}
	})
}

// One wild shot moves the medians by a bounded amount, however far it goes: no
// farther than the extent of the good shots, of which there are nine or more.
// It takes the mean anywhere.
func TestOneWildShotMovesMediansALittle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		good := drawPoints(t, 9)
		g, err := NewGroup(good)
		if err != nil {
			t.Fatal(err)
		}
		circle, err := g.EnclosingCircle()
		if err != nil {
			t.Fatal(err)
		}
		angle := rapid.Float64Range(0, 6.3).Draw(t, "angle")
		far := rapid.SampledFrom([]float64{1e4, 1e8, 1e12}).Draw(t, "far")
		sin, cos := math.Sincos(angle)
		h, err := NewGroup(append(g.Points(), Point{X: far * cos, Y: far * sin}))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range []func(float64) (Centre, error){h.GeometricMedianCentre, h.MedianCentre, h.TukeyMedian} {
			c, err := f(.95)
			if err != nil {
				t.Fatal(err)
			}
			if d := r2.Norm(r2.Sub(c.Point, circle.Centre)); d > 2*circle.Radius+1e-9*far/1e8 {
				t.Fatalf("a shot %g away takes the %s %g from the middle of shots within %g", far, c.Method, d, circle.Radius)
			}
		}
		if d := r2.Norm(r2.Sub(h.Mean(), circle.Centre)); d < far/100-1e4 {
			t.Fatalf("a shot %g away leaves the mean within %g", far, d)
		}
	})
}

// Turning and scaling the shots turns and scales the region of the geometric
// median; stretching the axes stretches the rectangle of the medians.
func TestCentreRegionsFollowTheGroup(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := drawPoints(t, 8)
		g, err := NewGroup(points)
		if err != nil {
			t.Fatal(err)
		}
		before, err := g.GeometricMedianCentre(.9)
		if err != nil {
			t.Fatal(err)
		}
		e, ok := before.Region.(Ellipse)
		if !ok || e.SemiMinor < 1e-3*e.SemiMajor || slices.Contains(points, before.Point) {
			return // on one line or nearly, or at a shot, where the nearest jumps
		}
		angle := rapid.Float64Range(-3, 3).Draw(t, "angle")
		scale := rapid.Float64Range(.01, 100).Draw(t, "scale")
		turned, stretched := make([]Point, len(points)), make([]Point, len(points))
		for i, p := range points {
			turned[i] = r2.Scale(scale, r2.Rotate(p, angle, Point{}))
			stretched[i] = Point{X: 2 * p.X, Y: -p.Y / 4}
		}
		h, err := NewGroup(turned)
		if err != nil {
			t.Fatal(err)
		}
		after, err := h.GeometricMedianCentre(.9)
		if err != nil {
			t.Fatal(err)
		}
		nearest := math.Inf(1)
		for _, p := range points {
			nearest = min(nearest, r2.Norm(r2.Sub(p, before.Point)))
		}
		if got, want := after.Region.Area(), before.Region.Area()*scale*scale; math.Abs(got-want) > 1e-5*want/min(1, nearest) {
			t.Fatalf("area %g, want %g", got, want)
		}
		k, err := NewGroup(stretched)
		if err != nil {
			t.Fatal(err)
		}
		a, err := g.MedianCentre(.9)
		if err != nil {
			t.Fatal(err)
		}
		b, err := k.MedianCentre(.9)
		if err != nil {
			t.Fatal(err)
		}
		if b.Point != (Point{X: 2 * a.Point.X, Y: -a.Point.Y / 4}) || math.Abs(b.Region.Area()-a.Region.Area()/2) > 1e-9 {
			t.Fatalf("the medians went from %v to %v", a.Point, b.Point)
		}
	})
}
