package dispersion

import (
	"math"
	"testing"
)

// p10 is a small set with one gross outlier, made up for tests.
var p10 = []Point{
	{X: -3.2, Y: 4.1}, {X: 1.5, Y: -2.2}, {X: .4, Y: .9}, {X: 5.1, Y: 3.3}, {X: -1.8, Y: -4.6},
	{X: 2.7, Y: 1.2}, {X: -.6, Y: 2.8}, {X: 3.9, Y: -1.1}, {X: -2.4, Y: .3}, {X: 14, Y: -9.5},
}

// Source: recomputed with R 4.2.2 (cov, eigen, qf, mad); the median of p10 with
// an independent program of our own to 1e-9.
func TestP10(t *testing.T) {
	g := mustGroup(t, p10)
	c, err := g.Cov()
	if err != nil {
		t.Fatal(err)
	}
	printed(t, "mean side", g.Mean().X, 1.96, 1e-12)
	printed(t, "mean carry", g.Mean().Y, -.48, 1e-12)
	printed(t, "var side", c.XX, 25.3448889, 5e-8)
	printed(t, "cov", c.XY, -13.1102222, 5e-8)
	printed(t, "var carry", c.YY, 17.0040000, 5e-8)
	printed(t, "det", c.Det(), 259.086564, 5e-7)
	printed(t, "√det", c.SqrtDet(), 16.0961661, 5e-8)
	major, minor, angle := c.Axes()
	printed(t, "major variance", major*major, 34.93200722, 1e-8)
	printed(t, "minor variance", minor*minor, 7.41688167, 1e-8)
	printed(t, "angle", angle*180/math.Pi+180, 143.823098, 1e-6) // the source counts modulo 180°

	mean, err := g.MeanEllipse(.95)
	if err != nil {
		t.Fatal(err)
	}
	printed(t, "mean ellipse major", mean.SemiMajor, 5.91998096, 1e-8)
	printed(t, "mean ellipse minor", mean.SemiMinor, 2.72784202, 1e-8)
	printed(t, "mean ellipse area", mean.Area(), 50.732866, 1e-6)
	next, err := g.PredictionEllipse(.90)
	if err != nil {
		t.Fatal(err)
	}
	printed(t, "prediction ellipse major", next.SemiMajor, 16.4057896, 1e-7)
	printed(t, "prediction ellipse minor", next.SemiMinor, 7.55955172, 1e-8)
	printed(t, "prediction ellipse area", next.Area(), 389.621626, 1e-6)

	sigma, err := g.CircularSigma(.95)
	if err != nil {
		t.Fatal(err)
	}
	printed(t, "circular sigma as it stands", sigma.Raw, 4.60156978, 1e-8)
	printed(t, "mean radius", g.MeanDistance(g.Mean()), 4.87609432, 1e-8)
	m := g.GeometricMedian()
	printed(t, "median side", m.Point.X, .977289908, 1e-9)
	printed(t, "median carry", m.Point.Y, .490350195, 1e-9)
	printed(t, "sum of distances", 10*g.MeanDistance(m.Point), 47.5404891, 1e-7)
	var side, carry []float64
	for _, p := range p10 {
		side, carry = append(side, p.X), append(carry, p.Y)
	}
	for _, check := range []struct {
		what      string
		f         func([]float64) (float64, error)
		values    []float64
		want, tol float64
	}{
		{"median side", Median, side, .95, 1e-12},
		{"median carry", Median, carry, .6, 1e-12},
		{"MAD side", ScaledMAD, side, 4.22541, 1e-6},
		{"MAD carry", ScaledMAD, carry, 3.63237, 1e-6},
	} {
		got, err := check.f(check.values)
		if err != nil {
			t.Fatal(err)
		}
		printed(t, check.what, got, check.want, check.tol)
	}
}

// printed fails unless got is within tol of want as printed, whatever its size.
func printed(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tol)
	}
}

// Example 5.3 of R. A. Johnson, D. W. Wichern, Applied Multivariate Statistical
// Analysis: radiation of 42 ovens with closed and open door, fourth roots. The
// data are from memory; they give the T² of exercise 5.5 to all its digits. The
// values are exact (R 4.2.2); the book rounds its matrices first and prints
// half axes .064 and .018.
func TestJohnsonWichernExample53(t *testing.T) {
	closed := []float64{.15, .09, .18, .10, .05, .12, .08, .05, .08, .10, .07, .02, .01, .10, .10, .10, .02, .10, .01, .40, .10, .05, .03, .05, .15, .10, .15, .09, .08, .18, .10, .20, .11, .30, .02, .20, .20, .30, .30, .40, .30, .05}
	open := []float64{.30, .09, .30, .10, .10, .12, .09, .10, .09, .10, .07, .05, .01, .45, .12, .20, .04, .10, .01, .60, .12, .10, .05, .05, .15, .30, .15, .09, .09, .28, .10, .10, .10, .30, .12, .25, .20, .40, .33, .32, .12, .12}
	points := make([]Point, len(closed))
	for i := range points {
		points[i] = Point{X: math.Pow(closed[i], .25), Y: math.Pow(open[i], .25)}
	}
	g := mustGroup(t, points)
	c, err := g.Cov()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean closed", g.Mean().X, .5642575095, 1e-9)
	near(t, "mean open", g.Mean().Y, .6029812397, 1e-9)
	near(t, "s11", c.XX, .01435023437, 1e-10)
	near(t, "s12", c.XY, .01171546534, 1e-10)
	near(t, "s22", c.YY, .01454529898, 1e-10)
	major, minor, angle := c.Axes()
	near(t, "λ1", major*major, .026163637992, 1e-11)
	near(t, "λ2", minor*minor, .002731895359, 1e-11)
	near(t, "e1 closed", math.Cos(angle), .7041573681, 1e-9)
	near(t, "e1 open", math.Sin(angle), .7100439429, 1e-9)
	det := c.Det()
	near(t, "S⁻¹ 11", c.YY/det, 203.4981478, 1e-6)
	near(t, "S⁻¹ 12", -c.XY/det, -163.9069435, 1e-6)
	near(t, "S⁻¹ 22", c.XX/det, 200.7690676, 1e-6)

	e, err := g.MeanEllipse(.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "major", e.SemiMajor, .06424194539, 1e-9)
	near(t, "minor", e.SemiMinor, .0207587715, 1e-9)
	near(t, "limit of T²", 42*squaredLimit(MeanRegion, 42, .95), 6.625040335, 1e-8)
	// The simultaneous T² intervals of the book are the shadows of the ellipse.
	halfX := math.Hypot(e.SemiMajor*math.Cos(e.Angle), e.SemiMinor*math.Sin(e.Angle))
	halfY := math.Hypot(e.SemiMajor*math.Sin(e.Angle), e.SemiMinor*math.Cos(e.Angle))
	near(t, "closed low", e.Centre.X-halfX, .5166802837, 1e-9)
	near(t, "closed high", e.Centre.X+halfX, .6118347353, 1e-9)
	near(t, "open low", e.Centre.Y-halfY, .5550817436, 1e-9)
	near(t, "open high", e.Centre.Y+halfY, .6508807357, 1e-9)
	t2 := func(x, y float64) float64 {
		dx, dy := g.Mean().X-x, g.Mean().Y-y
		return 42 * (c.YY*dx*dx - 2*c.XY*dx*dy + c.XX*dy*dy) / det
	}
	near(t, "T²(.562,.589)", t2(.562, .589), 1.257300478, 1e-8)
	near(t, "T²(.55,.60)", t2(.55, .60), 1.227116251, 1e-8)
	if !e.Contains(Point{X: .562, Y: .589}) {
		t.Error("the book finds (.562, .589) inside the 95 % ellipse")
	}
}

// Source: limits recomputed with qf of R 4.2.2; they follow from 2(n-1)/(n(n-2))
// and 2(n²-1)/(n(n-2)) times F(level; 2, n-2).
func TestSquaredLimits(t *testing.T) {
	for _, row := range []struct {
		n                int
		mean, prediction [3]float64
	}{
		{3, [3]float64{2, 66, 266}, [3]float64{8, 264, 1064}},
		{4, [3]float64{.75, 6.75, 14.25}, [3]float64{3.75, 33.75, 71.25}},
		{5, [3]float64{.469921, 2.913271, 5.094450}, [3]float64{2.819525, 17.479626, 30.566702}},
		{6, [3]float64{.345178, 1.801898, 2.893447}, [3]float64{2.416246, 12.613286, 20.254126}},
		{8, [3]float64{.227431, 1.010130, 1.500115}, [3]float64{2.046878, 9.091173, 13.501039}},
		{10, [3]float64{.170286, .700451, 1.003268}, [3]float64{1.873150, 7.704966, 11.035951}},
		{15, [3]float64{.105029, .396762, .546440}, [3]float64{1.680470, 6.348200, 8.743042}},
		{20, [3]float64{.076057, .276972, .375203}, [3]float64{1.597192, 5.816416, 7.879268}},
		{30, [3]float64{.049065, .172810, .230646}, [3]float64{1.521007, 5.357100, 7.150016}},
		{50, [3]float64{.028716, .098680, .130288}, [3]float64{1.464526, 5.032695, 6.644690}},
	} {
		for i, level := range []float64{.5, .9, .95} {
			near(t, "mean limit", squaredLimit(MeanRegion, row.n, level), row.mean[i], 1e-6)
			near(t, "prediction limit", squaredLimit(PredictionRegion, row.n, level), row.prediction[i], 1e-6)
		}
	}
}

// Source: c4 from NIST/SEMATECH e-Handbook section 6.3.2 (printed to four
// digits, from memory), here with the digits of R 4.2.2.
func TestC4(t *testing.T) {
	for n, want := range map[float64]float64{
		2: .7978845608, 3: .8862269255, 4: .9213177319, 5: .9399856030, 6: .9515328619, 7: .9593687887, 8: .9650304561, 9: .9693106997,
		10: .9726592741, 15: .9823161772, 20: .9869342675, 25: .9896403756, 30: .9914180533, 50: .9949113047,
	} {
		near(t, "c4", c4(n), want, 1e-10)
	}
	// For a round group of n shots the degrees of freedom are 2(n-1), so the
	// argument is 2n-1.
	for n, want := range map[float64]float64{3: .939985603, 4: .9593687887, 5: .9693106997, 10: .9862141369, 20: .9934434003} {
		near(t, "c4(2n-1)", c4(2*n-1), want, 1e-10)
	}
}

// Source: multipliers recomputed with qchisq of R 4.2.2.
func TestSizeMultipliers(t *testing.T) {
	for _, row := range []struct {
		n                                      int
		areaLow, areaHigh, roundLow, roundHigh float64
	}{
		{3, .5421700614, 78.9957804, .5991331391, 2.8735556341},
		{4, .5384407776, 12.3859830, .6443934079, 2.2020661128},
		{5, .5536571522, 6.46546022, .6754570344, 1.9157708829},
		{6, .5703027567, 4.58772259, .6987170442, 1.7549335473},
		{8, .5999143624, 3.17908092, .7321265847, 1.5770990123},
		{10, .6240173736, 2.60580119, .7556126331, 1.4788245361},
		{15, .6678884239, 2.02255072, .7935794610, 1.3524517089},
		{20, .6980508667, 1.78103726, .8172459193, 1.2887782333},
		{30, .7382218778, 1.55865403, .8465336443, 1.2219537310},
		{50, .7839995441, 1.38451672, .8774642251, 1.1626291850},
	} {
		// Any group of n shots will do: the multipliers depend on n alone.
		points := make([]Point, row.n)
		for i := range points {
			points[i] = Point{X: float64(i), Y: float64(i * i % 7)}
		}
		g := mustGroup(t, points)
		a, err := g.AreaScale(.95)
		if err != nil {
			t.Fatal(err)
		}
		nearRel(t, "area, low", a.Interval.Low/a.Raw, row.areaLow, 1e-8)
		nearRel(t, "area, high", a.Interval.High/a.Raw, row.areaHigh, 1e-8)
		nearRel(t, "area, correction", a.Value/a.Raw, float64(row.n-1)/float64(row.n-2), 1e-12)
		s, err := g.CircularSigma(.95)
		if err != nil {
			t.Fatal(err)
		}
		nearRel(t, "round, low", s.Interval.Low/s.Raw, row.roundLow, 1e-8)
		nearRel(t, "round, high", s.Interval.High/s.Raw, row.roundHigh, 1e-8)
	}
}

// Sources: the first two by geometry (Fermat's point of a right isosceles
// triangle; an angle of 120° or more holds the median), the third recomputed
// with an independent program; starsCYG (P. J. Rousseeuw, A. M. Leroy,
// Robust Regression and Outlier Detection, 1987, p. 27) also with pcaPP
// l1median of R; iris (R. A. Fisher 1936) recomputed.
func TestGeometricMedianChecks(t *testing.T) {
	root := (3 - math.Sqrt(3)) / 6
	for _, c := range []struct {
		what        string
		points      []Point
		x, y, total float64
		tol         float64
	}{
		{"right triangle", []Point{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 0, Y: 1}}, root, root, (math.Sqrt(6) + math.Sqrt(2)) / 2, 1e-12},
		{"obtuse triangle", []Point{{X: -3, Y: 1}, {X: 0, Y: 0}, {X: 3, Y: 1}}, 0, 0, 2 * math.Sqrt(10), 0},
		{"five points", []Point{{X: 2, Y: 1}, {X: 4, Y: 8}, {X: 7, Y: 3}, {X: 9, Y: 10}, {X: 12, Y: 2}}, 6.88597210, 3.68149369, 23.50461797, 1e-7},
		{"starsCYG", referenceGroup(t, "stars").Points(), 4.39629753, 5.04792387, 24.82378848, 1e-7},
		{"iris setosa", referenceGroup(t, "setosa").Points(), 5.00511967, 3.41197550, 21.39712614, 1e-7},
	} {
		g := mustGroup(t, c.points)
		m := g.GeometricMedian()
		near(t, c.what+" x", m.Point.X, c.x, c.tol)
		near(t, c.what+" y", m.Point.Y, c.y, c.tol)
		near(t, c.what+" total", g.MeanDistance(m.Point)*float64(g.N()), c.total, max(c.tol, 1e-15))
	}
}
