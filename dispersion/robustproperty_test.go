package dispersion

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

// Whatever map with an inverse is applied to the shots, and in whatever order
// they come, MCD and t follow.
func TestMCDAndTFollowAffineMaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Continuous draws: on a grid equal determinants are common, and which
		// of them is first depends on the order.
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		n := rapid.IntRange(6, 16).Draw(t, "n")
		points := make([]Point, n)
		for i := range points {
			points[i] = drawT(rng, 5)
		}
		coefficient := rapid.Float64Range(-3, 3)
		a, b, d, e := coefficient.Draw(t, "a"), coefficient.Draw(t, "b"), coefficient.Draw(t, "d"), coefficient.Draw(t, "e")
		det := a*e - b*d
		if math.Abs(det) < .1 {
			t.Skip("the map flattens the group")
		}
		apply := func(p Point) Point { return Point{X: a*p.X + b*p.Y + 50, Y: d*p.X + e*p.Y - 20} }
		mapped := make([]Point, n)
		for i, p := range points {
			mapped[n-1-i] = apply(p)
		}
		g, h := mustGroupIn(t, points), mustGroupIn(t, mapped)
		before, err := g.MCD(MCDOptions{})
		if err != nil {
			t.Fatal(err)
		}
		after, err := h.MCD(MCDOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if d := r2.Norm(r2.Sub(after.Centre, apply(before.Centre))); d > 1e-8 {
			t.Fatalf("the MCD centre is off by %g", d)
		}
		if got, want := after.Cov.Det(), before.Cov.Det()*det*det; math.Abs(got-want) > 1e-7*want {
			t.Fatalf("MCD determinant %g, want %g", got, want)
		}
		for i := range n {
			if before.Weights[i] != after.Weights[n-1-i] || math.Abs(before.Distances[i]-after.Distances[n-1-i]) > 1e-7*before.Distances[i]+1e-9 {
				t.Fatalf("shot %d: distance %g and %g", i, before.Distances[i], after.Distances[n-1-i])
			}
		}
		tBefore, err := g.TFit(.9)
		if err != nil {
			t.Fatal(err)
		}
		tAfter, err := h.TFit(.9)
		if err != nil {
			t.Fatal(err)
		}
		if d := r2.Norm(r2.Sub(tAfter.Centre.Point, apply(tBefore.Centre.Point))); d > 1e-5 {
			t.Fatalf("the t centre is off by %g; ν %g and %g", d, tBefore.DF, tAfter.DF)
		}
		if got, want := tAfter.LogLik, tBefore.LogLik-float64(n)*math.Log(math.Abs(det)); math.Abs(got-want) > 1e-7*(1+math.Abs(want)) {
			t.Fatalf("likelihood %g, want %g", got, want)
		}
	})
}

func mustGroupIn(t *rapid.T, points []Point) *Group {
	g, err := NewGroup(points)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// One wild shot, however far away, moves MCD, t and the geometric median by a
// bounded amount, and the mean without bound.
func TestOneWildShotMovesLittle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2))
		n := rapid.IntRange(8, 18).Draw(t, "n")
		points := make([]Point, n)
		reach := 0.0
		for i := range points {
			points[i] = Point{X: rng.NormFloat64(), Y: rng.NormFloat64()}
			reach = max(reach, r2.Norm(points[i]))
		}
		far := math.Pow(10, rapid.Float64Range(1, 9).Draw(t, "far"))
		angle := rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle")
		points[0] = Point{X: far * math.Cos(angle), Y: far * math.Sin(angle)}
		g := mustGroupIn(t, points)
		m, err := g.MCD(MCDOptions{})
		if err != nil {
			t.Fatal(err)
		}
		f, err := g.TFit(.9)
		if err != nil {
			t.Fatal(err)
		}
		for name, c := range map[string]Point{"MCD": m.Centre, "t": f.Centre.Point, "geometric median": g.GeometricMedian().Point} {
			if d := r2.Norm(c); d > reach {
				t.Fatalf("a shot %g away moved the %s by %g", far, name, d)
			}
		}
		if m.Weights[0] != 0 && far > 100*reach {
			t.Fatalf("a shot %g away has weight 1", far)
		}
	})
}

// Scales and origins far from 1 and 0 keep their digits; three of ten shots at
// one place do no harm.
func TestRobustScaleAndOffset(t *testing.T) {
	g := mustGroup(t, p10)
	base, f := mustMCD(t, g, MCDOptions{}), mustT(t, g, .9)
	for _, c := range []struct{ scale, offset, tol float64 }{
		{1e-9, 0, 1e-9}, {1e12, 0, 1e-9}, {1e100, 0, 1e-9}, {1e-100, 0, 1e-9}, {1, 1e12, 1e-3}, {1, 1e6, 1e-7},
	} {
		points := make([]Point, len(p10))
		for i, p := range p10 {
			points[i] = Point{X: p.X*c.scale + c.offset, Y: p.Y*c.scale - c.offset}
		}
		h := mustGroup(t, points)
		m := mustMCD(t, h, MCDOptions{})
		near(t, "MCD side", (m.Centre.X-c.offset)/c.scale, base.Centre.X, c.tol)
		nearRel(t, "MCD spread", m.Cov.SqrtDet()/c.scale/c.scale, base.Cov.SqrtDet(), c.tol)
		nearRel(t, "MCD root", m.SqrtDet/c.scale/c.scale, base.SqrtDet, c.tol)
		r := mustT(t, h, .9)
		near(t, "t side", (r.Centre.Point.X-c.offset)/c.scale, f.Centre.Point.X, max(c.tol, 1e-6))
		nearRel(t, "t spread", r.Scale.SqrtDet()/c.scale/c.scale, f.Scale.SqrtDet(), max(c.tol, 1e-5))
	}
	twins := append([]Point{{X: 1, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 1}}, p10[:7]...)
	mustMCD(t, mustGroup(t, twins), MCDOptions{})
	mustT(t, mustGroup(t, twins), .9)
}

func mustT(t testing.TB, g *Group, level float64) TFit {
	t.Helper()
	r, err := g.TFit(level)
	if err != nil {
		t.Fatal(err)
	}
	return r
}
