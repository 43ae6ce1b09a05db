package compare

import (
	"errors"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// By hand, from a gain of 1 with the interval -3 to 5 (t(18) = 2.1009 at 0.975, so
// h/t = 4/2.1009 = 1.9039): against a margin of 6 the two t are (1-6)/1.9039 =
// -2.6262 and -(1+6)/1.9039 = -3.6767, with one-sided p .00859 and .000863 on 18
// degrees of freedom (R 4.2.2, pt).
func TestEquivalentByHand(t *testing.T) {
	e := carryEffect(1, 4, 18)
	m, err := Equivalent(e, 6)
	if err != nil || !m.Holds {
		t.Fatalf("%+v, %v", m, err)
	}
	near(t, "p", m.P, 0.00856489456, 1e-8)
	n, err := NotWorse(e, 6)
	if err != nil || !n.Holds {
		t.Fatalf("%+v, %v", n, err)
	}
	near(t, "p, not worse", n.P, 0.000863, 5e-3)
	if m.Margin != 6 || m.Effect.Estimate != 1 {
		t.Errorf("echoed %+v", m)
	}
}

// Both hold exactly where the interval says so, on both scales and both ways.
func TestMarginsAgreeWithTheInterval(t *testing.T) {
	rate := carryEffect(-1, 4, 18) // -5 to 3
	rate.LessIsBetter = true
	for _, c := range []struct {
		name                 string
		e                    Effect
		margin               float64
		equivalent, notWorse bool
	}{
		{"just inside", carryEffect(1, 4, 18), 5.001, true, true},
		{"just outside", carryEffect(1, 4, 18), 4.999, false, true},
		{"loss just inside", carryEffect(1, 4, 18), 3.001, false, true},
		{"loss just outside", carryEffect(1, 4, 18), 2.999, false, false},
		{"on the margin", carryEffect(1, 4, 18), 5, true, true},
		{"less is better, inside", rate, 3.001, false, true},
		{"less is better, outside", rate, 2.999, false, false},
		{"ratio inside", ratioEffect(NameSpreadRatio, 1, 1.24), 0.2, true, true},
		{"ratio outside", ratioEffect(NameSpreadRatio, 1, 1.26), 0.2, false, false},
		{"ratio smaller", ratioEffect(NameSpreadRatio, 0.7, 1.26), 0.2, false, true},
		{"area inside", ratioEffect(NameAreaRatio, 1, 1.24*1.24), 0.2, true, true},
		{"area outside", ratioEffect(NameAreaRatio, 1, 1.26*1.26), 0.2, false, false},
	} {
		m, err := Equivalent(c.e, c.margin)
		if err != nil || m.Holds != c.equivalent {
			t.Errorf("%s: equivalent %v, p = %g, %v", c.name, m.Holds, m.P, err)
		}
		n, err := NotWorse(c.e, c.margin)
		if err != nil || n.Holds != c.notWorse {
			t.Errorf("%s: not worse %v, p = %g, %v", c.name, n.Holds, n.P, err)
		}
	}
}

func TestMarginErrors(t *testing.T) {
	shift := carryEffect(1, 4, 18)
	shift.NoBetter = true
	if _, err := NotWorse(shift, 5); !errors.Is(err, ErrNoBetter) {
		t.Errorf("a shift to one side: %v", err)
	}
	if m, err := Equivalent(shift, 6); err != nil || !m.Holds {
		t.Errorf("a shift to one side can be small: %+v, %v", m, err)
	}
	few := carryEffect(1, 4, 4)
	few.N1, few.N2 = 3, 3
	for name, f := range map[string]func(Effect, float64) (MarginTest, error){"Equivalent": Equivalent, "NotWorse": NotWorse} {
		for _, margin := range []float64{0, -1, math.NaN(), math.Inf(1)} {
			if _, err := f(carryEffect(1, 4, 18), margin); !errors.Is(err, ErrSmallest) {
				t.Errorf("%s, margin %g: %v", name, margin, err)
			}
		}
		if _, err := f(ratioEffect(NameSpreadRatio, 1, 1.2), 1); !errors.Is(err, ErrSmallest) {
			t.Errorf("%s, a share of 1: %v", name, err)
		}
		if _, err := f(Effect{}, 1); !errors.Is(err, ErrEffect) {
			t.Errorf("%s, no effect: %v", name, err)
		}
		var tooFew *dispersion.TooFewError
		if _, err := f(few, 5); !errors.As(err, &tooFew) || tooFew.Need != 4 {
			t.Errorf("%s, 3 against 3: %v", name, err)
		}
	}
}
