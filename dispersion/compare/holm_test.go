package compare

import (
	"errors"
	"math"
	"slices"
	"testing"
)

// Source: R 4.2.2, p.adjust(method = "holm"), on the fifteen p-values of Y.
// Benjamini and Y. Hochberg, JRSS B 57(1), 1995 (from memory). Three fall below
// 0.05.
func TestHolmAgainstR(t *testing.T) {
	p, want := evidenceData(t, "holm", "p"), evidenceData(t, "holm", "adjusted")
	got, err := Holm(p)
	if err != nil || len(got) != 15 || len(want) != 15 {
		t.Fatal(got, err)
	}
	below := 0
	for i := range got {
		near(t, "adjusted", got[i], want[i], 1e-12)
		if got[i] < 0.05 {
			below++
		}
	}
	if below != 3 {
		t.Errorf("%d below 0.05, want 3", below)
	}
}

// By hand: .005·4, .01·3, then .03·2 = .06 and .04·1, lifted to .06.
func TestHolmKeepsTheOrder(t *testing.T) {
	got, err := Holm([]float64{.01, .04, .03, .005})
	for i, want := range []float64{.03, .06, .06, .02} {
		if err != nil || math.Abs(got[i]-want) > 1e-15 {
			t.Errorf("%d: %v, want %v (%v)", i, got, want, err)
		}
	}
	if got, err := Holm(nil); err != nil || len(got) != 0 {
		t.Errorf("none: %v, %v", got, err)
	}
	for _, p := range []float64{-0.1, 1.1, math.NaN()} {
		if _, err := Holm([]float64{0.5, p}); !errors.Is(err, ErrShare) {
			t.Errorf("%g: %v", p, err)
		}
	}
}

// Source: R 4.2.2, p.adjust(method = "BH"), on the same fifteen p-values. The paper
// rejects four at 0.05.
func TestBenjaminiHochbergAgainstR(t *testing.T) {
	p, want := evidenceData(t, "holm", "p"), evidenceData(t, "holm", "benjamini")
	got, err := BenjaminiHochberg(p)
	if err != nil || len(got) != 15 || len(want) != 15 {
		t.Fatal(got, err)
	}
	below := 0
	for i := range got {
		near(t, "adjusted", got[i], want[i], 1e-12)
		if got[i] < 0.05 {
			below++
		}
	}
	if below != 4 {
		t.Errorf("%d below 0.05, want 4", below)
	}
	// By hand: .005·4/1, .01·4/2, .03·4/3, .04·4/4, each lowered to the next one.
	turned, err := BenjaminiHochberg([]float64{.01, .04, .03, .005})
	for i, want := range []float64{.02, .04, .04, .02} {
		if err != nil || math.Abs(turned[i]-want) > 1e-15 {
			t.Errorf("%d: %v, want %v (%v)", i, turned, want, err)
		}
	}
	if _, err := BenjaminiHochberg([]float64{0.5, math.NaN()}); !errors.Is(err, ErrShare) {
		t.Errorf("NaN: %v", err)
	}
}

// A verdict looked at alone stays; the same among several gets weaker, and the
// strongest ones stay.
func TestAlsoSeen(t *testing.T) {
	sure, just, maybe, open := judge(t, carryEffect(20, 5, 18), 5), judge(t, carryEffect(12, 6.9, 18), 5), judge(t, carryEffect(8, 6, 18), 5), judge(t, carryEffect(3, 9, 18), 5)
	for _, v := range []Verdict{sure, just, maybe, open} {
		alone, err := AlsoSeen([]Verdict{v})
		if err != nil || alone[0].Kind != v.Kind || len(alone[0].Caveats) != 0 || math.Abs(alone[0].Confidence-v.Confidence) > 1e-15 {
			t.Errorf("%v alone became %+v, %v", v.Kind, alone, err)
		}
	}
	in := []Verdict{open, just, maybe, sure}
	seen, err := AlsoSeen(in)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []VerdictKind{CantTell, Probably, CantTell, WorthHaving} {
		weaker := want != in[i].Kind
		if seen[i].Kind != want || slices.Contains(seen[i].Caveats, OneOfSeveral) != weaker {
			t.Errorf("%v among four became %v, caveats %v; want %v", in[i].Kind, seen[i].Kind, seen[i].Caveats, want)
		}
		if seen[i].Confidence > in[i].Confidence {
			t.Errorf("%v: the confidence rose from %g to %g", in[i].Kind, in[i].Confidence, seen[i].Confidence)
		}
	}
	// just: C = 0.9763 or so; three p-values left once the sure one is through.
	near(t, "by hand", seen[1].Confidence, 1-3*(1-just.Confidence), 1e-12)
	worse, none := judge(t, carryEffect(-12, 6.7, 18), 5), judge(t, carryEffect(-1, 5.5, 18), 5)
	if worse.Kind != Worse || none.Kind != NoGainWorth {
		t.Fatalf("%v, %v", worse.Kind, none.Kind)
	}
	seen, err = AlsoSeen([]Verdict{worse, none, open, open})
	if err != nil || seen[0].Kind != NoGainWorth || seen[1].Kind != CantTell {
		t.Errorf("a loss became %v, no gain %v (%v)", seen[0].Kind, seen[1].Kind, err)
	}
	if _, err := AlsoSeen([]Verdict{{Confidence: 3}}); !errors.Is(err, ErrShare) {
		t.Errorf("a confidence of 3: %v", err)
	}
}
