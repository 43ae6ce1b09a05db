package compare

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// Source: R 4.2.2, acf and diff on lh and LakeHuron.
func TestSerialCorrelationAgainstR(t *testing.T) {
	for _, name := range []string{"lh", "LakeHuron"} {
		want := evidence(t, "serial "+name)
		x := evidenceData(t, "data "+name, "x")
		s, err := SerialCorrelation(x)
		if err != nil || s.N != len(x) {
			t.Fatalf("%+v, %v", s, err)
		}
		near(t, name+" r1", s.R1, want["r1"], 1e-10)
		near(t, name+" ratio", s.VonNeumann, want["ratio"], 1e-10)
	}
}

// By hand: two stages 1 2 3 and 11 12 13, deviations -1 0 1 twice: no products
// of neighbours, squares 4, steps 4. The leap between the stages doesn't count.
func TestSerialCorrelationStaysWithinStages(t *testing.T) {
	s, err := SerialCorrelation([]float64{1, 2, 3}, []float64{11, 12, 13})
	if err != nil || s != (Serial{N: 6, R1: 0, VonNeumann: 1}) {
		t.Errorf("%+v, %v", s, err)
	}
}

// Source: R 4.2.2, from the full correlation matrix of n shots.
func TestIfCorrelatedAgainstR(t *testing.T) {
	for _, n := range []int{2, 5, 10, 20} {
		for _, r := range []float64{0.1, 0.2, 0.3} {
			near(t, fmt.Sprintf("n %d, r %g", n, r), serialTimes(n, r), evidence(t, fmt.Sprintf("times %d %g", n, r))["times"], 1e-12)
		}
	}
	e := carryEffect(3, 4, 18)
	i, err := IfCorrelated(e, 0.3)
	want := 4 * serialTimes(10, 0.3)
	if err != nil || i != (dispersion.Interval{Low: 3 - want, High: 3 + want, Level: 0.95}) {
		t.Errorf("%+v, %v", i, err)
	}
	if i, err := IfCorrelated(e, 0); err != nil || i != e.Interval {
		t.Errorf("no correlation: %+v, %v", i, err)
	}
}

func TestSerialErrors(t *testing.T) {
	var few *dispersion.TooFewError
	if _, err := SerialCorrelation(); !errors.As(err, &few) {
		t.Errorf("nothing: %v", err)
	}
	if _, err := SerialCorrelation([]float64{1, 2, 3}, []float64{1, 2}); !errors.As(err, &few) || few.Have != 2 {
		t.Errorf("two shots: %v", err)
	}
	if _, err := SerialCorrelation([]float64{1, 1, 1}); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("no spread: %v", err)
	}
	var value *ValueError
	if _, err := SerialCorrelation([]float64{1, math.NaN(), 1}); !errors.As(err, &value) {
		t.Errorf("NaN: %v", err)
	}
	for _, r := range []float64{-0.1, 0.95, math.NaN()} {
		if _, err := IfCorrelated(carryEffect(3, 4, 18), r); !errors.Is(err, ErrCorrelation) {
			t.Errorf("r = %g: %v", r, err)
		}
	}
	if _, err := IfCorrelated(ratioEffect(NameSpreadRatio, 1, 2), 0.1); !errors.Is(err, ErrEffect) {
		t.Errorf("a ratio: %v", err)
	}
}
