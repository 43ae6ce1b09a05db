package compare

import (
	"math"
	"slices"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// moved returns the group with every point sent through f.
func moved(t testing.TB, g *dispersion.Group, f func(p dispersion.Point) dispersion.Point) *dispersion.Group {
	t.Helper()
	points := g.Points()
	for i, p := range points {
		points[i] = f(p)
	}
	return group(t, points)
}

// same fails unless the two effects agree to a share of 1e-9, the second one's
// lengths being times as large.
func same(t *testing.T, what string, a, b Effect, times float64) {
	t.Helper()
	near(t, what+": estimate", b.Estimate, a.Estimate*times, 1e-9)
	near(t, what+": low", b.Interval.Low, a.Interval.Low*times, 1e-9)
	near(t, what+": high", b.Interval.High, a.Interval.High*times, 1e-9)
	near(t, what+": p", b.P, a.P, 1e-7)
}

func TestShiftTurnScaleReorder(t *testing.T) {
	before, after := group(t, sample(t, "setosa5")), group(t, sample(t, "versicolor12"))
	shift := func(p dispersion.Point) dispersion.Point { return dispersion.Point{X: p.X - 7, Y: p.Y + 150} }
	scale := func(p dispersion.Point) dispersion.Point {
		return dispersion.Point{X: p.X * 0.9144, Y: p.Y * 0.9144}
	}
	turn := func(p dispersion.Point) dispersion.Point {
		sin, cos := math.Sincos(0.7)
		return dispersion.Point{X: cos*p.X - sin*p.Y, Y: sin*p.X + cos*p.Y}
	}
	stretch := func(p dispersion.Point) dispersion.Point { return dispersion.Point{X: 3 * p.X, Y: p.Y + p.X} }
	backwards := func(g *dispersion.Group) *dispersion.Group {
		points := g.Points()
		slices.Reverse(points)
		return group(t, points)
	}
	for _, c := range compared {
		original, err := c.of(ctx, before, after, Options{})
		if err != nil {
			t.Fatal(err)
		}
		try := func(what string, b, a *dispersion.Group, times float64) {
			t.Helper()
			e, err := c.of(ctx, b, a, Options{})
			if err != nil {
				t.Fatal(err)
			}
			same(t, c.name+" "+what, original, e, times)
		}
		difference := original.Null == 0
		length := 1.0
		if difference {
			length = 0.9144
		}
		try("scaled", moved(t, before, scale), moved(t, after, scale), length)
		try("reordered", backwards(before), backwards(after), 1)
		if c.name != NameAngleSpreadRatio {
			try("shifted", moved(t, before, shift), moved(t, after, shift), 1)
		}
		if c.name == NameAreaRatio || c.name == NameSpreadRatio {
			try("turned", moved(t, before, turn), moved(t, after, turn), 1)
		}
		if c.name == NameAreaRatio {
			try("stretched", moved(t, before, stretch), moved(t, after, stretch), 1)
		}
		swapped, err := c.of(ctx, after, before, Options{})
		if err != nil {
			t.Fatal(err)
		}
		mirror := swapped
		if difference {
			mirror.Estimate, mirror.Interval.Low, mirror.Interval.High = -swapped.Estimate, -swapped.Interval.High, -swapped.Interval.Low
		} else {
			mirror.Estimate, mirror.Interval.Low, mirror.Interval.High = 1/swapped.Estimate, 1/swapped.Interval.High, 1/swapped.Interval.Low
		}
		same(t, c.name+" swapped", original, mirror, 1)
	}
}

// By hand. Two squares with corners (±1, ±1) and (±2, ±2) around any place plus
// their centres: V is the identity, the median the centre, the distances four
// times √2 and a 0. D = 0.8·√2·√(5/4) and twice that. The coefficient of
// variation of 1 1 1 1 0 is √0.2/0.8, in both, so c² = 0.3125.
func TestSpreadRatioByHand(t *testing.T) {
	square := func(size float64) []dispersion.Point {
		return []dispersion.Point{{X: 5 + size, Y: 100 + size}, {X: 5 - size, Y: 100 + size}, {X: 5 + size, Y: 100 - size}, {X: 5 - size, Y: 100 - size}, {X: 5, Y: 100}}
	}
	e, err := SpreadRatio(ctx, group(t, square(1)), group(t, square(2)), Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "before", e.Before, 0.8*math.Sqrt2*math.Sqrt(1.25), 1e-12)
	near(t, "ratio", e.Estimate, 2, 1e-12)
	near(t, "df", e.DF, 8, 0)
	// t(8) at 0.975 is 2.306004 (any t table).
	near(t, "high", e.Interval.High, 2*math.Exp(2.306004*math.Sqrt(0.3125*0.4)), 1e-6)
}

// Equal n: R is the plain ratio of areas, and at three a side the 95 % interval
// reaches a factor of 39 either way (F(2, 2) at 0.975 is 39; checked by
// F/(1+F) = 0.975).
func TestAreaRatioByHand(t *testing.T) {
	triangle := func(size float64) *dispersion.Group {
		return group(t, []dispersion.Point{{X: 0, Y: 0}, {X: size, Y: 0}, {X: 0, Y: size}})
	}
	e, err := AreaRatio(ctx, triangle(1), triangle(3), Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ratio", e.Estimate, 9, 1e-12)
	near(t, "low", e.Interval.Low, 9.0/39, 1e-12)
	near(t, "high", e.Interval.High, 9*39, 1e-12)
	near(t, "p", e.P, 0.2, 1e-12) // P(F(2,2) > 9) = 1/(1+9)
	// S of the unit triangle: 1/3 on the diagonal, -1/6 beside it; √|S| = √(1/12).
	near(t, "area", e.Before, math.Pi*math.Sqrt(1.0/12), 1e-12)
}
