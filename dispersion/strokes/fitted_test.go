package strokes

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"strconv"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// truth is a curve to draw outcomes from; bent like a baseline.
func truth(x float64) float64 { return 1.6 + 0.14*math.Sqrt(x) }

// played draws rounds of 18 holes, on each three shots from the fairway whose
// strokes share what the hole does to them.
func played(r *rand.Rand, rounds int) []Outcome {
	var all []Outcome
	for hole := range 18 * rounds {
		day := 0.3 * r.NormFloat64()
		for range 3 {
			x := 20 + 200*r.Float64()
			// A whole number of strokes with the mean that the truth has.
			e := truth(x) + day
			n := math.Floor(e)
			if r.Float64() < e-n {
				n++
			}
			all = append(all, Outcome{Spot: Spot{Fairway, x}, Strokes: max(1, n), Cluster: strconv.Itoa(hole)})
		}
	}
	return all
}

// The interval of two standard errors either way holds the true curve, at four
// distances, in 95 % of 250 seasons of five rounds, within four binomial
// standard deviations below.
func TestFitBaselineCoverage(t *testing.T) {
	r := rand.New(resample.NewStream(12, "fit coverage", 0))
	at := []float64{50, 90, 130, 180}
	held := make([]int, len(at))
	const seasons = 250
	for season := range seasons {
		b, err := FitBaseline(context.Background(), played(r, 5), "drawn", FitOptions{Resamples: 200, Seed: uint64(season)})
		if err != nil {
			t.Fatal(err)
		}
		for i, x := range at {
			se, err := b.StandardError(Fairway, x)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(mustExpect(t, b, Fairway, x)-truth(x)) <= 1.96*se {
				held[i]++
			}
		}
	}
	for i, n := range held {
		if share := float64(n) / seasons; share < 0.95-4*math.Sqrt(0.95*0.05/seasons) {
			t.Errorf("at %g m %d of %d", at[i], n, seasons)
		}
	}
}

// With very many shots the curve is the truth, and it never falls.
func TestFitBaselineFindsTheTruth(t *testing.T) {
	b, err := FitBaseline(context.Background(), played(rand.New(resample.NewStream(13, "fit", 0)), 200), "drawn", FitOptions{Resamples: 50})
	if err != nil {
		t.Fatal(err)
	}
	last := 1.0
	_, high := b.Reach(Fairway)
	for x := 1.0; x < high; x++ {
		e := mustExpect(t, b, Fairway, x)
		if e < last {
			t.Fatalf("%g at %g m after %g", e, x, last)
		}
		last = e
		if x > 30 && x < 210 {
			near(t, "expected at "+strconv.Itoa(int(x)), e, truth(x), 0.05)
		}
	}
}

// The same bits on one core and on several, and another seed gives others.
func TestFitBaselineRepeats(t *testing.T) {
	outcomes := played(rand.New(resample.NewStream(14, "fit", 0)), 2)
	kept := append([]Outcome(nil), outcomes...)
	at := func(cores int, seed uint64) (e, se float64) {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		var calls, last int
		b, err := FitBaseline(context.Background(), outcomes, "drawn", FitOptions{Resamples: 2500, Seed: seed, Progress: func(done, total int) {
			if done <= last || total != 2500 {
				t.Errorf("progress %d of %d after %d", done, total, last)
			}
			calls, last = calls+1, done
		}})
		if err != nil {
			t.Fatal(err)
		}
		if calls != 3 || last != 2500 || b.Seed() != seed || b.Resamples() != 2500 {
			t.Errorf("%d calls, the last %d; seed %d, %d resamples", calls, last, b.Seed(), b.Resamples())
		}
		se, err = b.StandardError(Fairway, 100)
		if err != nil {
			t.Fatal(err)
		}
		return mustExpect(t, b, Fairway, 100), se
	}
	e1, se1 := at(1, 5)
	e2, se2 := at(4, 5)
	e3, se3 := at(1, 6)
	if e1 != e2 || se1 != se2 || e1 != e3 || se1 == se3 {
		t.Errorf("%v ± %v, %v ± %v, %v ± %v", e1, se1, e2, se2, e3, se3)
	}
	for i := range kept {
		if kept[i] != outcomes[i] {
			t.Fatal("the input was changed")
		}
	}
}

// All putts from one distance: a mean with its error. By hand: 10 × 1 and
// 10 × 2 strokes on 20 holes, mean 1.5, bootstrap SE √(0.25/20) = 0.1118.
func TestFitBaselineOfOneDistance(t *testing.T) {
	var outcomes []Outcome
	for i := range 20 {
		outcomes = append(outcomes, Outcome{Spot: Spot{Green, 4}, Strokes: float64(1 + i%2), Cluster: strconv.Itoa(i)})
	}
	outcomes = append(outcomes, Outcome{Spot: Spot{Sand, 15}, Strokes: 3})
	b, err := FitBaseline(context.Background(), outcomes, "drawn", FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "expected", mustExpect(t, b, Green, 4), 1.5, 1e-12)
	near(t, "half way to the hole", mustExpect(t, b, Green, 2), 1.25, 1e-12)
	se, err := b.StandardError(Green, 4)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "standard error", se, 0.1118, 4*0.1118/math.Sqrt(2*1000))
	var thin *LieWarning
	if w := b.Warnings(); len(w) != 1 || !errors.As(w[0], &thin) || thin.Lie != Sand || thin.Outcomes != 1 {
		t.Errorf("warnings %v", w)
	}
	if _, high := b.Reach(Sand); high != 0 {
		t.Errorf("the sand reaches %g m", high)
	}
}

func TestFitBaselineThatCannotBe(t *testing.T) {
	good := played(rand.New(resample.NewStream(15, "fit", 0)), 1)
	ctx := context.Background()
	spoilt := func(change func(*Outcome)) []Outcome {
		all := append([]Outcome(nil), good...)
		change(&all[7])
		return all
	}
	for name, all := range map[string][]Outcome{
		"lie":      spoilt(func(o *Outcome) { o.Lie = 0 }),
		"distance": spoilt(func(o *Outcome) { o.Distance = 0 }),
		"NaN":      spoilt(func(o *Outcome) { o.Distance = math.NaN() }),
		"strokes":  spoilt(func(o *Outcome) { o.Strokes = 0.5 }),
		"infinite": spoilt(func(o *Outcome) { o.Strokes = math.Inf(1) }),
	} {
		if _, err := FitBaseline(ctx, all, "x", FitOptions{}); !errors.Is(err, ErrShot) {
			t.Errorf("%s: %v", name, err)
		}
	}
	var few *dispersion.TooFewError
	if _, err := FitBaseline(ctx, good[:19], "x", FitOptions{}); !errors.As(err, &few) || few.Have != 19 || few.Need != 20 {
		t.Errorf("19 outcomes: %v", err)
	}
	var none context.Context
	for _, c := range []struct {
		ctx      context.Context
		outcomes []Outcome
		source   string
		options  FitOptions
		want     error
	}{
		{none, good, "x", FitOptions{}, ErrMissing},
		{ctx, nil, "x", FitOptions{}, ErrMissing},
		{ctx, good, "", FitOptions{}, ErrMissing},
		{ctx, good, "x", FitOptions{Resamples: -1}, ErrResamples},
		{ctx, good, "x", FitOptions{Resamples: 1 << 60}, ErrResamples},
	} {
		if b, err := FitBaseline(c.ctx, c.outcomes, c.source, c.options); b != nil || !errors.Is(err, c.want) {
			t.Errorf("%v, want %v", err, c.want)
		}
	}
	stopped, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := FitBaseline(stopped, good, "x", FitOptions{}); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}
