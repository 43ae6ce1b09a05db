package compare

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// By hand: after less before of {1, 2, 4} and {3, 7, 12} are 2 6 11 1 5 10 -1 3 8,
// in order -1 1 2 3 5 6 8 10 11 with the median 5. Of the 20 splits only one has
// U = 0, so all nine differences hold the shift in 90 % of lessons; ranks 1 2 4 and
// 3 5 6 sum to 7 and 14, and sums of 7 or less, 14 or more, are {1,2,3} {1,2,4} and
// their mirror images: p = 4/20. The floor is 2/20.
func TestHodgesLehmannByHand(t *testing.T) {
	e, err := HodgesLehmann(ctx, "carry", "yd", []float64{4, 1, 2}, []float64{12, 3, 7}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "shift", e.Estimate, 5, 1e-15)
	near(t, "low", e.Interval.Low, -1, 1e-15)
	near(t, "high", e.Interval.High, 11, 1e-15)
	near(t, "level", e.Interval.Level, 0.9, 1e-12)
	near(t, "p", e.P, 0.2, 1e-12)
	near(t, "floor", e.PFloor, 0.1, 1e-12)
	near(t, "before", e.Before, 2, 0)
	near(t, "after", e.After, 7, 0)
	var level *LevelWarning
	if len(e.Warnings) != 1 || !errors.As(e.Warnings[0], &level) || level.Need != 4 || level.Asked != 0.95 {
		t.Errorf("warnings %v", e.Warnings)
	}
	if e.Name != "carry" || e.Unit != "yd" || e.N1 != 3 || e.N2 != 3 || e.Null != 0 || !e.HasP {
		t.Errorf("echoed %+v", e)
	}
}

// 4 against 4 reaches 95 %: 1 - 2/70 = 0.9714.
func TestHodgesLehmannAttainsTheLevel(t *testing.T) {
	e, err := HodgesLehmann(ctx, "", "", []float64{1, 2, 3, 4}, []float64{1.5, 2.5, 3.7, 9}, Options{})
	if err != nil || len(e.Warnings) != 0 {
		t.Fatalf("%v, %v", e.Warnings, err)
	}
	near(t, "level", e.Interval.Level, 1-2.0/70, 1e-12)
}

// The counts are those of the Mann-Whitney table (H. B. Mann, D. R. Whitney, 1947):
// 5 against 5, U = 0 … 4: 1 1 2 3 5 of 252.
func TestRankSumCounts(t *testing.T) {
	d, err := newRankSum(ctx, []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, 5)
	if err != nil {
		t.Fatal(err)
	}
	for u, want := range []float64{1, 1, 2, 3, 5} {
		if d.counts[15+u] != want {
			t.Errorf("U = %d: %g ways, want %g", u, d.counts[15+u], want)
		}
	}
	if d.total != 252 {
		t.Errorf("%g splits, want 252", d.total)
	}
}

// Beyond 100 shots the drawn p and the counted one, and the two ways to find k,
// must agree.
func TestManyShotsByRanks(t *testing.T) {
	r := rand.New(resample.NewStream(5, "ranks", 0))
	var before, after []float64
	for range 55 {
		before = append(before, math.Round(10*r.NormFloat64())/10)
		after = append(after, math.Round(10*r.NormFloat64()+4)/10)
	}
	e, err := HodgesLehmann(ctx, "", "", before, after, Options{})
	if err != nil {
		t.Fatal(err)
	}
	d, err := newRankSum(ctx, doubledMidranks(append(append([]float64{}, before...), after...)), 55)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0
	for _, r := range d.ranks[:55] {
		sum += r
	}
	exact, _ := d.twoSided(sum)
	if limit := 4 * math.Sqrt(exact*(1-exact)/9999); math.Abs(e.P-exact) > limit || e.Resamples != 9999 {
		t.Errorf("p = %g drawn, %g counted: further apart than %g", e.P, exact, limit)
	}
	// At 50 against 50, where both ways work, k agrees within one.
	counted, tail, err := orderForInterval(ctx, 50, 50, 0.025)
	if err != nil {
		t.Fatal(err)
	}
	normal := 50.0*50/2 - 1.959964*math.Sqrt(50*50*101/12.0) + 0.5
	if math.Abs(float64(counted)-normal) > 1 || tail >= 0.025 {
		t.Errorf("k = %d counted, %.1f by the normal law, tail %g", counted, normal, tail)
	}
}

// Shifts hold the truth as often as they say, 4 binomial SD: on the heaviest tails
// a mean would not even exist.
func TestHodgesLehmannCoverage(t *testing.T) {
	r := rand.New(resample.NewStream(6, "coverage of ranks", 0))
	held, level := 0, 0.0
	const lessons = 2000
	for range lessons {
		var before, after []float64
		for range 7 {
			before = append(before, r.NormFloat64()/r.NormFloat64())
		}
		for range 9 {
			after = append(after, 3+r.NormFloat64()/r.NormFloat64())
		}
		e, err := HodgesLehmann(ctx, "", "", before, after, Options{})
		if err != nil {
			t.Fatal(err)
		}
		level = e.Interval.Level
		if e.Interval.Low <= 3 && 3 <= e.Interval.High {
			held++
		}
	}
	got := float64(held) / lessons
	if math.Abs(got-level) > 4*math.Sqrt(level*(1-level)/lessons) {
		t.Errorf("covers %.4f, says %.4f", got, level)
	}
}

// By hand: of 1 … 9 and 100 the two smallest and two largest go: 3 … 8 with the
// mean 5.5, Winsorised 3 3 3 4 5 6 7 8 8 8, squares around 5.5: 6·6.25 + 2·2.25 +
// 2·.25 = 42.5; (n-1)s²w/[h(h-1)] = 42.5/30 a side, so se = √(85/30) and ν = 2·5.
func TestTrimmedGainByHand(t *testing.T) {
	before := []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 100}
	after := make([]float64, len(before))
	for i, v := range before {
		after[i] = v + 6
	}
	e, err := TrimmedGain(ctx, "", "", before, after, Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "gain", e.Estimate, 6, 1e-12)
	near(t, "before", e.Before, 5.5, 1e-12)
	near(t, "df", e.DF, 10, 1e-12)
	near(t, "high", e.Interval.High, 6+2.228139*math.Sqrt(85.0/30), 1e-6) // t(10) at 0.975, any table
}

func TestValueErrors(t *testing.T) {
	ten := []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}
	done, cancel := context.WithCancel(ctx)
	cancel()
	for name, f := range map[string]func(context.Context, string, string, []float64, []float64, Options) (Effect, error){
		"HodgesLehmann": HodgesLehmann, "TrimmedGain": TrimmedGain, "MeanGain": MeanGain,
	} {
		try := func(c context.Context, b, a []float64, o Options) error { _, err := f(c, "", "", b, a, o); return err }
		if err := try(nil, ten, ten, Options{}); !errors.Is(err, ErrMissing) {
			t.Errorf("%s without a context: %v", name, err)
		}
		if err := try(done, ten, ten, Options{}); !errors.Is(err, context.Canceled) {
			t.Errorf("%s with a context that is done: %v", name, err)
		}
		if err := try(ctx, ten, ten, Options{Level: 2}); !errors.Is(err, dispersion.ErrLevel) {
			t.Errorf("%s at level 2: %v", name, err)
		}
		if err := try(ctx, ten, ten, Options{Resamples: -1}); !errors.Is(err, ErrResamples) {
			t.Errorf("%s of -1 resamples: %v", name, err)
		}
		var few *dispersion.TooFewError
		if err := try(ctx, ten, ten[:1], Options{}); !errors.As(err, &few) || few.Have != 1 {
			t.Errorf("%s of one value: %v", name, err)
		}
		var value *ValueError
		if err := try(ctx, ten, append([]float64{math.NaN()}, ten...), Options{}); !errors.As(err, &value) || value.Side != "after" {
			t.Errorf("%s of NaN: %v", name, err)
		}
		same := make([]float64, 10)
		if err := try(ctx, same, same, Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
			t.Errorf("%s of equal values: %v", name, err)
		}
	}
	if _, err := TrimmedGain(ctx, "", "", ten, ten[:9], Options{}); err == nil {
		t.Error("nine values after passed")
	}
}
