package practice

import (
	"errors"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// Six targets, four judges.
var judges = [][]float64{{9, 2, 5, 8}, {6, 1, 3, 2}, {8, 4, 6, 8}, {7, 1, 2, 6}, {10, 5, 6, 9}, {6, 2, 4, 7}}

// Source: P. E. Shrout, J. L. Fleiss, Psychological Bulletin 86(2), 1979, tables 2
// to 4: mean squares and ICCs, printed to two digits; more digits from R 4.2.2,
// aov. The intervals are those that psych prints for these data, from memory.
func TestShroutFleissTable(t *testing.T) {
	r, err := ShroutFleiss(judges, 0)
	if err != nil {
		t.Fatal(err)
	}
	agrees(t, "BMS", r.Between, 11.2416667, 1e-8)
	agrees(t, "WMS", r.Within, 6.2638889, 1e-8)
	agrees(t, "JMS", r.JudgeSquare, 32.4861111, 1e-8)
	agrees(t, "EMS", r.Remainder, 1.0194444, 1e-7)
	for _, c := range []struct {
		got             ICC
		form            string
		want, low, high float64
	}{
		{r.Single1, "(1,1)", .16574177, -.133, .72},
		{r.Single2, "(2,1)", .28976378, .019, .76},
		{r.Single3, "(3,1)", .71484071, .342, .95},
		{r.Average1, "(1,k)", .44279713, -.884, .91},
		{r.Average2, "(2,k)", .62005055, .071, .93},
		{r.Average3, "(3,k)", .90931554, .676, .99},
	} {
		agrees(t, c.form, c.got.Value, c.want, 1e-8)
		agrees(t, "low of "+c.form, c.got.Interval.Low, c.low, 6e-4)
		agrees(t, "high of "+c.form, c.got.Interval.High, c.high, 6e-3)
		if c.got.Form != c.form || c.got.Interval.Level != 0.95 {
			t.Errorf("%s: %+v", c.form, c.got)
		}
	}
}

// Form (1,1) is the share of variance between targets that restricted likelihood
// finds with the judges left out of it.
//
// Source: P. E. Shrout, J. L. Fleiss 1979, as above.
func TestRepeatabilityOfShroutFleiss(t *testing.T) {
	var values []Measured
	for i, row := range judges {
		for _, v := range row {
			values = append(values, Measured{Session: string(rune('a' + i)), Value: v})
		}
	}
	f, err := FitMixed(SessionModel("rating", "", values), FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	r, err := f.Repeatability("sessions", 4)
	if err != nil {
		t.Fatal(err)
	}
	agrees(t, "ICC", r.ICC, .16574177, 1e-7)
	between, within := (11.2416667-6.2638889)/4, 6.2638889
	agrees(t, "between", r.Between.SD, math.Sqrt(between), 1e-7)
	agrees(t, "within", r.Within.SD, math.Sqrt(within), 1e-7)
	agrees(t, "error", r.Error, math.Sqrt(11.2416667/4), 1e-7) // √(BMS/k)
	agrees(t, "change", r.Change, 1.959964*math.Sqrt2*math.Sqrt(11.2416667/4), 1e-6)
	// Balanced: the F interval without the profile's approximation. The profile is a
	// little narrower upward, and stops at 0 below.
	if i := r.ICCInterval; i.Low != 0 || i.High < .6 || i.High > .8 {
		t.Errorf("interval of the ICC %v", i)
	}
}

func TestReliabilityErrors(t *testing.T) {
	var levels *LevelsError
	var value *ColumnValueError
	for _, table := range [][][]float64{nil, {{1, 2}}, {{1}, {2}}} {
		if _, err := ShroutFleiss(table, 0); !errors.As(err, &levels) {
			t.Errorf("%v: %v", table, err)
		}
	}
	if _, err := ShroutFleiss([][]float64{{1, 2}, {1}}, 0); !errors.Is(err, ErrColumns) {
		t.Errorf("ragged: %v", err)
	}
	if _, err := ShroutFleiss([][]float64{{1, 2}, {1, math.NaN()}}, 0); !errors.As(err, &value) || value.Index != 1 {
		t.Errorf("NaN: %v", err)
	}
	if _, err := ShroutFleiss([][]float64{{1, 2}, {2, 3}, {3, 4}}, 0); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("nothing left: %v", err)
	}
	if _, err := ShroutFleiss(judges, 95); !errors.Is(err, dispersion.ErrLevel) {
		t.Errorf("level: %v", err)
	}
	if _, err := (MixedFit{}).Repeatability("sessions", 3); !errors.Is(err, ErrColumns) {
		t.Errorf("no fit: %v", err)
	}
}
