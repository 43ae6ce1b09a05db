package compare

import (
	"errors"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// Computed by hand from tables: the F interval reaches at most a factor of 4 in
// area (2 in radius) either way from n = 7 on: F.975(8,8) = 4.43 at n = 6,
// F.975(10,10) = 3.72 at n = 7. The spread ratio's factor is
// exp(t·0.5227·√(2/n)): 2.13 at n = 5, 1.96 at n = 6; the angle's
// exp(t·0.7555·√(2/n)): 2.03 at n = 10, 1.96 at n = 11.
func TestFewShotsWarningsOfRatios(t *testing.T) {
	setosa, versicolor := sample(t, "setosa"), sample(t, "versicolor")
	for _, c := range compared[2:] {
		need := map[string]int{NameAreaRatio: 7, NameSpreadRatio: 6, NameAngleSpreadRatio: 11}[c.name]
		for n := 5; n <= 12; n++ {
			e, err := c.of(ctx, group(t, setosa[:n]), group(t, versicolor[:n]), Options{})
			if err != nil {
				t.Fatal(err)
			}
			var few *FewShotsWarning
			warned := len(e.Warnings) == 1 && errors.As(e.Warnings[0], &few) && few.Need == need && few.Before == n && few.After == n
			if n < need && !warned || n >= need && len(e.Warnings) != 0 {
				t.Errorf("%s at n = %d: %v, want %d of each needed", c.name, n, e.Warnings, need)
			}
		}
	}
}

func TestRatioErrors(t *testing.T) {
	good := group(t, sample(t, "setosa5"))
	line := group(t, []dispersion.Point{{X: 1, Y: 101}, {X: 2, Y: 102}, {X: 3, Y: 103}, {X: 5, Y: 105}})
	if _, err := SpreadRatio(ctx, good, line, Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("spread of a line: %v", err)
	}
	if _, err := AreaRatio(ctx, line, good, Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("area of a line: %v", err)
	}
	// All corners of a square are equally far from its middle.
	square := group(t, []dispersion.Point{{X: 1, Y: 101}, {X: -1, Y: 101}, {X: 1, Y: 99}, {X: -1, Y: 99}})
	if _, err := SpreadRatio(ctx, square, square, Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("spread of squares: %v", err)
	}
	straight := group(t, []dispersion.Point{{X: 0, Y: 101}, {X: 0, Y: 102}, {X: 0, Y: 110}})
	if _, err := AngleSpreadRatio(ctx, good, straight, Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("no angles: %v", err)
	}
	var value *ValueError
	for _, carry := range []float64{0, -3} {
		back := group(t, []dispersion.Point{{X: 1, Y: 101}, {X: 2, Y: carry}, {X: -3, Y: 99}})
		if _, err := AngleSpreadRatio(ctx, good, back, Options{}); !errors.As(err, &value) || value.Side != "after" || value.Index != 1 || value.Value != carry {
			t.Errorf("carry %g after: %v", carry, err)
		}
		if _, err := AngleSpreadRatio(ctx, back, good, Options{}); !errors.As(err, &value) || value.Side != "before" {
			t.Errorf("carry %g before: %v", carry, err)
		}
	}
}
