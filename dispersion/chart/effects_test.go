package chart

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

func mustEffects(t testing.TB, in EffectsInput) Figure {
	t.Helper()
	f, err := Effects(in)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// bar returns the left and right end of the one narrow interval.
func bar(t *testing.T, p picture) (from, to float64) {
	t.Helper()
	for _, path := range p.paths {
		if x, _ := path.corners(); path.style["fill"] == hex(StageLook(0)) && len(x) >= 4 {
			return x[0], x[1]
		}
	}
	t.Fatal("no bar")
	return 0, 0
}

// effectNumbers reads the axis of a figure with one row.
func effectNumbers(p picture) (values, places []float64) {
	for _, x := range p.texts {
		v, err := strconv.ParseFloat(strings.NewReplacer("−", "-", "+", "", "×", "").Replace(x.text), 64)
		if err != nil || x.size != smallPen.size {
			continue
		}
		left, _, right, _ := x.box()
		values, places = append(values, v), append(places, left+(right-left)*noteSlack/2)
	}
	return values, places
}

func TestEffectBarsStandAtTheirNumbers(t *testing.T) {
	for _, e := range []Effect{
		{Unit: "yd", Estimate: 4, Narrow: interval(-2, 10, 0.8), Wide: interval(-6, 14, 0.95)},
		{Null: 1, Estimate: 0.8, Narrow: interval(0.5, 1.28, 0.8), Wide: interval(0.4, 1.6, 0.95)},
	} {
		along := func(v float64) float64 { return v }
		if e.Null == 1 {
			along = math.Log
		}
		p := read(t, mustEffects(t, EffectsInput{Rows: []Effect{e}}))
		values, places := effectNumbers(p)
		if len(values) < 3 {
			t.Fatalf("only %v on the axis", values)
		}
		at := make([]float64, len(values))
		zero := math.NaN()
		for i, v := range values {
			at[i] = along(v)
			if v == e.Null {
				zero = places[i]
			}
		}
		if math.IsNaN(zero) {
			t.Fatalf("the null %g is not among %v", e.Null, values)
		}
		b, worst := perUnit(at, places)
		if worst > 0.15 {
			t.Errorf("null %g: the numbers %v stand off their line by %.2f points", e.Null, values, worst)
		}
		from, to := bar(t, p)
		for got, v := range map[float64]float64{from: e.Narrow.Low, to: e.Narrow.High} {
			if want := zero + b*(along(v)-along(e.Null)); math.Abs(got-want) > 0.3 {
				t.Errorf("null %g: %g stands at %.2f, want %.2f", e.Null, v, got, want)
			}
		}
	}
}

func TestEffectsOfOneUnitShareAnAxis(t *testing.T) {
	p := read(t, mustEffects(t, demoEffects()))
	for text, want := range map[string]int{
		"gain, after minus before, yd": 1, "gain, after minus before, %": 1,
		"ratio, after over before, on a logarithmic scale": 1, "carry, clean shots": 1, "+8.1 yd: probably": 1,
		"95 %: ×0.53 to ×1.27; worth having from ×0.80; 9 and 11 shots": 1,
	} {
		got := 0
		for _, x := range p.texts {
			if x.text == text {
				got++
			}
		}
		if got != want {
			t.Errorf("%q is written %d times, want %d", text, got, want)
		}
	}
	if got := p.count("stroke-dasharray", "3,2"); got != 4 {
		t.Errorf("%d marks of the smallest change worth having, want 4", got)
	}
}

// One hopeless interval must not shrink the others to dots.
func TestALongIntervalEndsInAnArrowhead(t *testing.T) {
	in := EffectsInput{Rows: []Effect{
		{Name: "a", Unit: "yd", Estimate: 4, Narrow: interval(-2, 10, 0.8), Wide: interval(-5, 13, 0.95)},
		{Name: "b", Unit: "yd", Estimate: 0, Narrow: interval(-8, 8, 0.8), Wide: interval(-900, 900, 0.95)},
	}}
	p := read(t, mustEffects(t, in))
	from, to := bar(t, p)
	if to-from < 40 {
		t.Errorf("the bar from -2 to 10 is %.1f points long", to-from)
	}
	heads := 0
	for _, path := range p.paths {
		if x, _ := path.corners(); len(x) == 3 && path.style["stroke"] == hex(StageLook(0)) {
			heads++
		}
	}
	if heads != 2 {
		t.Errorf("%d arrowheads, want 2", heads)
	}
	if !p.has("95 %: −900 to +900") {
		t.Error("the numbers of the cut interval are not written")
	}
}

func TestEffectsAltText(t *testing.T) {
	alt := mustEffects(t, demoEffects()).Alt()
	want := " carry, clean shots: +8.1 yd; 80 %: +5.3 to +10.9; 95 %: +3.4 to +12.8; worth having from +5.2; 9 and 11 shots; probably."
	if !strings.Contains(alt, want) {
		t.Errorf("the alt text lacks %q:\n%s", want, alt)
	}
}

// Pupils are no shots: without numbers of shots the picture speaks of none.
func TestEffectsOfOtherThanShots(t *testing.T) {
	in := demoEffects()
	for i := range in.Rows {
		in.Rows[i].N1, in.Rows[i].N2 = 0, 0
	}
	for _, text := range read(t, mustEffects(t, in)).texts {
		if strings.HasSuffix(text.text, " and 0 shots") || strings.Contains(text.text, "these shots") {
			t.Errorf("%q", text.text)
		}
	}
}
