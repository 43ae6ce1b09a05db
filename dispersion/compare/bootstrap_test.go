package compare

import (
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// momentsOfArea is LogAreaRatio for the slow path.
func momentsOfArea(b, a []dispersion.Point) (float64, error) {
	before, err := dispersion.NewGroup(b)
	if err != nil {
		return 0, err
	}
	after, err := dispersion.NewGroup(a)
	if err != nil {
		return 0, err
	}
	return LogAreaRatio(before.Moments(), after.Moments())
}

// By hand: triangles with legs 1 and 3 have areas in the ratio 9, whatever n-1;
// beside a third shot twice there, n-1 cancels only if it is taken into account.
func TestLogAreaRatioByHand(t *testing.T) {
	triangle := func(size float64) dispersion.Moments {
		return group(t, []dispersion.Point{{X: 0, Y: 0}, {X: size, Y: 0}, {X: 0, Y: size}}).Moments()
	}
	for _, scale := range []float64{1, 1e-80, 1e80, 1e140} { // beyond 1e30 either way products must be avoided
		v, err := LogAreaRatio(triangle(scale), triangle(3*scale))
		if err != nil {
			t.Fatal(scale, err)
		}
		near(t, "log ratio", v, math.Log(9), 1e-12)
	}
	// SXX·SYY - SXY² of the unit triangle is 4/9-1/9 = 1/3; of the square with corners
	// (0,0) and (1,1) it is 1. So |S| is 1/12 and 1/9, the ratio of areas √(12/9).
	square := group(t, []dispersion.Point{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 0, Y: 1}, {X: 1, Y: 1}}).Moments()
	v, err := LogAreaRatio(triangle(1), square)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "log ratio, unequal n", v, math.Log(12.0/9)/2, 1e-12)
	// Long and thin beyond a millionth: the slow way, against the square.
	thin := group(t, []dispersion.Point{{X: 0, Y: 0}, {X: 1, Y: 1}, {X: 0, Y: 1e-5}, {X: 1, Y: 1 + 1e-5}}).Moments()
	v, err = LogAreaRatio(square, thin)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "thin", v, math.Log(1e-5), 1e-6) // sums of products to 1e-16 leave the area no more digits
	line := group(t, []dispersion.Point{{X: 0, Y: 0}, {X: 1, Y: 1}, {X: 2, Y: 2}}).Moments()
	if _, err := LogAreaRatio(square, line); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("a line: %v", err)
	}
	var few *dispersion.TooFewError
	if _, err := LogAreaRatio(square, dispersion.Moments{N: 2}); !errors.As(err, &few) || few.Need != 3 {
		t.Errorf("two shots: %v", err)
	}
}

// Sums over tuples and gathered points must tell the same, resample by resample,
// blocks included; 13 leaves a shorter unit over.
func TestMomentsAndPointsAgree(t *testing.T) {
	for _, c := range []struct{ n1, n2, block int }{{20, 13, 1}, {8, 9, 1}, {40, 33, 1}, {20, 13, 3}, {12, 9, 4}} {
		before, after := group(t, sample(t, "setosa")[:c.n1]), group(t, sample(t, "versicolor")[:c.n2])
		o := Options{Resamples: 1500, Seed: 4, Block: c.block}
		fast, err := BootstrapMoments(ctx, before, after, LogAreaRatio, o)
		var lost *NoValueError
		if errors.As(err, &lost) {
			t.Fatalf("%+v: %v", c, err)
		}
		slow, err := Bootstrap(ctx, before, after, momentsOfArea, o)
		if err != nil {
			t.Fatalf("%+v: %v", c, err)
		}
		if len(fast.Replicates) != len(slow.Replicates) {
			t.Fatalf("%+v: %d and %d replicates", c, len(fast.Replicates), len(slow.Replicates))
		}
		for i, v := range fast.Replicates {
			if math.Abs(v-slow.Replicates[i]) > 1e-11 {
				t.Fatalf("%+v, resample %d: %.15g and %.15g", c, i, v, slow.Replicates[i])
			}
		}
		near(t, "low", fast.Interval.Low, slow.Interval.Low, 1e-9)
		near(t, "acceleration", fast.Acceleration, slow.Acceleration, 1e-9)
		if fast.Method != slow.Method || fast.HasT != (min(c.n1, c.n2) < 20) || fast.Block != c.block || fast.Seed != 4 || fast.Resamples != 1500 {
			t.Errorf("%+v: %s and %s, %+v", c, fast.Method, slow.Method, fast.Warnings)
		}
	}
}

// One ball a million off: the mean lies far from all the others, and of resamples
// without that ball the plain sums would leave five digits.
func TestMomentsKeepTheirDigitsBesideAWildBall(t *testing.T) {
	wild := append(sample(t, "setosa")[:19:19], dispersion.Point{X: 1e6, Y: -3e6})
	before, after := group(t, wild), group(t, sample(t, "versicolor")[:20])
	for name, statistic := range map[string]func(b, a dispersion.Moments) (float64, error){
		"side":  func(b, a dispersion.Moments) (float64, error) { return math.Log(b.SXX), nil },
		"carry": func(b, a dispersion.Moments) (float64, error) { return math.Log(b.SYY), nil },
	} {
		fast, err := BootstrapMoments(ctx, before, after, statistic, Options{Resamples: 500})
		if err != nil {
			t.Fatal(err)
		}
		slow, err := Bootstrap(ctx, before, after, func(b, a []dispersion.Point) (float64, error) {
			return statistic(group(t, b).Moments(), group(t, a).Moments())
		}, Options{Resamples: 500})
		if err != nil {
			t.Fatal(err)
		}
		for i, v := range fast.Replicates {
			if math.Abs(v-slow.Replicates[i]) > 1e-10 {
				t.Fatalf("%s, resample %d: %.15g and %.15g", name, i, v, slow.Replicates[i])
			}
		}
	}
}

// By hand: circular blocks of two from 1 2 4 9 are 3, 6, 13 and 10 in sum, with the
// variance 14.5; the mean of four is the sum of two of them over 4, so its standard
// deviation is √(2·14.5)/4 = 1.3463, and not √(9.5/4) = 1.5411 of single draws. The
// SD of an SD of B draws is about SD/√(2B).
func TestCircularBlocksByHand(t *testing.T) {
	var points []dispersion.Point
	for _, v := range []float64{1, 2, 4, 9} {
		points = append(points, dispersion.Point{Y: v})
	}
	g := group(t, points)
	const resamples = 40000
	for block, want := range map[int]float64{1: math.Sqrt(9.5 / 4), 2: math.Sqrt(29) / 4} {
		j := momentsJob([]*dispersion.Group{g}, block, func(m []dispersion.Moments) (float64, error) { return m[0].Mean.Y, nil })
		r, err := j.run(ctx, Options{Resamples: resamples})
		if err != nil {
			t.Fatal(err)
		}
		if mean, sd := meanAndSD(r.values); math.Abs(sd-want) > 4*want/math.Sqrt(2*resamples) || math.Abs(mean-4) > 4*want/math.Sqrt(resamples) {
			t.Errorf("blocks of %d: mean %.4f, SD %.4f, want 4 and %.4f", block, mean, sd, want)
		}
	}
}

func TestBlockLength(t *testing.T) {
	for n, want := range map[int]int{-1: 1, 0: 1, 3: 1, 4: 2, 8: 2, 9: 3, 27: 3, 28: 4, 64: 4, 65: 5, 1000: 10} {
		if got := BlockLength(n); got != want {
			t.Errorf("n = %d: %d, want %d", n, got, want)
		}
	}
	before, after := group(t, sample(t, "setosa")[:9]), group(t, sample(t, "versicolor"))
	if _, err := BootstrapMoments(ctx, before, after, LogAreaRatio, Options{Block: 5}); !errors.Is(err, ErrBlock) {
		t.Errorf("blocks of 5 from 9 shots: %v", err)
	}
	if _, err := BootstrapMoments(ctx, before, after, LogAreaRatio, Options{Block: 4}); err != nil {
		t.Errorf("blocks of 4 from 9 shots: %v", err)
	}
}

// Of 5 draws from 5 shots 305/3125 are of one or two shots alone, which have no
// area: 18.6 % of pairs of groups. Of 7 from 7 it is 7+21·126 = 2653 of 823543: 0.64 %.
func TestResamplesWithoutAValue(t *testing.T) {
	setosa, versicolor := sample(t, "setosa"), sample(t, "versicolor")
	var lost *NoValueError
	_, err := BootstrapMoments(ctx, group(t, setosa[5:10]), group(t, versicolor[:5]), LogAreaRatio, Options{})
	if !errors.As(err, &lost) || !errors.Is(err, dispersion.ErrDegenerate) || math.Abs(float64(lost.Failed)-1855) > 4*39+200 {
		t.Errorf("5 against 5: %v", err)
	}
	b, err := BootstrapMoments(ctx, group(t, setosa[:7]), group(t, versicolor[:7]), LogAreaRatio, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(b.Warnings) == 0 || !errors.As(b.Warnings[0], &lost) || lost.Of != 9999 || len(b.Replicates) != 9999-lost.Failed {
		t.Errorf("7 against 7: %v", b.Warnings)
	}
	// 6 draws leave one shot out of three in too many resamples for a standard error.
	if six, err := BootstrapMoments(ctx, group(t, setosa[:6]), group(t, versicolor[:6]), LogAreaRatio, Options{}); err != nil || six.HasT || !slices.Contains(six.Warnings, ErrNoBootstrapT) || !(six.Interval.Low < six.BCa.Low && six.BCa.High < six.Interval.High) {
		t.Errorf("6 against 6: %+v, %v", six.Warnings, err)
	}
	if slices.ContainsFunc(b.Replicates, math.IsNaN) {
		t.Error("NaN among the replicates")
	}
	own := errors.New("my own")
	calls := 0
	old := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(old)
	_, err = Bootstrap(ctx, group(t, setosa[:20]), group(t, versicolor[:20]), func(b, a []dispersion.Point) (float64, error) {
		if calls++; calls > 60 {
			return 0, own
		}
		return meanDifference(b, a)
	}, Options{})
	if !errors.Is(err, own) {
		t.Errorf("a statistic that fails on resamples: %v", err)
	}
}

func TestBootstrapErrors(t *testing.T) {
	before, after := group(t, sample(t, "setosa")), group(t, sample(t, "versicolor"))
	if _, err := Bootstrap(ctx, before, after, nil, Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("no statistic: %v", err)
	}
	if _, err := BootstrapMoments(ctx, before, after, nil, Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("no statistic of moments: %v", err)
	}
	constant := func(b, a []dispersion.Point) (float64, error) { return 3, nil }
	if _, err := Bootstrap(ctx, before, after, constant, Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("a constant: %v", err)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(-1)} {
		if _, err := Bootstrap(ctx, before, after, func(b, a []dispersion.Point) (float64, error) { return bad, nil }, Options{}); err == nil {
			t.Errorf("a statistic of %g passed", bad)
		}
	}
	three := group(t, sample(t, "setosa3"))
	if _, err := BootstrapMoments(ctx, three, after, LogAreaRatio, Options{}); err == nil { // all but one of three have no area
		t.Error("an area of three shots passed")
	}
}

// 50 resamples have no 0.3 % point, and 20 shots' worth of skew can push BCa over
// the edge; more resamples help with the first.
func TestExtremeWarning(t *testing.T) {
	before, after := group(t, sample(t, "setosa")[:12]), group(t, sample(t, "versicolor")[:12])
	b, err := BootstrapMoments(ctx, before, after, LogAreaRatio, Options{Resamples: 50, Level: 0.99})
	if err != nil {
		t.Fatal(err)
	}
	need := 0
	for _, w := range b.Warnings {
		var extreme *ExtremeWarning
		if errors.As(w, &extreme) {
			need = max(need, extreme.Need)
		}
	}
	if need < 200 {
		t.Fatalf("warnings %v", b.Warnings)
	}
	if b, err = BootstrapMoments(ctx, before, after, LogAreaRatio, Options{Resamples: 2 * need, Level: 0.99}); err != nil {
		t.Fatal(err)
	}
	for _, w := range b.Warnings {
		var extreme *ExtremeWarning
		if errors.As(w, &extreme) {
			t.Errorf("with %d resamples: %v", 2*need, w)
		}
	}
}

// Equal shares of quantiles by sorting, with ties, one value, a heavy tail and all
// values equal.
func TestQuantilesAgreeWithSorting(t *testing.T) {
	r := rand.New(resample.NewStream(8, "quantiles", 0))
	for _, draw := range []func() float64{r.NormFloat64, func() float64 { return float64(r.IntN(5)) }, func() float64 { return 1 / r.NormFloat64() }, func() float64 { return 3 }} {
		for _, n := range []int{1, 2, 3, 100, 3000} {
			values := make([]float64, n)
			for i := range values {
				values[i] = draw()
			}
			values[n/2] *= 1e280
			sorted := slices.Sorted(slices.Values(values))
			before := slices.Clone(values)
			for _, share := range []float64{0, 0.001, 0.025, 0.5, 0.9, 1} {
				h := share * float64(n-1)
				low, high := sorted[int(h)], sorted[int(math.Ceil(h))]
				want := low + (h-math.Floor(h))*(high-low)
				if got := quantilesOf(values, 0.3, share)[1]; got != want && math.Abs(got-want) > 1e-12*math.Abs(want) {
					t.Errorf("%d values, share %g: %g, want %g", n, share, got, want)
				}
			}
			if !slices.Equal(values, before) {
				t.Error("the values were reordered")
			}
		}
	}
}
