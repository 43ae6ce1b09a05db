package dispersion

import (
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
)

func TestBadPointsAreNamed(t *testing.T) {
	good := Point{X: 1, Y: 150}
	for _, bad := range []Point{{X: math.NaN(), Y: 1}, {X: 1, Y: math.Inf(1)}, {X: math.Inf(-1), Y: 1}, {X: 1e200, Y: 1}, {X: 1, Y: -1e151}} {
		_, err := NewGroup([]Point{good, bad, good})
		var e *PointError
		if !errors.As(err, &e) || e.Index != 1 {
			t.Errorf("%v: error %v, want a *PointError at 1", bad, err)
		}
	}
	_, err := NewGroup(nil)
	var few *TooFewError
	if !errors.As(err, &few) || few.Have != 0 || few.Need != 1 {
		t.Errorf("no points: error %v", err)
	}
}

// Anybody can make a group of no shots. Every method of it answers, and those that
// can fail say that there are too few.
func TestGroupOfNoShots(t *testing.T) {
	g := new(Group)
	group := reflect.ValueOf(g)
	for i := range group.NumMethod() {
		name, method := group.Type().Method(i).Name, group.Method(i)
		var in []reflect.Value
		for k := range method.Type().NumIn() {
			switch arg := reflect.New(method.Type().In(k)).Elem(); arg.Kind() {
			case reflect.Float64:
				arg.SetFloat(.9)
				in = append(in, arg)
			case reflect.Int:
				arg.SetInt(1)
				in = append(in, arg)
			default:
				in = append(in, arg)
			}
		}
		out := method.Call(in)
		err, fails := out[len(out)-1].Interface().(error)
		if method.Type().Out(len(out)-1) == reflect.TypeFor[error]() && (!fails || !errors.As(err, new(*TooFewError))) {
			t.Errorf("%s: error %v, want a *TooFewError", name, err)
		}
	}
	if m := g.GeometricMedian(); !errors.As(errors.Join(m.Warnings...), new(*TooFewError)) {
		t.Errorf("geometric median: %+v", m)
	}
	if h := g.ConvexHull(); len(h.Corners) != 0 || h.Shots != 0 || h.Area() != 0 {
		t.Errorf("hull: %+v", h)
	}
	if _, err := Describe(g, DescribeOptions{}); !errors.As(err, new(*TooFewError)) {
		t.Errorf("description: %v", err)
	}
}

// The zero values of what a description is made of can be written too.
func TestEmptyPartsForPrograms(t *testing.T) {
	for _, v := range []any{NamedRegion{}, Missing{}, Description{}} {
		if text, err := json.Marshal(v); err != nil {
			t.Errorf("%T: %s, %v", v, text, err)
		}
	}
}

func TestTooFewAndLevel(t *testing.T) {
	type call struct {
		what string
		need int
		f    func(*Group, float64) error
	}
	calls := []call{
		{"mean ellipse", 3, func(g *Group, l float64) error { _, err := g.MeanEllipse(l); return err }},
		{"prediction ellipse", 3, func(g *Group, l float64) error { _, err := g.PredictionEllipse(l); return err }},
		{"area scale", 3, func(g *Group, l float64) error { _, err := g.AreaScale(l); return err }},
		{"radius", 3, func(g *Group, l float64) error { _, err := g.Radius(l); return err }},
		{"MCD centre", 6, func(g *Group, l float64) error { _, err := g.MCDCentre(l); return err }},
		{"MCD ellipse", 6, func(g *Group, l float64) error { _, err := g.MCDEllipse(l); return err }},
		{"bivariate t", 5, func(g *Group, l float64) error { _, err := g.TFit(l); return err }},
		{"t ellipse", 5, func(g *Group, l float64) error { _, err := g.TEllipse(l); return err }},
		{"tolerance content", 8, func(g *Group, l float64) error { _, err := g.ToleranceEllipse(l, .9); return err }},
		{"tolerance confidence", 8, func(g *Group, l float64) error { _, err := g.ToleranceEllipse(.9, l); return err }},
		{"circular sigma", 2, func(g *Group, l float64) error { _, err := g.CircularSigma(l); return err }},
		// A centre is an answer without its region, whose error is a warning.
		{"mean centre", 3, func(g *Group, l float64) error { return missingRegion(g.MeanCentre(l)) }},
		{"geometric median centre", 3, func(g *Group, l float64) error { return missingRegion(g.GeometricMedianCentre(l)) }},
	}
	for _, c := range calls {
		var few *TooFewError
		if err := c.f(mustGroup(t, p10[:c.need-1]), .95); !errors.As(err, &few) || few.Have != c.need-1 || few.Need != c.need {
			t.Errorf("%s of %d: error %v", c.what, c.need-1, err)
		}
		if err := c.f(mustGroup(t, p10[:c.need]), .95); err != nil {
			t.Errorf("%s of %d: error %v", c.what, c.need, err)
		}
		for _, level := range []float64{0, 1, -.5, 95, math.NaN(), math.Inf(1)} {
			if err := c.f(mustGroup(t, p10), level); !errors.Is(err, ErrLevel) {
				t.Errorf("%s at level %g: error %v, want ErrLevel", c.what, level, err)
			}
		}
		if err := c.f(mustGroup(t, slices.Repeat([]Point{{X: 1, Y: 2}}, 8)), .95); !errors.Is(err, ErrDegenerate) {
			t.Errorf("%s of identical points: error %v, want ErrDegenerate", c.what, err)
		}
	}
	if _, err := mustGroup(t, p10[:1]).Cov(); !errors.As(err, new(*TooFewError)) {
		t.Errorf("covariance of one shot: error %v", err)
	}
}

// missingRegion returns the error, or why the centre has no region.
func missingRegion(c Centre, err error) error {
	if err == nil && c.Region == nil {
		return errors.Join(c.Warnings...)
	}
	return err
}

// The regions of medians need shots enough for the level, and are then lines or
// points where the shots are.
func TestMedianRegionsOfFewShots(t *testing.T) {
	for _, c := range []struct {
		what  string
		f     func(*Group, float64) (Centre, error)
		level float64
		need  int
	}{
		{"coordinatewise", (*Group).MedianCentre, .95, 7}, {"coordinatewise", (*Group).MedianCentre, .9, 6},
		{"Tukey", (*Group).TukeyMedian, .95, 9}, {"Tukey", (*Group).TukeyMedian, .9, 8},
	} {
		for n := 1; n <= 10; n++ {
			m, err := c.f(mustGroup(t, p10[:n]), c.level)
			if err != nil {
				t.Fatal(err)
			}
			var few *TooFewError
			switch {
			case n >= c.need && (m.Region == nil || m.Level != c.level || len(m.Warnings) != 0):
				t.Errorf("%s at %g, n = %d: %+v", c.what, c.level, n, m)
			case n < c.need && (m.Region != nil || !errors.As(errors.Join(m.Warnings...), &few) || few.Have != n || few.Need != c.need):
				t.Errorf("%s at %g, n = %d: %+v", c.what, c.level, n, m)
			}
		}
		same := mustGroup(t, slices.Repeat([]Point{{X: .3, Y: 150.1}}, 12))
		if m, err := c.f(same, c.level); err != nil || m.Point != same.points[0] || m.Region.Area() != 0 || !m.Region.Contains(m.Point) {
			t.Errorf("%s of identical shots: %+v, %v", c.what, m, err)
		}
		for _, level := range []float64{0, 1, 95, math.NaN()} {
			if _, err := c.f(same, level); !errors.Is(err, ErrLevel) {
				t.Errorf("%s at level %g: %v", c.what, level, err)
			}
		}
	}
}

// On one line, tenths apart: medians are midway, hulls are lines, circles stand
// on the ends.
func TestShotsOnOneLine(t *testing.T) {
	var points []Point
	for i := range 10 {
		points = append(points, Point{X: float64(3*i) / 10, Y: float64(1500+i) / 10})
	}
	g := mustGroup(t, points)
	m, err := g.TukeyMedian(.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Tukey median side", m.Point.X, 1.35, 1e-15) // midway between 1.2 and 1.5
	near(t, "Tukey median carry", m.Point.Y, 150.45, 1e-15)
	hull := g.ConvexHull()
	if len(hull.Corners) != 2 || hull.Shots != 10 || hull.Area() != 0 {
		t.Errorf("hull %+v", hull)
	}
	if got, want := g.Depths(), []int{1, 2, 3, 4, 5, 5, 4, 3, 2, 1}; !slices.Equal(got, want) {
		t.Errorf("depths %v, want %v", got, want)
	}
	if r, err := g.DepthRegion(4); err != nil || r.Shots != 4 || !slices.Equal(r.Corners, []Point{points[3], points[6]}) {
		t.Errorf("depth 4: %+v, %v", r, err)
	}
	circle, err := g.EnclosingCircle()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "radius", circle.Radius, math.Hypot(2.7, .9)/2, 1e-14)
	if c, err := g.GeometricMedianCentre(.9); err != nil || c.Region != nil || !errors.Is(errors.Join(c.Warnings...), ErrDegenerate) || !errors.Is(errors.Join(c.Warnings...), ErrNotUnique) {
		t.Errorf("geometric median: %+v, %v", c, err)
	}
	d, err := Describe(g, DescribeOptions{})
	if err != nil || !slices.ContainsFunc(d.Missing, func(m Missing) bool { return m.What == "radius" && errors.Is(m.Why, ErrDegenerate) }) {
		t.Errorf("description %+v, %v", d, err)
	}
}

// Points on a line have no area however the line lies and however far away;
// points that only nearly do still have one.
func TestDegenerate(t *testing.T) {
	for _, turn := range []float64{0, .3, math.Pi / 4, 1.2, math.Pi / 2} {
		for _, offset := range []float64{0, 1e3, 1e9} {
			line := make([]Point, 6)
			bent := make([]Point, 6)
			for i := range line {
				d := float64(i*i) + 1
				line[i] = Point{X: offset + d*math.Cos(turn), Y: offset + d*math.Sin(turn)}
				bent[i] = line[i]
			}
			bent[2] = Point{X: bent[2].X - .01*math.Sin(turn), Y: bent[2].Y + .01*math.Cos(turn)}
			if offset > 1e6 && turn != 0 && turn != math.Pi/2 {
				continue // rounding of the input takes such points off the line
			}
			if _, err := mustGroup(t, line).MeanEllipse(.9); !errors.Is(err, ErrDegenerate) {
				t.Errorf("turn %g, offset %g: error %v, want ErrDegenerate", turn, offset, err)
			}
			if _, err := mustGroup(t, bent).MeanEllipse(.9); err != nil {
				t.Errorf("turn %g, offset %g, bent: %v", turn, offset, err)
			}
		}
	}
	if _, err := referenceGroup(t, "line6").Radius(.95); !errors.Is(err, ErrDegenerate) {
		t.Errorf("line6: error %v", err)
	}
}

// Sizes from one in a billion to a thousand billion and far-off origins keep
// their digits.
func TestScaleAndOffset(t *testing.T) {
	base, err := mustGroup(t, p10).Radius(.95)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ scale, offset, tol float64 }{
		{1e-9, 0, 1e-12}, {1e12, 0, 1e-12}, {1e100, 0, 1e-12}, {1e-100, 0, 1e-12}, {1e148, 0, 1e-12}, {1, 1e12, 1e-4}, {1, 1e6, 1e-9},
	} {
		points := make([]Point, len(p10))
		for i, p := range p10 {
			points[i] = Point{X: p.X*c.scale + c.offset, Y: p.Y*c.scale - c.offset}
		}
		g := mustGroup(t, points)
		r, err := g.Radius(.95)
		if err != nil {
			t.Errorf("scale %g, offset %g: %v", c.scale, c.offset, err)
			continue
		}
		nearRel(t, "radius", r.Value/c.scale, base.Value, c.tol)
		m := g.GeometricMedian().Point
		near(t, "median side", (m.X-c.offset)/c.scale, .977289908, max(c.tol, 1e-9))
	}
}

func TestOverflowIsAnError(t *testing.T) {
	points := []Point{{X: 0, Y: 0}, {X: 1e150, Y: 0}, {X: 0, Y: 1e150}}
	if _, err := mustGroup(t, points).PredictionEllipse(1 - 1e-15); !errors.Is(err, ErrOverflow) {
		t.Errorf("error %v, want ErrOverflow", err)
	}
}

func TestFewShotsWarning(t *testing.T) {
	e, err := mustGroup(t, p10[:4]).PredictionEllipse(.95)
	if err != nil {
		t.Fatal(err)
	}
	var w *FewShotsWarning
	if len(e.Warnings) != 1 || !errors.As(e.Warnings[0], &w) {
		t.Fatalf("warnings %v", e.Warnings)
	}
	// By hand: √(71.25/5.991) = 3.45; √(20.254/5.991) = 1.84 at n = 6 and
	// √(30.567/5.991) = 2.26 at n = 5.
	if w.Have != 4 || w.Need != 6 || math.Abs(w.Times-3.4484) > 1e-3 {
		t.Errorf("warning %+v", w)
	}
	if e, _ := mustGroup(t, p10[:6]).PredictionEllipse(.95); len(e.Warnings) != 0 {
		t.Errorf("six shots: warnings %v", e.Warnings)
	}
}

func TestMedianRefusesWhatIsNoNumber(t *testing.T) {
	if _, err := ScaledMAD(nil); !errors.As(err, new(*TooFewError)) {
		t.Errorf("error %v", err)
	}
	if _, err := Median([]float64{1, math.NaN()}); err == nil || !strings.Contains(err.Error(), "value 1") {
		t.Errorf("error %v", err)
	}
}

// Every function and method here leaves what it is given as it was.
func TestInputsStayAsTheyWere(t *testing.T) {
	points := slices.Clone(p10)
	g := mustGroup(t, points)
	values := []float64{3, 1, 2}
	many := referenceGroup(t, "d40")
	manyPoints := many.Points()
	series, _ := axes(many)
	seriesBefore := slices.Clone(series)
	ellipse, err := g.MeanEllipse(.9)
	if err != nil {
		t.Fatal(err)
	}
	hull := g.ConvexHull()
	for i := range 2 {
		g.Points()[0] = Point{X: 99}
		g.Moments()
		g.Mean()
		_, _ = g.Cov()
		_, _ = g.MeanEllipse(.9)
		_, _ = g.PredictionEllipse(.9)
		_, _ = g.AreaScale(.9)
		_, _ = g.Radius(.9)
		_, _ = g.CircularSigma(.9)
		g.GeometricMedian()
		_, _ = g.GeometricMedianCentre(.9)
		_, _ = g.MeanCentre(.9)
		_, _ = g.MedianCentre(.9)
		_, _ = g.TukeyMedian(.9)
		_, _ = g.MCD(MCDOptions{})
		_, _ = g.MCD(MCDOptions{Quick: true})
		_, _ = g.MCDCentre(.9)
		_, _ = g.MCDEllipse(.9)
		_, _ = g.TFit(.9)
		_, _ = g.TEllipse(.9)
		_, _ = g.ToleranceEllipse(.9, .9)
		_, _ = g.CEP(.5, Point{})
		_, _ = many.HeavyTails()
		_, _ = many.HenzeZirkler()
		_, _ = many.Mardia()
		_, _ = Qn(values)
		_, _ = Sn(values)
		_, _ = ShapiroWilk(series)
		g.MeanDistance(Point{})
		g.Depth(Point{})
		g.Depths()[0] = 99
		_, _ = g.DepthRegion(2)
		g.ConvexHull().Corners[0] = Point{X: 99}
		hull.Outline(5)[0] = Point{X: 99}
		_, _ = g.EnclosingCircle()
		_, _ = g.LargestDistance()
		_, _ = Describe(g, DescribeOptions{})
		_, _ = Median(values)
		_, _ = ScaledMAD(values)
		ellipse.Outline(5)
		if !reflect.DeepEqual(points, p10) || !reflect.DeepEqual(g.Points(), p10) || !slices.Equal(values, []float64{3, 1, 2}) ||
			!reflect.DeepEqual(hull, g.ConvexHull()) || !slices.Equal(series, seriesBefore) || !slices.Equal(many.Points(), manyPoints) {
			t.Fatalf("round %d: an input changed", i)
		}
	}
	points[0] = Point{X: 99}
	if !reflect.DeepEqual(g.Points(), p10) {
		t.Error("the group follows the caller's slice")
	}
}

func TestResultsMarshal(t *testing.T) {
	g := mustGroup(t, p10[:4])
	e, err := g.MeanEllipse(.9)
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(struct {
		E Ellipse
		C Centre
		R Centre
	}{e, g.GeometricMedian(), Centre{Method: "mean", Point: g.Mean(), Region: &e, Level: e.Level, N: e.N}})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"side":`, `"carry":`, `"kind":"region of the mean"`, `"warnings":["with 4 shots`, `"method":"geometric median"`, `"region":null,"level":0`, `"region":{"kind":"region of the mean"`} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%s lacks %s", text, want)
		}
	}
}

// describeIsFinite marshals everything, which fails for a NaN or an infinity,
// and prints it.
func describeIsFinite(t *testing.T, g *Group, level float64) {
	if !(level > 0 && level < 1) {
		return
	}
	d, err := Describe(g, DescribeOptions{Level: level})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := json.Marshal(d); err != nil {
		t.Fatalf("%v at %g: %v", g.Points(), level, err)
	}
	if text := d.String(); strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
		t.Fatalf("%v at %g: %s", g.Points(), level, text)
	}
	for _, r := range d.Regions {
		for _, p := range r.Region.Outline(7) {
			if v := p.X*0 + p.Y*0; v != 0 { // NaN for an infinity too
				t.Fatalf("%s of %v: outline point %v", r.Name, g.Points(), p)
			}
		}
		if r.Name != "prediction ellipse" && slices.ContainsFunc(g.points, func(p Point) bool { return !r.Region.Contains(p) }) {
			t.Fatalf("%s of %v lacks a shot: %+v", r.Name, g.Points(), r.Region)
		}
	}
	depths := g.Depths()
	for i, p := range g.points {
		if depths[i] < 1 || depths[i] != g.Depth(p) {
			t.Fatalf("depths %v of %v", depths, g.Points())
		}
	}
}

// FuzzGroup looks for panics and for results that are not numbers.
func FuzzGroup(f *testing.F) {
	for _, v := range []float64{0, 1, 1e200, 1e-200, 1e149, -1e149, 5e-324, math.Inf(1)} {
		f.Add(v, 1.0, 2.0, v, -v, 3.0, .95)
		f.Add(v, v, v, v, v, v, .5)
	}
	f.Add(1e12, 1e12+1, 1e12, 1e12, 1e12+2, 1e12+3, .999999)
	f.Fuzz(func(t *testing.T, a, b, c, d, e, h, level float64) {
		g, err := NewGroup([]Point{{X: a, Y: b}, {X: c, Y: d}, {X: e, Y: h}, {X: a, Y: d}})
		if err != nil {
			return
		}
		finite := func(what string, values ...float64) {
			for _, v := range values {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%s is %g for %v at %g", what, v, g.Points(), level)
				}
			}
		}
		m := g.GeometricMedian().Point
		finite("median", m.X, m.Y, g.MeanDistance(m))
		describeIsFinite(t, g, level)
		for _, f := range []func(float64) (Ellipse, error){g.MeanEllipse, g.PredictionEllipse} {
			if e, err := f(level); err == nil {
				finite("ellipse", e.Centre.X, e.Centre.Y, e.SemiMajor, e.SemiMinor, e.Angle, e.Area())
				if !e.Contains(e.Centre) || e.SemiMinor <= 0 || e.SemiMajor < e.SemiMinor*(1-1e-12) {
					t.Fatalf("ellipse %+v", e)
				}
			}
		}
		if far, err := g.LargestDistance(); err == nil {
			finite("largest distance", far.Distance)
		}
		if r, err := g.CEP(level, Point{X: a, Y: d}); err == nil {
			finite("CEP", r)
		}
		fuzzRobust(t, finite, []Point{{X: a, Y: b}, {X: c, Y: d}, {X: e, Y: h}, {X: a, Y: d}, {X: c, Y: h}, {X: e, Y: b}, {X: a, Y: h}, {X: c, Y: b}}, level)
		for _, f := range []func(float64) (Size, error){g.AreaScale, g.Radius, g.CircularSigma} {
			if s, err := f(level); err == nil {
				finite(s.Name, s.Raw, s.Value, s.Interval.Low, s.Interval.High)
				if !(s.Interval.Low <= s.Interval.High) {
					t.Fatalf("%s: %+v", s.Name, s)
				}
			}
		}
	})
}

// fuzzRobust goes on with what needs more than four shots.
func fuzzRobust(t *testing.T, finite func(string, ...float64), points []Point, level float64) {
	g := mustGroup(t, points)
	side, carry := axes(g)
	for _, f := range []func([]float64) (float64, error){Qn, Sn} {
		for _, values := range [2][]float64{side, carry} {
			s, err := f(values)
			if err != nil {
				t.Fatal(err)
			}
			finite("pair scale", s)
		}
	}
	for _, f := range []func(float64) (Ellipse, error){
		g.MCDEllipse, g.TEllipse, func(l float64) (Ellipse, error) { return g.ToleranceEllipse(.9, .9) },
	} {
		if e, err := f(level); err == nil {
			finite("ellipse", e.Centre.X, e.Centre.Y, e.SemiMajor, e.SemiMinor, e.Angle, e.Area())
			if e.SemiMinor <= 0 {
				t.Fatalf("%v at %g: %+v", points, level, e)
			}
		}
	}
	for _, f := range []func(float64) (Centre, error){
		g.MCDCentre, func(l float64) (Centre, error) { r, err := g.TFit(l); return r.Centre, err },
	} {
		if c, err := f(level); err == nil {
			finite("centre", c.Point.X, c.Point.Y)
			if c.Region != nil {
				finite("area of its region", c.Region.Area())
			}
		}
	}
	if m, err := g.MCD(MCDOptions{}); err == nil {
		finite("distances", m.Distances...)
		finite("MCD", m.SqrtDet, m.Cov.XX, m.Cov.XY, m.Cov.YY, m.RawCov.XX, m.RawCov.YY, m.SmallSample)
	}
}
