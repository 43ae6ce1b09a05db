package compare

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

func inflation(t testing.TB, rule PickRule, keep, of int) float64 {
	t.Helper()
	v, err := PickInflation(Picking{rule, keep, of})
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Source: H. L. Harter, Biometrika 48 (1961), tables of expected normal order
// statistics, printed to five digits (from memory) and recomputed with R 4.2.2 to
// ten; the range is that of control charts, 1.128, 2.326, 3.078.
func TestBestOfNormal(t *testing.T) {
	for n, want := range map[int]float64{
		2: .56418958, 3: .84628438, 4: 1.02937537, 5: 1.16296447, 6: 1.26720636, 7: 1.35217838, 8: 1.42360031, 9: 1.48501316, 10: 1.53875273,
		15: 1.73591345, 20: 1.86747506, 25: 1.96531461, 30: 2.04276085, 40: 2.16077718, 50: 2.24907363,
	} {
		if got := inflation(t, BestShots, 1, n); math.Abs(got-want) > 1e-7 {
			t.Errorf("best of %d: %.9f, want %.8f", n, got, want)
		}
		// The second best is what is left of the mean of the best two.
		if want, ok := map[int]float64{5: .49501897, 10: 1.00135705, 20: 1.40760408}[n]; ok {
			if got := 2*inflation(t, BestShots, 2, n) - inflation(t, BestShots, 1, n); math.Abs(got-want) > 1e-7 {
				t.Errorf("second best of %d: %.9f, want %.8f", n, got, want)
			}
		}
		if want, ok := map[int]float64{2: 1.1283792, 5: 2.3259289, 10: 3.0775055}[n]; ok {
			if got := 2 * inflation(t, BestShots, 1, n); math.Abs(got-want) > 1e-7 {
				t.Errorf("range of %d: %.9f, want %.7f", n, got, want)
			}
		}
	}
	for _, w := range [][2]int{{1, 2}, {1, 10}, {3, 10}, {5, 20}, {2, 5}, {10, 20}, {1, 100}, {50, 100}} {
		got := inflation(t, BestShots, w[0], w[1])
		if want := evidence(t, fmt.Sprintf("best %d %d", w[0], w[1]))["mean"]; math.Abs(got-want) > 1e-9 {
			t.Errorf("best %d of %d: %.12f, want %.12f", w[0], w[1], got, want)
		}
	}
	if got := inflation(t, BestShots, 7, 7); got != 0 {
		t.Errorf("all of seven: %g", got)
	}
}

// The best of four stages of ten looks 0.65 better than the worst (the range of
// four, 2.05875, over √10), and half of that better than their mean.
func TestBestStage(t *testing.T) {
	if got := 2 * inflation(t, BestStage, 10, 4); math.Abs(got-2.05875/math.Sqrt(10)) > 1e-5 {
		t.Errorf("best against worst of four: %g", got)
	}
}

// By hand: of two, the better of the first and the mean of both gains half the
// mean of |x₁-x₂|/2 = √(1/π)/2 = 0.28209. Of three and more: R 4.2.2, quadrature
// and 400,000 simulated runs with their standard error.
func TestBestRunOfNormal(t *testing.T) {
	if got, want := inflation(t, StoppedWhenGood, 1, 2), math.Sqrt(1/math.Pi)/2; math.Abs(got-want) > 1e-9 {
		t.Errorf("run of 1 or 2: %.12f, want %.12f", got, want)
	}
	if got, want := inflation(t, LastShots, 1, 3), evidence(t, "run 1 3")["mean"]; math.Abs(got-want) > 1e-9 {
		t.Errorf("run of 1 to 3: %.12f, want %.12f", got, want)
	}
	for _, w := range [][2]int{{5, 15}, {3, 30}} {
		seen := evidence(t, fmt.Sprintf("simulated run %d %d", w[0], w[1]))
		if got := inflation(t, StoppedWhenGood, w[0], w[1]); math.Abs(got-seen["mean"]) > 4*seen["se"] {
			t.Errorf("run of %d to %d: %.5f, simulated %.5f ± %.5f", w[0], w[1], got, seen["mean"], seen["se"])
		}
	}
	if got := inflation(t, LastShots, 6, 6); got != 0 {
		t.Errorf("no choice: %g", got)
	}
}

// By hand on 5 1 4 2 9 3.
func TestWhatIsPicked(t *testing.T) {
	for _, c := range []struct {
		p    Picking
		want float64
	}{
		{Picking{BestShots, 2, 6}, 7},         // 9 and 5
		{Picking{BestStage, 2, 3}, 6},         // 9 and 3
		{Picking{LastShots, 2, 6}, 6},         // 9 3, before 2 9 3 with 14/3
		{Picking{StoppedWhenGood, 2, 6}, 4.2}, // 5 1 4 2 9
		{Picking{StoppedWhenGood, 6, 6}, 4},
	} {
		if got := c.p.mean([]float64{5, 1, 4, 2, 9, 3}); math.Abs(got-c.want) > 1e-15 {
			t.Errorf("%+v picks %g, want %g", c.p, got, c.want)
		}
	}
}

func TestPickedGain(t *testing.T) {
	before := evidenceData(t, "data lh", "x")
	best := []float64{3.2, 3.4, 3.5}
	p, err := PickedGain(ctx, NameCarryGain, "yd", before, best, Picking{BestShots, 3, 10}, Options{Seed: 5})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "shown", p.Shown, meanOf(best)-meanOf(before), 1e-12)
	near(t, "corrected", p.Corrected.Estimate, p.Shown-p.Inflation, 1e-9)
	// 1.0654 standard deviations if normal; R: sd(lh) = 0.5515934.
	near(t, "normal", p.Normal, 1.06538963*0.5515934, 1e-6)
	if math.Abs(p.Inflation/p.Normal-1) > 0.1 {
		t.Errorf("inflation %g by resampling, %g if normal", p.Inflation, p.Normal)
	}
	if i := p.Corrected.Interval; i.Low > 0 || i.High < 0 || p.Corrected.P < 0.05 {
		t.Errorf("the three best of ten show a gain: %+v", p.Corrected)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	again, err := PickedGain(ctx, NameCarryGain, "yd", before, best, Picking{BestShots, 3, 10}, Options{Seed: 5})
	if err != nil || again.Corrected.Interval != p.Corrected.Interval || again.Corrected.P != p.Corrected.P {
		t.Errorf("on one core %+v, %v", again.Corrected, err)
	}
	if s := p.Sentence(); !strings.Contains(s, "picking them does 0.6 yd of that by itself") {
		t.Error(s)
	}
}

// By hand: far beyond all 99 resamples, so 2·(0+1)/(99+1).
func TestPickedGainPIsTwoSided(t *testing.T) {
	p, err := PickedGain(ctx, "", "", evidenceData(t, "data lh", "x"), []float64{30, 31}, Picking{BestShots, 2, 10}, Options{Resamples: 99})
	if err != nil || p.Corrected.P != 0.02 || p.Corrected.PFloor != 0.02 {
		t.Errorf("%+v, %v", p.Corrected, err)
	}
}

func TestPickingErrors(t *testing.T) {
	before := evidenceData(t, "data lh", "x")
	for _, p := range []Picking{{}, {BestShots, 0, 5}, {BestShots, 6, 5}, {BestShots, 1, 101}, {BestStage, 1, 0}, {StoppedWhenGood + 1, 1, 2}} {
		if _, err := PickInflation(p); !errors.Is(err, ErrPicking) {
			t.Errorf("%+v: %v", p, err)
		}
		if _, err := PickedGain(ctx, "", "", before, []float64{1}, p, Options{}); !errors.Is(err, ErrPicking) {
			t.Errorf("%+v: %v", p, err)
		}
	}
	if _, err := PickedGain(ctx, "", "", before, []float64{1, 2}, Picking{BestShots, 3, 10}, Options{}); !errors.Is(err, ErrPicking) {
		t.Errorf("two of three shown: %v", err)
	}
	var few *dispersion.TooFewError
	if _, err := PickedGain(ctx, "", "", before[:4], []float64{1}, Picking{BestShots, 1, 10}, Options{}); !errors.As(err, &few) {
		t.Errorf("four before: %v", err)
	}
	if _, err := PickedGain(ctx, "", "", level(3, 8)[:1:1], nil, Picking{BestShots, 1, 1}, Options{}); !errors.As(err, &few) {
		t.Errorf("one before: %v", err)
	}
	if _, err := PickedGain(ctx, "", "", []float64{2, 2, 2, 2, 2}, []float64{3}, Picking{BestShots, 1, 4}, Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("no spread before: %v", err)
	}
}

// The best three of ten with a true gain of one standard deviation, against the
// given number before.
func pickedCoverage(t *testing.T, before, df int) float64 {
	t.Helper()
	r := rand.New(resample.NewStream(1, "picked coverage", before*10+df))
	draw := func() float64 {
		z := r.NormFloat64()
		if df == 0 {
			return z
		}
		var chi2 float64
		for range df {
			v := r.NormFloat64()
			chi2 += v * v
		}
		return z / math.Sqrt(chi2/float64(df))
	}
	lessons, held := max(*pairs/5, 200), 0
	for range lessons {
		old, hit := make([]float64, before), make([]float64, 10)
		for i := range old {
			old[i] = draw()
		}
		for i := range hit {
			hit[i] = 1 + draw()
		}
		(Picking{BestShots, 3, 10}).mean(hit) // sorts
		p, err := PickedGain(ctx, "", "", old, hit[7:], Picking{BestShots, 3, 10}, Options{Resamples: 499})
		if err != nil {
			t.Fatal(err)
		}
		if i := p.Corrected.Interval; i.Low <= 1 && 1 <= i.High {
			held++
		}
	}
	return float64(held) / float64(lessons)
}

func TestPickedGainCoverage(t *testing.T) {
	for _, c := range []struct {
		before, df int
		promised   float64
	}{{10, 0, 0.94}, {20, 0, 0.94}, {20, 5, 0.92}} {
		got := pickedCoverage(t, c.before, c.df)
		limit := c.promised - 4*math.Sqrt(c.promised*(1-c.promised)/float64(max(*pairs/5, 200)))
		if got < limit {
			t.Errorf("%+v: covers %.3f, limit %.3f", c, got, limit)
		}
		t.Logf("%+v: covers %.4f", c, got)
	}
}
