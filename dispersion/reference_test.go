package dispersion

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// near fails unless got is within tol of want, relative to the size of want
// where that is above 1.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*max(1, math.Abs(want))) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tol)
	}
}

// nearRel fails unless got is within the share tol of want.
func nearRel(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s = %.12g, want %.12g within a share of %g", what, got, want, tol)
	}
}

func mustGroup(t testing.TB, points []Point) *Group {
	t.Helper()
	g, err := NewGroup(points)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func toPoints(pairs [][2]float64) []Point {
	points := make([]Point, len(pairs))
	for i, p := range pairs {
		points[i] = Point{X: p[0], Y: p[1]}
	}
	return points
}

// referenceGroup reads one of the data sets of testdata/ref.
func referenceGroup(t testing.TB, name string) *Group {
	t.Helper()
	var sets struct{ Bivariate map[string][][2]float64 }
	readReference(t, "datasets", &sets)
	if len(sets.Bivariate[name]) == 0 {
		t.Fatalf("no data set %q", name)
	}
	return mustGroup(t, toPoints(sets.Bivariate[name]))
}

func readReference(t testing.TB, name string, into any) {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("testdata", "ref", name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(raw, into); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

// Source: geometry.py, Python fractions and mpmath 1.2.1 (40 digits).
func TestMomentsAndMedianAgainstExactArithmetic(t *testing.T) {
	for _, name := range referenceNames(t, "geometry_") {
		t.Run(name, func(t *testing.T) {
			var ref struct {
				Output struct {
					Mean          [2]float64
					Cov           [2][2]float64
					SqrtDet       float64    `json:"sqrt_det"`
					Eigenvalues   [2]float64 `json:"eigenvalues"`
					Angle         float64    `json:"major_axis_angle_rad"`
					SpatialMedian struct {
						Point  [2]float64
						Sum    float64 `json:"sum_of_distances"`
						Unique bool
					} `json:"spatial_median"`
				}
			}
			readReference(t, "geometry_"+name, &ref)
			g, want := referenceGroup(t, name), ref.Output
			c, err := g.Cov()
			if err != nil {
				t.Fatal(err)
			}
			near(t, "mean side", g.Mean().X, want.Mean[0], 1e-12)
			near(t, "mean carry", g.Mean().Y, want.Mean[1], 1e-12)
			nearRel(t, "var side", c.XX, want.Cov[0][0], 1e-12)
			near(t, "cov", c.XY, want.Cov[0][1], 1e-12)
			nearRel(t, "var carry", c.YY, want.Cov[1][1], 1e-12)
			major, minor, angle := c.Axes()
			nearRel(t, "major variance", major*major, want.Eigenvalues[0], 1e-12)
			near(t, "angle", angle, want.Angle, 1e-12)
			if name != "line6" {
				nearRel(t, "√det", c.SqrtDet(), want.SqrtDet, 1e-12)
				nearRel(t, "minor variance", minor*minor, want.Eigenvalues[1], 1e-12)
			}
			m := g.GeometricMedian()
			if unique := len(m.Warnings) == 0; unique != want.SpatialMedian.Unique {
				t.Errorf("unique = %v, want %v", unique, want.SpatialMedian.Unique)
			}
			near(t, "sum of distances", g.MeanDistance(m.Point)*float64(g.N()), want.SpatialMedian.Sum, 1e-12)
			if want.SpatialMedian.Unique {
				near(t, "median side", m.Point.X, want.SpatialMedian.Point[0], 1e-12)
				near(t, "median carry", m.Point.Y, want.SpatialMedian.Point[1], 1e-12)
			}
		})
	}
}

// Source: describe.R, R 4.2.2 (qf, qchisq, mad); this package uses neither.
func TestEllipsesAndSizesAgainstR(t *testing.T) {
	type ellipse struct {
		SemiMajor float64 `json:"semi_major"`
		SemiMinor float64 `json:"semi_minor"`
		Angle     float64 `json:"angle_rad"`
		Area      float64
	}
	for _, name := range referenceNames(t, "describe_") {
		if name == "line6" {
			continue // on one line: TestDegenerate
		}
		t.Run(name, func(t *testing.T) {
			var ref struct {
				Output struct {
					Mean       map[string]ellipse `json:"ellipse_mean"`
					Prediction map[string]ellipse `json:"ellipse_prediction"`
					MAD        [2]float64         `json:"mad_1.4826"`
					Rayleigh   struct {
						Raw   float64 `json:"sigma_var_unbiased"`
						Value float64 `json:"sigma_unbiased"`
						CI    [2]float64
					}
					Area [2]float64 `json:"area_ci95_sqrt_det_sigma"`
				}
			}
			readReference(t, "describe_"+name, &ref)
			g, want := referenceGroup(t, name), ref.Output
			for text, level := range map[string]float64{"0.5": .5, "0.9": .9, "0.95": .95} {
				for _, c := range []struct {
					make func(float64) (Ellipse, error)
					want ellipse
				}{{g.MeanEllipse, want.Mean[text]}, {g.PredictionEllipse, want.Prediction[text]}} {
					e, err := c.make(level)
					if err != nil {
						t.Fatal(err)
					}
					what := e.Kind.String() + " at " + text
					nearRel(t, what+" major", e.SemiMajor, c.want.SemiMajor, 1e-9)
					nearRel(t, what+" minor", e.SemiMinor, c.want.SemiMinor, 1e-9)
					nearRel(t, what+" area", e.Area(), c.want.Area, 1e-9)
					near(t, what+" angle", e.Angle, c.want.Angle, 1e-9)
				}
			}
			for axis, values := range [2][]float64{} {
				for _, p := range g.Points() {
					values = append(values, [2]float64{p.X, p.Y}[axis])
				}
				mad, err := ScaledMAD(values)
				if err != nil {
					t.Fatal(err)
				}
				near(t, "scaled MAD", mad, want.MAD[axis], 1e-9)
			}
			circular, err := g.CircularSigma(.95)
			if err != nil {
				t.Fatal(err)
			}
			nearRel(t, "circular sigma, raw", circular.Raw, want.Rayleigh.Raw, 1e-9)
			nearRel(t, "circular sigma", circular.Value, want.Rayleigh.Value, 1e-9)
			area, err := g.AreaScale(.95)
			if err != nil {
				t.Fatal(err)
			}
			nearRel(t, "area scale, low", area.Interval.Low, want.Area[0], 1e-9)
			nearRel(t, "area scale, high", area.Interval.High, want.Area[1], 1e-9)
		})
	}
}

func referenceNames(t *testing.T, prefix string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("testdata", "ref", prefix+"*.json"))
	if err != nil || len(files) < 10 {
		t.Fatalf("reference files: %d, %v", len(files), err)
	}
	var names []string
	for _, f := range files {
		names = append(names, strings.TrimSuffix(strings.TrimPrefix(filepath.Base(f), prefix), ".json"))
	}
	return names
}
