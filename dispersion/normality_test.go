package dispersion

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Sources: the first sample is that of S. S. Shapiro, M. B. Wilk 1965 (W = .79
// there, from memory); all recomputed with shapiro.test of R 4.2.2. The first
// two are smaller than the public test takes.
func TestShapiroWilkChecks(t *testing.T) {
	for _, c := range []struct {
		values []float64
		w, p   float64
	}{
		{[]float64{148, 154, 158, 160, 161, 162, 166, 170, 182, 195, 236}, .7888148, .0067038},
		{[]float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, .970165, .89237},
	} {
		w, p := shapiroWilk(c.values)
		near(t, "W", w, c.w, 1e-6)
		near(t, "p", p, c.p, 1e-5)
	}
	side, carry := axes(mustGroup(t, p10))
	slices.Sort(side)
	slices.Sort(carry)
	w, p := shapiroWilk(side)
	near(t, "W of p10 side", w, .860026308, 1e-8)
	near(t, "p of p10 side", p, .0763632904, 1e-8)
	w, p = shapiroWilk(carry)
	near(t, "W of p10 carry", w, .90670809, 1e-8)
	near(t, "p of p10 carry", p, .259135675, 1e-8)

	// Sepal widths of the 150 irises of R. A. Fisher 1936.
	var widths []float64
	for _, name := range []string{"setosa", "versicolor", "virginica"} {
		_, w := axes(referenceGroup(t, name))
		widths = append(widths, w...)
	}
	r, err := ShapiroWilk(widths)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "W of iris", r.Statistic, .984918, 1e-6)
	near(t, "p of iris", r.P, .10115, 1e-5)
}

// Source: describe.R: shapiro.test of R 4.2.2, and Mardia's sums written out.
// SciPy 1.10.1 differs from R in the seventh digit of W (single precision).
func TestNormalityAgainstR(t *testing.T) {
	for _, name := range referenceNames(t, "describe_") {
		type test struct{ W, P float64 }
		var ref struct {
			Output struct {
				Shapiro struct{ X, Y test } `json:"shapiro_wilk"`
				Mardia  *struct {
					B1, B2    float64
					PSkewness float64 `json:"skew_p_small_n"`
					PKurtosis float64 `json:"kurt_p"`
				}
			}
		}
		readReference(t, "describe_"+name, &ref)
		g := referenceGroup(t, name)
		side, carry := axes(g)
		for i, values := range [2][]float64{side, carry} {
			want := [2]test{ref.Output.Shapiro.X, ref.Output.Shapiro.Y}[i]
			slices.Sort(values)
			w, p := shapiroWilk(values)
			near(t, name+" W", w, want.W, 1e-9)
			near(t, name+" p", p, want.P, 1e-7)
		}
		if want := ref.Output.Mardia; want != nil && name != "line6" {
			m := mardia(whiten(g.points, g.moments))
			near(t, name+" skewness", m.Skewness, want.B1, 1e-9)
			near(t, name+" kurtosis", m.Kurtosis, want.B2, 1e-9)
			near(t, name+" p of skewness", m.PSkewness, want.PSkewness, 1e-9)
			near(t, name+" p of kurtosis", m.PKurtosis, want.PKurtosis, 1e-9)
		}
	}
}

// Source: recomputed with R 4.2.2 from the formulas of Henze and Zirkler 1990
// and Mardia 1970. Their printed examples have four columns.
func TestNormalityInThePlane(t *testing.T) {
	g := referenceGroup(t, "setosa")
	hz, err := g.HenzeZirkler()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "HZ", hz.Statistic, .285600686, 1e-8)
	near(t, "p", hz.P, .914633596, 1e-8)
	m, err := g.Mardia()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "skewness", m.Skewness, .0911404230, 1e-9)
	near(t, "kurtosis", m.Kurtosis, 8.105737982, 1e-9)
}

// A p-value is a promise about normal shots: below .05 in about 5 % of lessons.
func TestNormalityTestsKeepTheirSize(t *testing.T) {
	const lessons = 2000
	rng := rand.New(rand.NewPCG(11, 12))
	var shapiro, henze int
	points := make([]Point, 25)
	for range lessons {
		for i := range points {
			points[i] = Point{X: rng.NormFloat64(), Y: rng.NormFloat64()}
		}
		g := mustGroup(t, points)
		side, _ := axes(g)
		s, err := ShapiroWilk(side)
		if err != nil {
			t.Fatal(err)
		}
		h, err := g.HenzeZirkler()
		if err != nil {
			t.Fatal(err)
		}
		if s.P < .05 {
			shapiro++
		}
		if h.P < .05 {
			henze++
		}
	}
	band := 4 * math.Sqrt(.05*.95/lessons)
	for what, count := range map[string]int{"Shapiro-Wilk": shapiro, "Henze-Zirkler": henze} {
		if share := float64(count) / lessons; math.Abs(share-.05) > band {
			t.Errorf("%s: %.4f of normal groups below .05, want .05 ± %.4f", what, share, band)
		}
	}
}

func TestNormalityRefuses(t *testing.T) {
	var few *TooFewError
	if _, err := ShapiroWilk(make([]float64, 19)); !errors.As(err, &few) || few.Need != 20 {
		t.Errorf("19 values: error %v", err)
	}
	if _, err := ShapiroWilk(make([]float64, 20)); !errors.Is(err, ErrDegenerate) {
		t.Errorf("equal values: error %v", err)
	}
	if _, err := ShapiroWilk(make([]float64, 5001)); !errors.Is(err, ErrTooMany) {
		t.Errorf("5001 values: error %v", err)
	}
	line := make([]Point, 25)
	for i := range line {
		line[i] = Point{X: float64(i), Y: 2 * float64(i)}
	}
	if _, err := mustGroup(t, line).HenzeZirkler(); !errors.Is(err, ErrDegenerate) {
		t.Errorf("a line: error %v", err)
	}
	if _, err := mustGroup(t, p10).Mardia(); !errors.As(err, &few) {
		t.Errorf("ten shots: error %v", err)
	}
}
