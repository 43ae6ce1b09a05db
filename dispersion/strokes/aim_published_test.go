package strokes

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"github.com/landfall-golf/landfall/dispersion"
)

// A board for darts is no golf hole, but its best aims are published: R. J.
// Tibshirani, A. Price, J. Taylor, "A Statistician Plays Darts", Journal of the
// Royal Statistical Society A 174(1), 2011, pp. 213-226. The measures of the
// board are common (from memory): radii in mm, the numbers clockwise from the
// top.
func dartScore(x, y float64) float64 {
	numbers := [...]float64{20, 1, 18, 4, 13, 6, 10, 15, 2, 17, 3, 19, 7, 16, 8, 11, 14, 9, 12, 5}
	r := math.Hypot(x, y)
	turn := math.Atan2(x, y) / (2 * math.Pi) * 20
	number := numbers[(int(math.Floor(turn+0.5))+20)%20]
	switch {
	case r <= 6.35:
		return 50
	case r <= 15.9:
		return 25
	case r > 170:
		return 0
	case r > 162, r > 99 && r <= 107:
		if r > 162 {
			return 2 * number
		}
		return 3 * number
	}
	return number
}

// dartSurface returns the mean of minus the score for every aim of a grid.
func dartSurface(sigma, step float64) field {
	n := int(240/step) + 1
	g := Grid{Left: -120, Short: -120, Step: step, Across: n, Up: n}
	p := Pattern{law: Normal, df: math.Inf(1), scale: dispersion.Cov{XX: sigma * sigma, YY: sigma * sigma}}
	k, err := kernelOf(p.points(g.Step), g.Step)
	if err != nil {
		panic(err) // the grids of these tests are small
	}
	costs := newField(k.around(g))
	for j := range costs.Up {
		for i := range costs.Across {
			at := costs.At(i, j)
			costs.values[j*costs.Across+i] = -dartScore(at.X, at.Y)
		}
	}
	return k.mean(costs, g)
}

// The best aim goes from the treble 20 to the treble 19 at about σ = 16.4 mm.
//
// Source: Tibshirani, Price, Taylor 2011 (from memory); between 16.2 and 16.5 on
// a grid of 1 mm by SciPy 1.10.1.
func TestDartAimSwitches(t *testing.T) {
	for sigma, upper := range map[float64]bool{16.2: true, 16.5: false} {
		s := dartSurface(sigma, 1)
		best := lowest(s.values)
		at := s.At(best%s.Across, best/s.Across)
		if (at.Y > 0) != upper {
			t.Errorf("σ = %g: best aim %v, mean score %.3f", sigma, at, -s.values[best])
		}
	}
}

// The board is bilinear between its points, which blurs it: where the beds are
// not narrow against σ half a millimetre is fine enough.
//
// Source: SciPy 1.10.1 on a grid of 1 mm.
func TestDartBestScores(t *testing.T) {
	for sigma, want := range map[float64]float64{5: 42.94, 10: 29.46, 15: 21.71, 20: 17.81, 26.9: 15.33, 40: 13.61, 64.6: 12.21, 100: 9.65} {
		step := 1.0
		switch {
		case sigma < 10:
			step = 0.5
		case sigma > 30:
			step = 2
		}
		s := dartSurface(sigma, step)
		near(t, "best score", -s.values[lowest(s.values)], want, 0.05)
	}
}

// lineOptimum returns the best aim along a line and its cost, x ~ N(a, s²), on a
// grid of the given step with the vertex of a parabola through the three best.
func lineOptimum(t *testing.T, cost func(x float64) float64, s, step float64) (aim, least float64) {
	t.Helper()
	g := Grid{Left: -10, Step: step, Across: int(20/step) + 1, Up: 1}
	var points []weighted
	sum := 0.0
	for i := int(-8 * s / step); i <= int(8*s/step); i++ {
		x := float64(i) * step
		points = append(points, weighted{dispersion.Point{X: x}, math.Exp(-x * x / (2 * s * s))})
		sum += points[len(points)-1].share
	}
	for i := range points {
		points[i].share /= sum
	}
	k, err := kernelOf(points, step)
	if err != nil {
		panic(err)
	}
	costs := newField(k.around(g))
	for j := range costs.Up {
		for i := range costs.Across {
			costs.values[j*costs.Across+i] = cost(costs.At(i, j).X)
		}
	}
	m := k.mean(costs, g)
	i := lowest(m.values)
	if i == 0 || i == g.Across-1 {
		t.Fatal("the best aim is at the edge")
	}
	a, b, c := m.values[i-1], m.values[i], m.values[i+1]
	u := (a - c) / (2 * (a - 2*b + c))
	return g.At(i, 0).X + u*step, b - (a-c)*u/4
}

// Source: SciPy 1.10.1 (quad and minimize_scalar).
func TestAimOnALine(t *testing.T) {
	const step = 1.0 / 256
	// The jump lies between two points, where the lattice feels it: half a step
	// beyond 15 there is none.
	jump := func(x, height float64) float64 {
		switch {
		case x > 15+step/4:
			return height
		case x > 15-step/4:
			return height / 2
		}
		return 0
	}
	aim, cost := lineOptimum(t, func(x float64) float64 { return math.Abs(x) + jump(x, 40) }, 10, step)
	near(t, "|x|: aim", aim, -3.6142034, 1e-5)
	near(t, "|x|: cost", cost, 9.7480601, 1e-5)
	aim, cost = lineOptimum(t, func(x float64) float64 { return x*x + jump(x, 400) }, 10, step)
	near(t, "x²: aim", aim, -1.9099278, 1e-5)
	near(t, "x²: cost", cost, 121.81546, 1e-5)
}

// The probability of a quadrant is 1/4 + asin(ρ)/2π = 1/3 at ρ = ½. The lattice is laid along the axes of the law, aslant to the quadrant, so
// it cuts through cells at the edge: the finer it is the fewer.
//
// Source: W. F. Sheppard, 1899.
func TestOrthantProbability(t *testing.T) {
	p := Pattern{law: Normal, df: math.Inf(1), scale: dispersion.Cov{XX: 1, XY: 0.5, YY: 1}}
	off := func(step float64) float64 {
		sum := 0.0
		for _, w := range p.points(step) {
			if w.at.X < 0 && w.at.Y < 0 {
				sum += w.share
			}
		}
		return math.Abs(sum - 1.0/3)
	}
	if fine := off(0.02); fine > 2e-4 {
		t.Errorf("off by %g at a step of 0.02", fine)
	}
	if coarse := off(0.4); coarse > 2e-2 {
		t.Errorf("off by %g at a step of 0.4", coarse)
	}
}

// The moments of what stands for a law are those of the law: of a normal one to
// what is left out, 1 in 10⁷; of a t, whose tail beyond 1 in 1,000 is left out,
// the share within one scale, 1-(1+1/ν)^(-ν/2).
func TestPointsStandForTheLaw(t *testing.T) {
	scale := dispersion.Cov{XX: 49, XY: -12, YY: 25}
	centre := dispersion.Point{X: 3, Y: -2}
	normal := Pattern{law: Normal, df: math.Inf(1), centre: centre, scale: scale}
	var sum, x, y, xx, xy, yy float64
	for _, w := range normal.points(1) {
		dx, dy := w.at.X-centre.X, w.at.Y-centre.Y
		sum, x, y = sum+w.share, x+w.share*w.at.X, y+w.share*w.at.Y
		xx, xy, yy = xx+w.share*dx*dx, xy+w.share*dx*dy, yy+w.share*dy*dy
	}
	near(t, "sum", sum, 1, 1e-12)
	near(t, "side", x, 3, 1e-9)
	near(t, "carry", y, -2, 1e-9)
	near(t, "XX", xx, 49, 1e-3)
	near(t, "XY", xy, -12, 1e-3)
	near(t, "YY", yy, 25, 1e-3)

	heavy := Pattern{law: HeavyTailed, df: 5, centre: centre, scale: scale}
	inside := 0.0
	for _, w := range heavy.points(0.25) {
		dx, dy := w.at.X-centre.X, w.at.Y-centre.Y
		if (scale.YY*dx*dx-2*scale.XY*dx*dy+scale.XX*dy*dy)/scale.Det() <= 1 {
			inside += w.share
		}
	}
	f := distuv.F{D1: 2, D2: 5}
	near(t, "share within one scale", inside, f.CDF(0.5)/(1-tRest), 2e-3)
}
