package practice

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// Source: R 4.2.2, nls with SSasymp, and profile intervals by confint of MASS
// 7.3-58.2, in testdata/ref/curve.R: the heights of the trees of Loblolly, which
// come with R, and an invented season of 16 sessions.
func TestCurveAgainstR(t *testing.T) {
	text, err := os.ReadFile("testdata/ref/curve.json")
	if err != nil {
		t.Fatal(err)
	}
	var cases struct {
		Trees, Invented struct {
			At, Y, Plateau, Start, Half, Fitted []float64
			SD                                  float64
		}
	}
	if err := json.Unmarshal(text, &cases); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]struct {
		At, Y, Plateau, Start, Half, Fitted []float64
		SD                                  float64
	}{"trees": cases.Trees, "invented": cases.Invented} {
		c, err := PracticeCurve(name, "", want.At, want.Y, 0)
		if err != nil {
			t.Fatal(err)
		}
		if !c.HasPlateau || len(c.Warnings) != 0 {
			t.Errorf("%s: %v", name, c.Warnings)
		}
		for what, pair := range map[string]struct {
			got  Estimate
			want []float64
		}{"plateau": {c.Plateau, want.Plateau}, "start": {c.Start, want.Start}, "half-life": {c.HalfLife, want.Half}} {
			agrees(t, name+" "+what, pair.got.Value, pair.want[0], 1e-5)
			// MASS reads its ends off a spline through the profile.
			agrees(t, name+" low of "+what, pair.got.Interval.Low, pair.want[1], 1e-3)
			agrees(t, name+" high of "+what, pair.got.Interval.High, pair.want[2], 1e-3)
		}
		agrees(t, name+" sd", c.SD, want.SD, 1e-7)
		for i, v := range want.Fitted {
			agrees(t, name+" fitted", c.Fitted[i].Value, v, 1e-5)
		}
	}
}

// By hand: 100 + 50·exp(-0.3·N) at N = 1 to 4 is 137.04091, 127.44058, 120.32848,
// 115.05971; sessions on a curve exactly leave nothing over, so the fit below the
// public call is what finds it again. The half-life is ln 2/0.3 = 2.31049.
func TestCurveFindsItself(t *testing.T) {
	at, y := make([]float64, 12), make([]float64, 12)
	for i := range at {
		at[i] = float64(i + 1)
		y[i] = 100 + 50*math.Exp(-.3*at[i])
	}
	for i, want := range []float64{137.04091, 127.44058, 120.32848, 115.05971} {
		agrees(t, "value", y[i], want, 1e-7)
	}
	f, err := newCurveFit(at, y)
	if err != nil {
		t.Fatal(err)
	}
	best := f.best()
	agrees(t, "plateau", f.centre+f.unit*best.a, 100, 1e-6)
	agrees(t, "start", f.centre+f.unit*(best.a+best.b), y[0], 1e-7)
	agrees(t, "half-life", math.Ln2/best.rate*f.span, math.Ln2/.3, 1e-6)
	if _, err := PracticeCurve("", "", at, y, 0); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("exact: %v", err)
	}
}

// The intervals of start, half-life and the curve at the last session hold the truth
// in 95 of 100 seasons of 14 sessions.
func TestCurveCoverage(t *testing.T) {
	r := rand.New(resample.NewStream(9, "curve coverage", 0))
	const seasons = 1000
	held := map[string]int{}
	at, y := make([]float64, 14), make([]float64, 14)
	last := 160 - 20*math.Exp2(-13.0/3)
	for range seasons {
		for i := range at {
			at[i] = float64(i)
			y[i] = 160 - 20*math.Exp2(-at[i]/3) + 2*r.NormFloat64()
		}
		c, err := PracticeCurve("carry", "yd", at, y, 0)
		if err != nil {
			t.Fatal(err)
		}
		for what, pair := range map[string]struct {
			e     Estimate
			truth float64
		}{"start": {c.Start, 140}, "half-life": {c.HalfLife, 3}, "last": {c.Fitted[13], last}} {
			if pair.e.Interval.Low <= pair.truth && pair.truth <= pair.e.Interval.High {
				held[what]++
			}
		}
	}
	for what, k := range held {
		if share := float64(k) / seasons; math.Abs(share-.95) > 4*math.Sqrt(.95*.05/seasons) {
			t.Errorf("%s: %.3f of the intervals hold the truth", what, share)
		}
	}
	if len(held) != 3 {
		t.Errorf("%v", held)
	}
}

func TestCurveErrorsAndWarnings(t *testing.T) {
	at := []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}
	noise := []float64{.3, -.5, .2, .6, -.7, .1, -.2, .4, -.6, .4}
	c, err := PracticeCurve("carry", "yd", at[:9], noise[:9], 0)
	var few *CurveError
	if !errors.As(err, &few) || few.Have != 9 || few.Need != 10 || !slices.Equal(c.Values, noise[:9]) || len(c.Fitted) != 0 {
		t.Errorf("nine sessions: %+v, %v", c, err)
	}
	straight := slices.Clone(noise)
	for i := range straight {
		straight[i] = 5*at[i] + noise[i]
	}
	c, err = PracticeCurve("carry", "yd", at, straight, 0)
	if err != nil || c.HasPlateau || c.Plateau != (Estimate{}) || !slices.Contains(c.Warnings, ErrNoPlateau) || slices.Contains(c.Warnings, ErrFlat) {
		t.Errorf("straight: %+v, %v", c, err)
	}
	c, err = PracticeCurve("carry", "yd", at, noise, 0)
	if err != nil || !slices.Contains(c.Warnings, ErrFlat) {
		t.Errorf("flat: %+v, %v", c.Warnings, err)
	}
	// Two sessions on one day, and days out of order, are no trouble.
	if _, err := PracticeCurve("carry", "yd", []float64{5, 5, 1, 2, 3, 4, 9, 8, 7, 6}, noise, 0); err != nil {
		t.Error(err)
	}
	var value *ColumnValueError
	if _, err := PracticeCurve("", "", at[:5], noise, 0); !errors.Is(err, ErrColumns) {
		t.Error(err)
	}
	if _, err := PracticeCurve("", "", at, append(slices.Clone(noise[:9]), math.NaN()), 0); !errors.As(err, &value) || value.Index != 9 {
		t.Error(err)
	}
	if _, err := PracticeCurve("", "", at, at, 95); !errors.Is(err, dispersion.ErrLevel) {
		t.Error(err)
	}
	ones := make([]float64, 10)
	for _, pair := range [][2][]float64{{at, ones}, {ones, noise}} {
		if _, err := PracticeCurve("", "", pair[0], pair[1], 0); !errors.Is(err, dispersion.ErrDegenerate) {
			t.Error(err)
		}
	}
}
