package compare

import (
	"errors"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// Source: testdata/ref/permdisp.py, SciPy 1.10.1 with spatial medians to 30
// digits. vegan 2.6-4 has F = 2.86505 and p = .060168 for the three iris species.
func TestSpreadsAgainstSciPy(t *testing.T) {
	rows := readTable(t, "testdata/permdisp.csv")
	for _, row := range rows {
		var stages []*dispersion.Group
		for _, name := range strings.Fields(row[0]) {
			stages = append(stages, reference(t, name))
		}
		s, err := Spreads(ctx, stages, Options{})
		if err != nil {
			t.Fatal(row[0], err)
		}
		near(t, row[0]+" F", s.F, number(t, row[1]), 1e-9)
		near(t, row[0]+" p", s.P, number(t, row[2]), 1e-9)
		near(t, row[0]+" first", s.Distances[0], number(t, row[3]), 1e-11)
		near(t, row[0]+" last", s.Distances[len(stages)-1], number(t, row[4]), 1e-11)
		if len(stages) == 3 {
			near(t, "iris, printed F", s.F, 2.86505, 1e-5)
			if s.DF1 != 2 || s.DF2 != 147 || s.N[2] != 50 {
				t.Errorf("iris: %+v", s)
			}
		}
	}
	if len(rows) != 7 {
		t.Errorf("%d rows, want 7", len(rows))
	}
}

func TestSpreadsErrors(t *testing.T) {
	good := reference(t, "b6")
	if _, err := Spreads(ctx, []*dispersion.Group{good}, Options{}); !errors.Is(err, ErrStages) {
		t.Errorf("one stage: %v", err)
	}
	if _, err := Spreads(ctx, []*dispersion.Group{good, nil}, Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("a missing stage: %v", err)
	}
	if _, err := Spreads(ctx, []*dispersion.Group{good, good}, Options{Level: 1}); !errors.Is(err, dispersion.ErrLevel) {
		t.Errorf("level 1: %v", err)
	}
	var few *dispersion.TooFewError
	if _, err := Spreads(ctx, []*dispersion.Group{good, group(t, good.Points()[:2])}, Options{}); !errors.As(err, &few) || few.Need != 3 {
		t.Errorf("two shots: %v", err)
	}
	square := group(t, []dispersion.Point{{X: 1, Y: 101}, {X: -1, Y: 101}, {X: 1, Y: 99}, {X: -1, Y: 99}})
	if _, err := Spreads(ctx, []*dispersion.Group{square, square}, Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("squares: %v", err)
	}
}
