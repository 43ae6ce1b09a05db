package compare

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// The golden values are R 4.2.2's, made by testdata/ref/compare.R from open data.

// golden returns the values of each case, by quantity.
func golden(t testing.TB) map[string]map[string]float64 {
	t.Helper()
	cases := map[string]map[string]float64{}
	for _, row := range readTable(t, "testdata/golden.csv") {
		if cases[row[0]] == nil {
			cases[row[0]] = map[string]float64{}
		}
		cases[row[0]][row[1]] = number(t, row[2])
	}
	return cases
}

// sample returns one of the open data sets as points.
func sample(t testing.TB, name string) []dispersion.Point {
	t.Helper()
	var points []dispersion.Point
	for _, row := range readTable(t, "testdata/samples.csv") {
		if row[0] == name {
			points = append(points, dispersion.Point{X: number(t, row[1]), Y: number(t, row[2])})
		}
	}
	if len(points) == 0 {
		t.Fatalf("no sample %q", name)
	}
	return points
}

// pair returns the two groups of a golden case such as "setosa versicolor 0.95".
func pair(t testing.TB, name string) (before, after *dispersion.Group, level float64) {
	t.Helper()
	words := strings.Fields(name)
	return group(t, sample(t, words[0])), group(t, sample(t, words[1])), number(t, words[2])
}

// readTable returns the rows of a CSV file without its comments and header.
func readTable(t testing.TB, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %d rows, error %v", path, len(rows), err)
	}
	return rows[1:]
}

func number(t testing.TB, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func group(t testing.TB, points []dispersion.Point) *dispersion.Group {
	t.Helper()
	g, err := dispersion.NewGroup(points)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// near fails unless got is within the share tolerance of want.
func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %.15g, want %.15g", what, got, want)
	}
}

var ctx = context.Background()

func TestEffectsAgainstR(t *testing.T) {
	exact := 0
	for name, want := range golden(t) {
		if _, ok := want["df"]; !ok {
			continue
		}
		before, after, level := pair(t, name)
		o := Options{Level: level}
		check := func(kind string, e Effect, err error) {
			t.Helper()
			if err != nil {
				t.Errorf("%s %s: %v", name, kind, err)
				return
			}
			near(t, name+" "+kind+"estimate", e.Estimate, want[kind+"estimate"], 1e-9)
			near(t, name+" "+kind+"low", e.Interval.Low, want[kind+"low"], 1e-9)
			near(t, name+" "+kind+"high", e.Interval.High, want[kind+"high"], 1e-9)
			if p, ok := want[kind+"p"]; ok {
				near(t, name+" "+kind+"p", e.P, p, 1e-8)
			}
			if b, ok := want[kind+"before"]; ok {
				near(t, name+" "+kind+"before", e.Before, b, 1e-9)
				near(t, name+" "+kind+"after", e.After, want[kind+"after"], 1e-9)
			}
			if e.N1 != before.N() || e.N2 != after.N() || e.Interval.Level != level {
				t.Errorf("%s %s: %d against %d at %g echoed", name, kind, e.N1, e.N2, e.Interval.Level)
			}
		}
		e, err := CarryGain(ctx, before, after, o)
		check("", e, err)
		near(t, name+" df", e.DF, want["df"], 1e-9)
		if p, ok := want["permutation_p"]; ok {
			exact++
			near(t, name+" permutation", e.P, p, 1e-14)
		}
		if _, ok := want["area_estimate"]; !ok {
			continue
		}
		e, err = AreaRatio(ctx, before, after, o)
		check("area_", e, err)
		near(t, name+" areas", e.After/e.Before, want["area_r"], 1e-9)
		e, err = SpreadRatio(ctx, before, after, o)
		check("spread_", e, err)
		e, err = AngleSpreadRatio(ctx, before, after, o)
		check("angle_", e, err)
	}
	if exact != 4 {
		t.Errorf("%d exact permutation p-values checked, want 4", exact)
	}
}

// reference returns one of the groups of the dispersion package's reference data.
func reference(t testing.TB, name string) *dispersion.Group {
	t.Helper()
	raw, err := os.ReadFile("../testdata/ref/datasets.json")
	if err != nil {
		t.Fatal(err)
	}
	var sets struct{ Bivariate map[string][][2]float64 }
	if err := json.Unmarshal(raw, &sets); err != nil || len(sets.Bivariate[name]) == 0 {
		t.Fatalf("no data set %q: %v", name, err)
	}
	var points []dispersion.Point
	for _, p := range sets.Bivariate[name] {
		points = append(points, dispersion.Point{X: p[0], Y: p[1]})
	}
	return group(t, points)
}
