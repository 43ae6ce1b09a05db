package compare

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// level has a standard deviation of 2·√(n/(n-1)).
func TestManipulation(t *testing.T) {
	for _, c := range []struct {
		shift float64
		n     int
		want  MoveKind
		says  string
	}{
		{6, 10, Moved, "strike_across_mm changed: these balls fit anything from"},
		{1, 10, MoveUnclear, "can't tell"},
		{0, 10, MoveUnclear, "can't tell"},
		{0, 80, Stayed, "stayed where it was"},
	} {
		m, err := Manipulation(ctx, "strike_across_mm", "mm", level(-14, c.n), level(-14+c.shift, c.n), Options{Resamples: 1})
		if err != nil || m.Kind != c.want || !strings.Contains(m.Sentence(), c.says) || !strings.Contains(m.Line(), "pooled SD") {
			t.Errorf("%+v: %v, %s, %v", c, m.Kind, m.Sentence(), err)
		}
		near(t, "spread", m.Spread, 2*math.Sqrt(float64(c.n)/float64(c.n-1)), 1e-12)
		if !m.Effect.NoBetter {
			t.Error("a strike is neither better nor worse in itself")
		}
	}
	var few *dispersion.TooFewError
	if _, err := Manipulation(ctx, "", "", level(1, 4), []float64{2}, Options{}); !errors.As(err, &few) {
		t.Errorf("one ball: %v", err)
	}
}

func TestMishitsDiffer(t *testing.T) {
	for _, c := range []struct {
		k1, n1, k2, n2 int
		want           bool
	}{
		{1, 10, 1, 12, false},
		{1, 10, 2, 10, true},       // a tenth as seen
		{3, 10, 2, 10, true},       // either way
		{0, 10, 0, 10, false},      //
		{40, 1000, 10, 1000, true}, // three in 100, and sure
		{4, 100, 1, 100, false},
	} {
		e, err := MishitRateChange(c.k1, c.n1, c.k2, c.n2, Options{})
		if err != nil || MishitsDiffer(e) != c.want {
			t.Errorf("%+v: %v, %v", c, MishitsDiffer(e), err)
		}
	}
}
