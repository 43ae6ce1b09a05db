package compare

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// Source: mpmath 1.3.0, 30 digits (testdata/ref/noncentral.py).
func TestNoncentralTAgainstIntegration(t *testing.T) {
	worst := 0.0
	for _, row := range readTable(t, "testdata/noncentral_t.csv") {
		got := noncentralT(number(t, row[0]), number(t, row[1]), number(t, row[2]))
		worst = max(worst, math.Abs(got-number(t, row[3])))
	}
	if worst > 1e-12 {
		t.Errorf("off by up to %.2g, want 1e-12", worst)
	}
}

// Source: mpmath 1.3.0, 30 digits (testdata/ref/noncentral.py); R 4.2.2, power.t.test(strict = TRUE).
func TestPowerOfMeans(t *testing.T) {
	for _, row := range readTable(t, "testdata/power_t.csv") {
		got := meanPower(number(t, row[0]), number(t, row[1]), 0.95)
		if want := number(t, row[2]); math.Abs(got-want) > 1e-11 {
			t.Errorf("n %s, d %s: power %.13g, want %.13g", row[0], row[1], got, want)
		}
	}
	for name, want := range golden(t) {
		if rest, ok := strings.CutPrefix(name, "power mean "); ok {
			w := strings.Fields(rest)
			near(t, name, meanPower(number(t, w[0]), number(t, w[1]), 0.95), want["power"], 1e-8)
		}
		// A fractional n, as R's uniroot finds it.
		if rest, ok := strings.CutPrefix(name, "balls mean "); ok {
			near(t, name, meanPower(want["n"], number(t, rest), 0.95), 0.80, 1e-8)
		}
	}
}

// Source: R 4.2.2, pf and qf.
func TestPowerOfAreas(t *testing.T) {
	for name, want := range golden(t) {
		if rest, ok := strings.CutPrefix(name, "power F "); ok {
			n := number(t, rest)
			near(t, name+" one axis", fPower(n-1, 2.25, 0.95), want["one_axis"], 1e-10)
			near(t, name+" circular", fPower(2*n-2, 2.25, 0.95), want["circular"], 1e-10)
		}
	}
}

// Source: R 4.2.2, the first n at which power.t.test(strict = TRUE) or pf
// reaches 0.80. A gain of d standard deviations takes 394, 64 and 26 (Cohen 1988
// prints 393, 64, 26; from memory).
func TestBallsAgainstR(t *testing.T) {
	checked := 0
	for name, want := range golden(t) {
		words := strings.Fields(name)
		var got int
		var err error
		switch {
		case strings.HasPrefix(name, "balls carry"):
			got, err = BallsForCarry(number(t, words[2]), 5, 0.8, 0.95)
		case strings.HasPrefix(name, "balls area"):
			got, err = BallsForArea(number(t, words[2]), 0.8, 0.95)
		case strings.HasPrefix(name, "balls mean"):
			got, err = BallsForCarry(1, number(t, words[2]), 0.8, 0.95)
		default:
			continue
		}
		checked++
		if err != nil || got != int(math.Ceil(want["n"])) {
			t.Errorf("%s: %d balls, error %v, want %v", name, got, err, want["n"])
		}
	}
	if checked != 11 {
		t.Errorf("%d plans checked, want 11", checked)
	}
}

func TestPlansAtTheEnds(t *testing.T) {
	// A huge effect needs the fewest balls that have an interval at all.
	if n, err := BallsForCarry(1, 1e6, 0.8, 0.95); err != nil || n != 2 {
		t.Errorf("a huge gain: %d, %v, want 2", n, err)
	}
	if n, err := BallsForArea(1e-9, 0.8, 0.95); err != nil || n != 3 {
		t.Errorf("a huge ratio: %d, %v, want 3", n, err)
	}
	down, _ := BallsForArea(0.6, 0.9, 0.9)
	if up, err := BallsForArea(1/0.6, 0.9, 0.9); err != nil || up != down {
		t.Errorf("a ratio takes %d, its inverse %d, error %v", down, up, err)
	}
	if _, err := BallsForCarry(1000, 1, 0.8, 0.95); !errors.Is(err, ErrOutOfReach) {
		t.Errorf("a tiny gain: %v", err)
	}
	if _, err := BallsForArea(1.0001, 0.8, 0.95); !errors.Is(err, ErrOutOfReach) {
		t.Errorf("a tiny ratio: %v", err)
	}
}

func TestPlanErrors(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		sd, gain, power, level float64
		want                   error
	}{
		{0, 5, 0.8, 0.95, ErrPlan}, {-1, 5, 0.8, 0.95, ErrPlan}, {nan, 5, 0.8, 0.95, ErrPlan}, {inf, 5, 0.8, 0.95, ErrOutOfReach},
		{6, 0, 0.8, 0.95, ErrPlan}, {6, -5, 0.8, 0.95, ErrPlan}, {6, nan, 0.8, 0.95, ErrPlan}, {6, inf, 0.8, 0.95, ErrPlan},
		{6, 5, 0, 0.95, ErrPlan}, {6, 5, 1, 0.95, ErrPlan}, {6, 5, 80, 0.95, ErrPlan}, {6, 5, 0.04, 0.95, ErrPlan}, {6, 5, nan, 0.95, ErrPlan},
		{6, 5, 0.8, 0, dispersion.ErrLevel}, {6, 5, 0.8, 1, dispersion.ErrLevel}, {6, 5, 0.8, 95, dispersion.ErrLevel}, {6, 5, 0.8, nan, dispersion.ErrLevel},
	} {
		if n, err := BallsForCarry(c.sd, c.gain, c.power, c.level); !errors.Is(err, c.want) || n != 0 {
			t.Errorf("%+v: %d, %v", c, n, err)
		}
	}
	for _, ratio := range []float64{0, -1, 1, nan, inf} {
		if _, err := BallsForArea(ratio, 0.8, 0.95); !errors.Is(err, ErrPlan) {
			t.Errorf("ratio %v: %v", ratio, err)
		}
	}
	if _, err := BallsForArea(0.5, 0.8, 95); !errors.Is(err, dispersion.ErrLevel) {
		t.Errorf("level 95: %v", err)
	}
}

func TestSmallestCarry(t *testing.T) {
	for _, c := range []struct{ carry, unit, want float64 }{
		{100, 1, 5}, {142.8, 1, 5}, {200, 1, 7}, {100, 0.9144, 4.572}, {200, 0.9144, 7},
	} {
		got, err := SmallestCarry(c.carry, c.unit)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "smallest carry", got, c.want, 1e-12)
	}
	var value *ValueError
	for _, c := range [][2]float64{{0, 1}, {-5, 1}, {math.NaN(), 1}, {math.Inf(1), 1}, {150, 0}, {150, math.NaN()}, {150, 1e308}} {
		if _, err := SmallestCarry(c[0], c[1]); !errors.As(err, &value) {
			t.Errorf("%v: %v", c, err)
		}
	}
}
