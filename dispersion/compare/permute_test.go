package compare

import (
	"context"
	"errors"
	"math"
	"runtime"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

func meanCarry(points []dispersion.Point) float64 {
	sum := 0.0
	for _, p := range points {
		sum += p.Y
	}
	return sum / float64(len(points))
}

// Source: the exact count 3182 of 11440 for the plain mean difference of the
// mouse data, by R's combn (testdata/ref/compare.R) and by the package coin.
func TestPermuteCountsThePlainDifference(t *testing.T) {
	mouse := golden(t)["mouse mean difference"]
	before, after, _ := pair(t, "mouse_treatment mouse_control 0.95")
	for side, statistic := range map[string]func(b, a []dispersion.Point) (float64, error){
		"one_sided": func(b, a []dispersion.Point) (float64, error) { return meanCarry(b) - meanCarry(a), nil },
		"two_sided": func(b, a []dispersion.Point) (float64, error) { return math.Abs(meanCarry(b) - meanCarry(a)), nil },
	} {
		r, err := Permute(ctx, before, after, statistic, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if !r.Exact || r.Splits != 11440 || float64(r.AtLeast) != mouse[side] {
			t.Errorf("%s: %d of %d, want %g of 11440", side, r.AtLeast, r.Splits, mouse[side])
		}
		near(t, side+" p", r.P, mouse[side]/11440, 1e-14)
		near(t, side+" floor", r.PFloor, 1.0/11440, 1e-14)
		near(t, side+" statistic", r.Statistic, 30.634921, 1e-7) // the published difference of the means
	}
}

// The floors of checks in every textbook: one-sided 1/20, 1/70, 1/252 and twice
// that for a statistic that a mirror image shares.
func TestPermuteFloor(t *testing.T) {
	setosa, versicolor := sample(t, "setosa"), sample(t, "versicolor")
	signed := func(b, a []dispersion.Point) (float64, error) { return meanCarry(a) - meanCarry(b), nil }
	either := func(b, a []dispersion.Point) (float64, error) { return math.Abs(meanCarry(a) - meanCarry(b)), nil }
	for n, count := range map[int]float64{3: 20, 4: 70, 5: 252} {
		before, after := group(t, setosa[:n]), group(t, versicolor[:n])
		one, err := Permute(ctx, before, after, signed, Options{})
		if err != nil {
			t.Fatal(err)
		}
		two, err := Permute(ctx, before, after, either, Options{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "one-sided", one.PFloor, 1/count, 1e-15)
		near(t, "two-sided", two.PFloor, 2/count, 1e-15)
		var floor *FloorWarning
		warned := len(two.Warnings) == 1 && errors.As(two.Warnings[0], &floor) && floor.Need == 4
		if warned != (n == 3) || len(one.Warnings) != 0 { // 0.10 at 3 against 3 alone
			t.Errorf("n = %d: %v and %v", n, one.Warnings, two.Warnings)
		}
	}
}

// By hand: of the 3 splits of {1}, {2, 3} the carry after exceeds that before by
// 1.5 as observed, by 0 and by -1.5.
func TestPermuteByHand(t *testing.T) {
	at := func(carries ...float64) *dispersion.Group {
		var points []dispersion.Point
		for _, c := range carries {
			points = append(points, dispersion.Point{Y: c})
		}
		return group(t, points)
	}
	r, err := Permute(ctx, at(1), at(2, 3), func(b, a []dispersion.Point) (float64, error) { return meanCarry(a) - meanCarry(b), nil }, Options{})
	if err != nil || r.Statistic != 1.5 || r.AtLeast != 1 || r.Splits != 3 || r.N1 != 1 || r.N2 != 2 {
		t.Errorf("%+v, %v", r, err)
	}
	if want := "p by permutation of the statistic given, all 3 splits"; r.Method != want {
		t.Errorf("got %q, want %q", r.Method, want)
	}
}

func TestPermuteErrors(t *testing.T) {
	before, after := group(t, sample(t, "setosa5")), group(t, sample(t, "versicolor12"))
	own := errors.New("my own")
	fails := func(b, a []dispersion.Point) (float64, error) { return 0, own }
	if _, err := Permute(ctx, before, after, fails, Options{}); !errors.Is(err, own) {
		t.Errorf("a failing statistic: %v", err)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1)} {
		calls := 0
		late := func(b, a []dispersion.Point) (float64, error) {
			if calls++; calls > 3 {
				return bad, nil
			}
			return 1, nil
		}
		old := runtime.GOMAXPROCS(1) // calls is shared
		if _, err := Permute(ctx, before, after, late, Options{}); err == nil {
			t.Errorf("a statistic of %g passed", bad)
		}
		runtime.GOMAXPROCS(old)
	}
	if _, err := Permute(ctx, before, after, nil, Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("no statistic: %v", err)
	}
	if _, err := Permute(ctx, nil, after, fails, Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("no group: %v", err)
	}
	if _, err := Permute(ctx, before, after, fails, Options{Level: 95}); !errors.Is(err, dispersion.ErrLevel) {
		t.Errorf("level 95: %v", err)
	}
	done, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := Permute(done, before, after, fails, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("a context that is done: %v", err)
	}
}

// Source: energy 1.7-11 (edist, eqdist.e) under R 4.2.2, iris sepals in the plane
// and three points by hand; the exact counts by R's combn (testdata/ref/two.R).
func TestAnyDifferenceAgainstR(t *testing.T) {
	corner := []dispersion.Point{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 0, Y: 1}}
	for _, c := range []struct {
		name          string
		before, after *dispersion.Group
		want          float64
	}{
		{"corner", group(t, corner), group(t, append([]dispersion.Point{{X: 2, Y: 2}}, []dispersion.Point{{X: 2, Y: 3}, {X: 3, Y: 2}}...)), 6.5548827},
		{"setosa versicolor", reference(t, "setosa"), reference(t, "versicolor"), 32.577161355113056},
		{"setosa virginica", reference(t, "setosa"), reference(t, "virginica"), 52.149378299697034},
		{"versicolor virginica", reference(t, "versicolor"), reference(t, "virginica"), 9.5405387633261},
	} {
		r, err := AnyDifference(ctx, c.before, c.after, Options{Resamples: 99})
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name, r.Statistic, c.want, 1e-8)
	}
}

// The values kept are those that were counted, the observed one first where every
// split was tried, and the same on any number of cores.
func TestPermuteKeepsItsValues(t *testing.T) {
	before, after := group(t, sample(t, "versicolor12")[:7]), group(t, sample(t, "setosa5"))
	gain := func(b, a []dispersion.Point) (float64, error) { return math.Abs(meanCarry(a) - meanCarry(b)), nil }
	for _, c := range []struct {
		before *dispersion.Group
		splits int
	}{{before, 792}, {group(t, sample(t, "versicolor")), 99}} {
		p, err := Permute(ctx, c.before, after, gain, Options{Resamples: 99})
		if err != nil {
			t.Fatal(err)
		}
		atLeast := 0
		for _, v := range p.Values {
			if v >= p.Statistic*(1-1e-9) {
				atLeast++
			}
		}
		if len(p.Values) != c.splits || p.Splits != c.splits || atLeast != p.AtLeast {
			t.Errorf("%d values of %d splits, %d as large and %d counted", len(p.Values), p.Splits, atLeast, p.AtLeast)
		}
		if p.Exact && p.Values[0] != p.Statistic {
			t.Errorf("the first value is %g, observed %g", p.Values[0], p.Statistic)
		}
	}
	if d, err := AnyDifference(ctx, before, after, Options{}); err != nil || d.Values != nil {
		t.Errorf("any difference keeps %d values: %v", len(d.Values), err)
	}
}
