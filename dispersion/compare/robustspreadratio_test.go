package compare

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// Source: covMcd of robustbase 0.95-0 under R 4.2.2, by robust.R of the dispersion
// package: the reweighted covariances at alpha 0.75.
func TestRobustSpreadRatioAgainstR(t *testing.T) {
	spread := func(name string) float64 {
		raw, err := os.ReadFile("../testdata/ref/robust_" + name + ".json")
		if err != nil {
			t.Fatal(err)
		}
		var ref struct {
			Output struct {
				Fit struct {
					CovMcd struct{ Cov [2][2]float64 }
				} `json:"alpha_0.75"`
			}
		}
		if err := json.Unmarshal(raw, &ref); err != nil {
			t.Fatal(err)
		}
		c := ref.Output.Fit.CovMcd.Cov
		return math.Pow(c[0][0]*c[1][1]-c[0][1]*c[1][0], 0.25)
	}
	for _, names := range [][2]string{{"p20", "d40"}, {"d40", "c12"}, {"c12", "p20"}} {
		e, err := RobustSpreadRatio(ctx, reference(t, names[0]), reference(t, names[1]), Options{Resamples: 99})
		if err != nil {
			t.Fatal(err)
		}
		near(t, names[0], e.Before, spread(names[0]), 1e-8)
		near(t, names[1], e.After, spread(names[1]), 1e-8)
		near(t, "ratio", e.Estimate, spread(names[1])/spread(names[0]), 1e-8)
	}
}

// One ball goes ever wilder: this ratio stays, up to what the resamples in which
// it is drawn three times and more make of it, where the plain one runs off.
func TestRobustSpreadRatioMindsNoWildBall(t *testing.T) {
	before := sample(t, "setosa")[:15]
	after := group(t, sample(t, "versicolor")[:15])
	ratios := func(wild float64) (robust, plain Effect) {
		points := append(slices.Clone(before), dispersion.Point{X: before[0].X, Y: before[0].Y - wild})
		robust, err := RobustSpreadRatio(ctx, group(t, points), after, Options{Resamples: 499})
		if err != nil {
			t.Fatal(err)
		}
		plain, err = SpreadRatio(ctx, group(t, points), after, Options{})
		if err != nil {
			t.Fatal(err)
		}
		return robust, plain
	}
	near10, plain10 := ratios(10)
	near100, plain100 := ratios(100)
	near(t, "the estimate", near100.Estimate, near10.Estimate, 1e-9)
	near(t, "its lower end", near100.Interval.Low, near10.Interval.Low, 0.1)
	if plain100.Estimate > plain10.Estimate/2 {
		t.Errorf("the plain ratio went from %g to %g only, so this shows nothing", plain10.Estimate, plain100.Estimate)
	}
}

// Half and twice the size, anywhere: the same ratio; the ends of the interval lie
// evenly around it on the log scale; cores don't matter and the seed does.
func TestRobustSpreadRatioStaysTheSame(t *testing.T) {
	before, after := group(t, sample(t, "setosa")[:12]), group(t, sample(t, "versicolor")[:15])
	o := Options{Resamples: 1500, Seed: 3}
	run := func(b, a *dispersion.Group, o Options, cores int) Effect {
		old := runtime.GOMAXPROCS(cores)
		defer runtime.GOMAXPROCS(old)
		e, err := RobustSpreadRatio(ctx, b, a, o)
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	one := run(before, after, o, 1)
	near(t, "the middle of the ends", math.Sqrt(one.Interval.Low*one.Interval.High), one.Estimate, 1e-12)
	near(t, "p", one.P, studentP(math.Log(one.Estimate)/(math.Log(one.Interval.High/one.Estimate)/studentQuantile(0.975, 25)), 25), 1e-9)
	if many := run(before, after, o, 5); many.Interval != one.Interval || many.P != one.P {
		t.Errorf("five cores gave %+v, one gave %+v", many.Interval, one.Interval)
	}
	o.Seed = 4
	if other := run(before, after, o, 1); other.Interval == one.Interval || other.Seed != 4 {
		t.Error("another seed gave the same interval")
	}
	o.Seed = 3
	twice := func(p dispersion.Point) dispersion.Point { return dispersion.Point{X: 2*p.X - 64, Y: 2*p.Y + 128} }
	same(t, "twice the size", one, run(moved(t, before, twice), moved(t, after, twice), o, 1), 1)
	o.Block = 3
	if blocks := run(before, after, o, 1); blocks.Interval == one.Interval || blocks.Estimate != one.Estimate {
		t.Error("blocks changed the estimate or left the interval as it was")
	}
}

// The level is a promise, here as a lower bound: it holds the ratio in 95 to 99 %.
func TestRobustSpreadRatioCoverage(t *testing.T) {
	for _, l := range []law{laws[0], laws[3]} {
		r := rand.New(resample.NewStream(1, "robust spread ratio"+l.name, 0))
		held, many := 0, max(*pairs/10, 100)
		for range many {
			var side [2][]dispersion.Point
			for j, scale := range []float64{1, 0.75} {
				for range 10 {
					side[j] = append(side[j], l.draw(r, scale))
				}
			}
			e, err := RobustSpreadRatio(ctx, group(t, side[0]), group(t, side[1]), Options{Resamples: 99})
			if err != nil {
				t.Fatal(err)
			}
			if e.Interval.Low <= 0.75 && 0.75 <= e.Interval.High {
				held++
			}
		}
		got := float64(held) / float64(many)
		if limit := 0.95 - 4*math.Sqrt(0.95*0.05/float64(many)); got < limit {
			t.Errorf("%s: covers %.3f, limit %.3f", l.name, got, limit)
		}
		t.Logf("%s: covers %.3f of %d", l.name, got, many)
	}
}

func TestRobustSpreadRatioErrorsAndWarnings(t *testing.T) {
	ten, eleven := group(t, sample(t, "setosa")[:10]), group(t, sample(t, "versicolor")[:11])
	var few *dispersion.TooFewError
	if _, err := RobustSpreadRatio(ctx, group(t, sample(t, "setosa")[:9]), eleven, Options{}); !errors.As(err, &few) || few.Have != 9 || few.Need != 10 {
		t.Errorf("nine before: %v", err)
	}
	for _, c := range []struct {
		b, a *dispersion.Group
		o    Options
		want error
	}{
		{nil, ten, Options{}, ErrMissing},
		{ten, nil, Options{}, ErrMissing},
		{ten, eleven, Options{Level: 95}, dispersion.ErrLevel},
		{ten, eleven, Options{Resamples: -1}, ErrResamples},
		{ten, eleven, Options{Block: 6}, ErrBlock},
	} {
		if _, err := RobustSpreadRatio(ctx, c.b, c.a, c.o); !errors.Is(err, c.want) {
			t.Errorf("%+v: %v", c.o, err)
		}
	}
	line := make([]dispersion.Point, 12)
	for i := range line {
		line[i] = dispersion.Point{X: float64(i), Y: 2 * float64(i)}
	}
	line[3].Y += 5 // eleven of the twelve are still on it
	if _, err := RobustSpreadRatio(ctx, ten, group(t, line), Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("a line: %v", err)
	}
	// Four spots taken three times each: a scatter there is, but most resamples have
	// three quarters of their shots on two of them.
	var spots []dispersion.Point
	for i := range 12 {
		spots = append(spots, dispersion.Point{X: float64(i % 2), Y: float64(i / 2 % 2)})
	}
	var lost *NoValueError
	if _, err := RobustSpreadRatio(ctx, ten, group(t, spots), Options{}); !errors.As(err, &lost) || !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("four spots: %v", err)
	}
	// At 10 against 11 the interval reaches beyond half and twice; with what it says
	// that it takes it would not.
	r := rand.New(resample.NewStream(1, "robust spread ratio's warning", 2))
	var side [2][]dispersion.Point
	for j, n := range []int{10, 11} {
		for range n {
			side[j] = append(side[j], normal(r, 1))
		}
	}
	e, err := RobustSpreadRatio(ctx, group(t, side[0]), group(t, side[1]), Options{Resamples: 499})
	var warned *FewShotsWarning
	if err != nil || len(e.Warnings) != 1 || !errors.As(e.Warnings[0], &warned) || warned.Before != 10 || warned.After != 11 {
		t.Fatalf("10 against 11: %v, %v", e.Warnings, err)
	}
	single := math.Log(e.Interval.High/e.Estimate) / studentQuantile(0.975, 19) / math.Sqrt(1.0/10+1.0/11)
	reach := func(n int) float64 {
		return single * studentQuantile(0.975, float64(2*n-2)) * math.Sqrt(2/float64(n))
	}
	if reach(warned.Need) > math.Ln2 || reach(warned.Need-1) <= math.Ln2 {
		t.Errorf("reaches from %g to %g, %d needed", e.Interval.Low, e.Interval.High, warned.Need)
	}
	done, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := RobustSpreadRatio(done, ten, eleven, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}
