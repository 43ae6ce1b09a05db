package compare

import (
	"context"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// Source: the tails of T. C. Hesterberg's expansion, Φ(-√(n/(n-1))·t), and the
// width of the plain percentile interval against t, recomputed with R 4.2.2 (pnorm,
// qt).
func TestExpandedTails(t *testing.T) {
	for n, want := range map[int]float64{
		5: .000954101, 8: .005737521, 10: .008550639, 15: .013207173, 20: .015880830, 30: .018753900, 50: .021179411,
	} {
		if got := expandedTail(0.95, n); math.Abs(got-want) > 1e-9 {
			t.Errorf("n = %d: %.9f, want %.9f", n, got, want)
		}
	}
	// .775 at n = 8 and .822 at n = 10 in that table: four fifths are reached at 9.
	if got := shotsForBootstrap(0.95); got != 9 {
		t.Errorf("%d shots, want 9", got)
	}
}

// one is a job of a single stage.
func one(t *testing.T, points []dispersion.Point, statistic func(m dispersion.Moments) (float64, error)) job {
	return momentsJob([]*dispersion.Group{group(t, points)}, 1, func(m []dispersion.Moments) (float64, error) { return statistic(m[0]) })
}

// Published: B. Efron, R. Tibshirani, An Introduction to the Bootstrap, 1993. Law
// school r (.776, jackknife SE .1425; bootstrap SE about .13, BCa 90 % about .43 to
// .92, by R's boot with 100,000 resamples .1331, .429 to .926) and the spatial test
// A (variance 171.5, a = .061, BCa 90 % 115.8 to 259.6; SciPy 115.4 to 260.9).
func TestPublishedBootstraps(t *testing.T) {
	run := func(j job) Bootstrapped {
		b, err := bootstrapOf(ctx, j, Options{Level: 0.90, Resamples: 100000, Block: 1})
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	within := func(what string, got, want, tolerance float64) {
		t.Helper()
		if math.Abs(got-want) > tolerance {
			t.Errorf("%s: got %.6g, want %.6g ± %g", what, got, want, tolerance)
		}
	}
	recordedLaw := readRecorded(t, "cor_law")
	var law []dispersion.Point
	for _, p := range recordedLaw.Data {
		law = append(law, dispersion.Point{X: p[0], Y: p[1]})
	}
	b := run(one(t, law, func(m dispersion.Moments) (float64, error) { return m.SXY / math.Sqrt(m.SXX*m.SYY), nil }))
	within("r", b.Estimate, .77637449, 1e-8)
	within("jackknife SE of r", b.JackknifeSE, .14251862, 1e-8)
	within("acceleration of r", b.Acceleration, -.075671565, 1e-9)
	within("SE of r", b.SE, .1331, .003)
	within("r, BCa low", b.BCa.Low, .429, .01)
	within("r, BCa high", b.BCa.High, .926, .01)
	within("r, z₀", b.Correction, -.104, 4*.005)

	var spatial []dispersion.Point
	for _, v := range []float64{48, 36, 20, 29, 42, 42, 20, 42, 22, 41, 45, 14, 6, 0, 33, 28, 34, 4, 32, 24, 47, 41, 24, 26, 30, 41} {
		spatial = append(spatial, dispersion.Point{Y: v})
	}
	b = run(one(t, spatial, func(m dispersion.Moments) (float64, error) { return m.SYY / float64(m.N), nil }))
	within("variance", b.Estimate, 171.53402, 1e-5)
	within("acceleration of the variance", b.Acceleration, .06124012, 1e-8)
	within("variance, BCa low", b.BCa.Low, 115.8, 3)
	within("variance, BCa high", b.BCa.High, 260.4, 3)
}

// Source: t(19) at 0.975 is 2.0930 (any t table). From 20 shots on the interval to
// read is the BCa interval, as published, of the level that reaches √(20/19)·2.0930
// standard errors instead of 1.96, so at 95 % that of 96.82 %.
func TestTheIntervalToReadIsBCaOfAWiderLevel(t *testing.T) {
	before, after := group(t, sample(t, "setosa")[:20]), group(t, sample(t, "versicolor")[:20])
	gain := func(b, a dispersion.Moments) (float64, error) { return a.Mean.Y - b.Mean.Y, nil }
	read, err := BootstrapMoments(ctx, before, after, gain, Options{Seed: 4})
	if err != nil {
		t.Fatal(err)
	}
	wide, err := BootstrapMoments(ctx, before, after, gain, Options{Seed: 4, Level: math.Erf(math.Sqrt(20.0/19) * 2.093024 / math.Sqrt2)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "low", read.Interval.Low, wide.BCa.Low, 1e-6)
	near(t, "high", read.Interval.High, wide.BCa.High, 1e-6)
	if !(read.Interval.Low < read.BCa.Low && read.BCa.High < read.Interval.High) {
		t.Errorf("%v to read, not wider than %v as published", read.Interval, read.BCa)
	}
}

// The interval to read keeps its promise on normal shots, within 4 binomial SD:
// bootstrap-t of an area at 10 against 10 93 %, BCa with wider tails at 20 against
// 20 94 %, of an area and of a mean.
func TestBootstrapCoverage(t *testing.T) {
	ratio := func(c context.Context, b, a *dispersion.Group, o Options) (Effect, error) {
		boot, err := BootstrapMoments(c, b, a, LogAreaRatio, Options{Resamples: 599})
		i := boot.Interval
		return Effect{Interval: dispersion.Interval{Low: math.Exp(i.Low), High: math.Exp(i.High), Level: i.Level}}, err
	}
	// The true gain is 0, which as a ratio is 1.
	gain := func(c context.Context, b, a *dispersion.Group, o Options) (Effect, error) {
		boot, err := BootstrapMoments(c, b, a, func(b, a dispersion.Moments) (float64, error) { return a.Mean.Y - b.Mean.Y, nil }, Options{Resamples: 599})
		i := boot.Interval
		return Effect{Interval: dispersion.Interval{Low: math.Exp(i.Low), High: math.Exp(i.High), Level: i.Level}}, err
	}
	checkCoverage(t, "bootstrap-t of an area, 10 v 10", coverage(t, "bootstrap", [2]int{10, 10}, laws[0], 2, ratio), 0.93)
	checkCoverage(t, "BCa of an area, 20 v 20", coverage(t, "bootstrap", [2]int{20, 20}, laws[0], 2, ratio), 0.94)
	checkCoverage(t, "BCa of a mean, 20 v 20", coverage(t, "bootstrap of a mean", [2]int{20, 20}, laws[0], 0, gain), 0.94)
}
