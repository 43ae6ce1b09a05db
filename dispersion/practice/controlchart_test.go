package practice

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// unitPattern has mean (0, 150) and standard deviations of √(12/11)·6 side and
// √(12/11)·8 carry without correlation.
func unitPattern(t testing.TB) *dispersion.Group {
	t.Helper()
	var points []dispersion.Point
	for _, p := range [][2]float64{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
		points = append(points, dispersion.Point{X: 6 * p[0], Y: 150 + 8*p[1]})
	}
	g, err := dispersion.NewGroup(points)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// By hand: T² is side²/(36·12/11) + carry²/(64·12/11).
func TestSignalsAreExplainedInThePlane(t *testing.T) {
	watched := []dispersion.Point{
		{X: 3, Y: 152}, {X: -60, Y: 150}, {X: 0, Y: 80}, {X: -60, Y: 80}, {X: 60, Y: 151}, {X: 0, Y: 260},
	}
	c, err := NewControlChart(unitPattern(t), watched, 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "T2", c.Watched[3].T2, 3600/(36*12/11.0)+4900/(64*12/11.0), 1e-12)
	want := []string{"", "further left", "shorter", "shorter and further left", "further right and wider", "longer and wider"}
	for i, s := range c.Watched {
		if got := strings.Join(s.Says, " and "); got != want[i] || s.Signal != (want[i] != "") {
			t.Errorf("shot %d says %q, want %q", i+1, got, want[i])
		}
	}
	if !slices.Equal(c.Signals(), []int{1, 2, 3, 4, 5}) || c.RunLength != 150 {
		t.Errorf("signals %v", c.Signals())
	}
	if s := c.Sentence(); !strings.HasPrefix(s, "Ball 2 is the first that the pattern does not explain: further left. There are 4 more, the last one longer and wider.") {
		t.Error(s)
	}
	if c.Watched[3].Side != -60 || c.Watched[3].Carry != -70 {
		t.Errorf("off by %g, %g", c.Watched[3].Side, c.Watched[3].Carry)
	}
	quiet, err := NewControlChart(unitPattern(t), watched[:1], 0)
	if err != nil || quiet.Signals() != nil || !strings.HasPrefix(quiet.Sentence(), "None of these 1") {
		t.Errorf("%v %s", err, quiet.Sentence())
	}
	alone, err := NewControlChart(unitPattern(t), nil, 0)
	if err != nil || !strings.Contains(alone.Sentence(), "nothing was held") {
		t.Errorf("%v %s", err, alone.Sentence())
	}
}

// Where carry and side hang together, a shot off across them is named by both.
func TestSignalAcrossASlant(t *testing.T) {
	var points []dispersion.Point
	for i := range 10 {
		u, v := float64(i)-4.5, float64(i%2)-0.5
		points = append(points, dispersion.Point{X: 4*u + v, Y: 150 + 4*u - v})
	}
	g, err := dispersion.NewGroup(points)
	if err != nil {
		t.Fatal(err)
	}
	c, err := NewControlChart(g, []dispersion.Point{{X: -9, Y: 159}}, 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(c.Watched[0].Says, " and "); got != "longer and further left" {
		t.Errorf("%q, %+v", got, c.Watched[0])
	}
}

// Turning, scaling and shifting the plane leaves T² as it is.
func TestT2IsAffine(t *testing.T) {
	g := readGolden(t)
	pattern, watched := irisShots(t, g)
	change := func(points []dispersion.Point) []dispersion.Point {
		out := make([]dispersion.Point, len(points))
		for i, p := range points {
			out[i] = dispersion.Point{X: 3*p.X - 2*p.Y + 7, Y: p.X + 5*p.Y - 90}
		}
		return out
	}
	turned, err := dispersion.NewGroup(change(pattern.Points()))
	if err != nil {
		t.Fatal(err)
	}
	a, err1 := NewControlChart(pattern, watched, 100)
	b, err2 := NewControlChart(turned, change(watched), 100)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	for i := range a.Watched {
		near(t, "T2", b.Watched[i].T2, a.Watched[i].T2, 1e-9)
	}
}

func TestControlChartErrors(t *testing.T) {
	g := unitPattern(t)
	line := make([]dispersion.Point, 12)
	for i := range line {
		line[i] = dispersion.Point{X: float64(i), Y: 2 * float64(i)}
	}
	flat, err := dispersion.NewGroup(line)
	if err != nil {
		t.Fatal(err)
	}
	few, err := dispersion.NewGroup(line[:5])
	if err != nil {
		t.Fatal(err)
	}
	if _, err := NewControlChart(nil, nil, 0); !errors.Is(err, ErrMissing) {
		t.Errorf("no pattern: %v", err)
	}
	if _, err := NewControlChart(flat, nil, 0); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("on one line: %v", err)
	}
	var tooFew *dispersion.TooFewError
	if _, err := NewControlChart(few, nil, 0); !errors.As(err, &tooFew) {
		t.Errorf("five shots: %v", err)
	}
	if _, err := NewControlChart(g, nil, 5); !errors.Is(err, ErrRunLength) {
		t.Errorf("run length 5: %v", err)
	}
	var point *dispersion.PointError
	if _, err := NewControlChart(g, []dispersion.Point{{X: math.NaN()}}, 0); !errors.As(err, &point) {
		t.Errorf("NaN: %v", err)
	}
	c, err := NewControlChart(g, nil, 0)
	var warning *FewShotsWarning
	if err != nil || len(c.Warnings) != 1 || !errors.As(c.Warnings[0], &warning) || warning.Need != usefulPattern {
		t.Errorf("twelve shots: %v, %v", c.Warnings, err)
	}
	// What the warning says: at 20 shots less than 1.3 times the limit of a known
	// pattern, -2·ln(1-½^(1/150)); at 19 not.
	known := -2 * math.Log(-math.Expm1(-math.Ln2/150))
	at20, err1 := LimitRunLength(20, 150)
	at19, err2 := LimitRunLength(19, 150)
	if err1 != nil || err2 != nil || at20 >= 1.3*known || at19 < 1.29*known {
		t.Errorf("%g and %g against %g; %v %v", at20, at19, known, err1, err2)
	}
}

// Of a pattern of a million shots nothing is left to chance: the limit is that of
// χ² on two degrees of freedom.
func TestLimitOfAKnownPattern(t *testing.T) {
	got, err := LimitRunLength(1_000_000, 150)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "limit", got, -2*math.Log(1-math.Pow(0.5, 1.0/150)), 1e-4)
}
