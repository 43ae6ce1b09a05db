package compare

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"
	"time"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// By hand: before 1 3, after 5 9. Means 2 and 7, variances 2 and 8, so the
// squared standard error is 1 + 4 = 5 and ν = 25/(1+16) = 25/17. Of the 6 splits
// |t| is 5/√5 = 2.236 here and in the mirror image; 1 5 | 3 9 gives 3/√(4+9) =
// 0.83, 1 9 | 3 5 gives 1/√(16+1) = 0.24. So p = 2/6, the floor.
func TestMeanGainByHand(t *testing.T) {
	e, err := MeanGain(ctx, "speed", "mph", []float64{1, 3}, []float64{5, 9}, Options{Seed: 7})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "estimate", e.Estimate, 5, 1e-15)
	near(t, "before", e.Before, 2, 1e-15)
	near(t, "after", e.After, 7, 1e-15)
	near(t, "df", e.DF, 25.0/17, 1e-14)
	near(t, "p", e.P, 2.0/6, 1e-15)
	near(t, "floor", e.PFloor, 2.0/6, 1e-15)
	if e.Name != "speed" || e.Unit != "mph" || e.Seed != 7 || e.Resamples != 6 || !e.HasP || e.Null != 0 {
		t.Errorf("echoed %+v", e)
	}
}

// The floors for equal groups, two-sided: 0.1, 0.0286, 0.0079 (2/20, 2/70,
// 2/252). Two groups far apart reach them.
func TestAttainableFloor(t *testing.T) {
	for n, splits := range map[int]float64{3: 20, 4: 70, 5: 252} {
		before, after := make([]float64, n), make([]float64, n)
		for i := range n {
			before[i], after[i] = float64(i), float64(1000+i*i)
		}
		e, err := MeanGain(ctx, "", "", before, after, Options{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "floor", e.PFloor, 2/splits, 1e-15)
		near(t, "p", e.P, 2/splits, 1e-15)
	}
	e, err := MeanGain(ctx, "", "", []float64{1, 2, 4}, []float64{5, 6, 7, 9, 8}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "uneven floor", e.PFloor, 1.0/56, 1e-15)
}

// Random splits estimate the exact p: for iris, 12 against 12 (2.7 million
// splits), two seeds must agree within what 9999 draws of each allow, and p
// counts the observed split.
func TestRandomSplits(t *testing.T) {
	before := column(group(t, sample(t, "versicolor12")), func(p dispersion.Point) float64 { return p.X })
	after := make([]float64, len(before))
	for i, v := range before {
		after[i] = v + 0.2 + 0.01*float64(i%5)
	}
	first, err := MeanGain(ctx, "", "", before, after, Options{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	second, err := MeanGain(ctx, "", "", before, after, Options{Seed: 2})
	if err != nil {
		t.Fatal(err)
	}
	if first.P == second.P {
		t.Error("two seeds gave the same p")
	}
	// 4 binomial standard deviations of a difference of two shares near p.
	if limit := 4 * math.Sqrt(2*first.P*(1-first.P)/9999); math.Abs(first.P-second.P) > limit {
		t.Errorf("p = %g and %g, further apart than %g", first.P, second.P, limit)
	}
	if whole := first.P * 10000; math.Abs(whole-math.Round(whole)) > 1e-9 || first.Resamples != 9999 {
		t.Errorf("p = %v of %d is no (b+1)/(m+1)", first.P, first.Resamples)
	}
	far := make([]float64, len(before))
	for i, v := range before {
		far[i] = v + 1000
	}
	e, err := MeanGain(ctx, "", "", before, far, Options{Resamples: 199})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "floor", e.PFloor, 1.0/200, 1e-15)
	near(t, "p at the floor", e.P, 1.0/200, 1e-15)
}

// With no gain at all p is at most 0.1 in a tenth of lessons, no more: 5 against
// 5 normal carries with the same spread, 2000 lessons, exact splits. The
// permutation p is exactly uniform on k/126: P(p <= 12/126) = 12/126.
func TestPermutationSize(t *testing.T) {
	r := rand.New(resample.NewStream(11, "size", 0))
	const lessons = 2000
	low := 0
	for range lessons {
		var x [10]float64
		for i := range x {
			x[i] = r.NormFloat64()
		}
		e, err := MeanGain(ctx, "", "", x[:5], x[5:], Options{})
		if err != nil {
			t.Fatal(err)
		}
		if e.P <= 0.1 {
			low++
		}
	}
	const share = 12.0 / 126
	if math.Abs(float64(low)/lessons-share) > 4*math.Sqrt(share*(1-share)/lessons) {
		t.Errorf("%d of %d lessons have p <= 0.1, want about %.0f", low, lessons, share*lessons)
	}
}

// Splits that leave no side any spread have an infinite statistic. By hand, four
// carries of 150 against 150 150 151 151: the observed |t| is 0.5/√(0+1/12) =
// 1.73. Of the 70 splits both 151 fall on one side in 2·C(6,2) = 30, all with
// that statistic; else the means agree. No split is without spread. p = 30/70.
// 1 1 1 | 1 2 2: the mean shift of a split with k twos before; k = 0 as here
// and k = 2 its mirror, together 4·2 = 8 of 20, are all at |t| = (2/3)/(1/3) = 2.
func TestTiesAndConstantSides(t *testing.T) {
	e, err := MeanGain(ctx, "", "", []float64{150, 150, 150, 150}, []float64{150, 151, 150, 151}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "p", e.P, 30.0/70, 1e-15)
	e, err = MeanGain(ctx, "", "", []float64{1, 1, 1}, []float64{1, 2, 2}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "p", e.P, 8.0/20, 1e-15)
	// 1 1 2 | 1 2 2: the splits 1 1 1 | 2 2 2 and its mirror have no spread and
	// count; the others with one two before or after are the observed one's
	// likes. All 20 splits are at least as large.
	e, err = MeanGain(ctx, "", "", []float64{0.1, 0.1, 0.3}, []float64{0.1, 0.3, 0.3}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "p", e.P, 1, 1e-15)
	// Decimals that don't add up exactly must tie all the same.
	e, err = MeanGain(ctx, "", "", []float64{0.1, 0.2, 0.3, 0.7}, []float64{0.1, 0.2, 0.3, 0.7}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "p of equal groups", e.P, 1, 1e-15)
}

// The fast sums of a split must keep their digits where the sides are far apart:
// by two passes over each side, the formula itself.
func TestStudentisedKeepsItsDigits(t *testing.T) {
	for _, gap := range []float64{0, 1, 1e2, 1e4, 1e6} {
		before, after := []float64{1, 2, 4, 9}, []float64{gap + 2, gap + 3, gap + 3.5, gap + 7, gap + 7}
		z, _ := standardise(before, after)
		want := welchOf(summaryOf(before), summaryOf(after))
		near(t, "statistic", z.studentised(resample.NewSplit(4, 5)), math.Abs(want.difference)/want.se, 1e-9)
	}
}

func TestGainDirections(t *testing.T) {
	before := group(t, []dispersion.Point{{X: 1, Y: 100}, {X: 2, Y: 103}, {X: 6, Y: 101}, {X: 3, Y: 104}})
	after := group(t, []dispersion.Point{{X: -1, Y: 110}, {X: -3, Y: 114}, {X: -5, Y: 111}, {X: -3, Y: 113}})
	carry, err := CarryGain(ctx, before, after, Options{})
	if err != nil {
		t.Fatal(err)
	}
	side, err := SideShift(ctx, before, after, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(carry.Estimate-10) > 1e-12 || carry.Name != "carry_gain" || carry.NoBetter {
		t.Errorf("carry %+v", carry)
	}
	if math.Abs(side.Estimate+6) > 1e-12 || side.Name != "side_shift" || !side.NoBetter {
		t.Errorf("side %+v", side)
	}
}

// Source for the 5: any t table; 1.2·1.96 = 2.352 is first undercut at t(8) = 2.3060, so at n = 5.
func TestGainWarnings(t *testing.T) {
	e, err := MeanGain(ctx, "", "", []float64{1, 2, 4}, []float64{3, 5, 9}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var few *FewShotsWarning
	var floor *FloorWarning
	if len(e.Warnings) != 2 || !errors.As(e.Warnings[0], &few) || !errors.As(e.Warnings[1], &floor) {
		t.Fatalf("warnings %v", e.Warnings)
	}
	if few.Need != 5 || few.Before != 3 || few.After != 3 {
		t.Errorf("%+v", few)
	}
	if floor.Need != 4 || math.Abs(floor.Floor-0.1) > 1e-15 || math.Abs(floor.Line-0.05) > 1e-15 {
		t.Errorf("%+v", floor)
	}
	e, err = MeanGain(ctx, "", "", []float64{1, 2, 4, 4}, []float64{3, 5, 9, 9}, Options{})
	if err != nil || len(e.Warnings) != 0 {
		t.Errorf("4 a side: %v, %v", e.Warnings, err)
	}
}

func TestGainErrors(t *testing.T) {
	fine := []float64{1, 2, 3}
	var value *ValueError
	for i, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e151} {
		_, err := MeanGain(ctx, "", "", fine, []float64{1, 2, bad}, Options{})
		if !errors.As(err, &value) || value.Side != "after" || value.Index != 2 {
			t.Errorf("bad value %d after: %v", i, err)
		}
		_, err = MeanGain(ctx, "", "", []float64{1, bad}, fine, Options{})
		if !errors.As(err, &value) || value.Side != "before" || value.Index != 1 {
			t.Errorf("bad value %d before: %v", i, err)
		}
	}
	var few *dispersion.TooFewError
	for _, short := range [][]float64{nil, {}, {5}} {
		if _, err := MeanGain(ctx, "", "", short, fine, Options{}); !errors.As(err, &few) || few.Need != 2 || few.Have != len(short) {
			t.Errorf("%v before: %v", short, err)
		}
		if _, err := MeanGain(ctx, "", "", fine, short, Options{}); !errors.As(err, &few) {
			t.Errorf("%v after: %v", short, err)
		}
	}
	for _, constant := range [][]float64{{1, 1}, {0.1, 0.1, 0.1}, {0, 0}} {
		if _, err := MeanGain(ctx, "", "", constant, []float64{7, 7, 7}, Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
			t.Errorf("%v against 7 7 7: %v", constant, err)
		}
		if _, err := MeanGain(ctx, "", "", constant, constant, Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
			t.Errorf("%v against itself: %v", constant, err)
		}
	}
}

// compared lists the comparisons of two groups, for tests that hold for all.
var compared = []struct {
	name string
	need int
	of   func(context.Context, *dispersion.Group, *dispersion.Group, Options) (Effect, error)
}{
	{NameCarryGain, 2, CarryGain}, {NameSideShift, 2, SideShift}, {NameSpreadRatio, 3, SpreadRatio},
	{NameAreaRatio, 3, AreaRatio}, {NameAngleSpreadRatio, 3, AngleSpreadRatio},
}

// answered lists the comparisons whose answer is no effect.
var answered = []struct {
	name string
	need int
	of   func(context.Context, *dispersion.Group, *dispersion.Group, Options) error
}{
	{"CentreShift", 3, func(c context.Context, b, a *dispersion.Group, o Options) error {
		_, err := CentreShift(c, b, a, o)
		return err
	}},
	{"AnyDifference", 2, func(c context.Context, b, a *dispersion.Group, o Options) error {
		_, err := AnyDifference(c, b, a, o)
		return err
	}},
	{"Permute", 1, func(c context.Context, b, a *dispersion.Group, o Options) error {
		_, err := Permute(c, b, a, meanDifference, o)
		return err
	}},
	{"Bootstrap", 3, func(c context.Context, b, a *dispersion.Group, o Options) error {
		_, err := Bootstrap(c, b, a, meanDifference, o)
		return err
	}},
	{"BootstrapMoments", 3, func(c context.Context, b, a *dispersion.Group, o Options) error {
		_, err := BootstrapMoments(c, b, a, LogAreaRatio, o)
		return err
	}},
	{"Spreads", 3, func(c context.Context, b, a *dispersion.Group, o Options) error {
		_, err := Spreads(c, []*dispersion.Group{b, a}, o)
		return err
	}},
}

// meanDifference is a statistic for resampling: the gain in carry.
func meanDifference(b, a []dispersion.Point) (float64, error) {
	return meanCarry(a) - meanCarry(b), nil
}

func TestErrorsOfEveryComparison(t *testing.T) {
	g := group(t, sample(t, "setosa5"))
	done, cancel := context.WithCancel(ctx)
	cancel()
	for _, c := range compared {
		for _, level := range []float64{1, 95, -0.5, math.NaN(), math.Inf(1)} {
			if _, err := c.of(ctx, g, g, Options{Level: level}); !errors.Is(err, dispersion.ErrLevel) {
				t.Errorf("%s, level %v: %v", c.name, level, err)
			}
		}
		if _, err := c.of(ctx, g, g, Options{Resamples: 1 << 60}); !errors.Is(err, ErrResamples) {
			t.Errorf("1<<60 resamples: %v", err)
		}
		if _, err := c.of(ctx, g, g, Options{Resamples: -1}); !errors.Is(err, ErrResamples) {
			t.Errorf("%s, -1 resamples: %v", c.name, err)
		}
		if _, err := c.of(ctx, nil, g, Options{}); !errors.Is(err, ErrMissing) {
			t.Errorf("%s, nothing before: %v", c.name, err)
		}
		if _, err := c.of(ctx, g, nil, Options{}); !errors.Is(err, ErrMissing) {
			t.Errorf("%s, nothing after: %v", c.name, err)
		}
		if _, err := c.of(nil, g, g, Options{}); !errors.Is(err, ErrMissing) {
			t.Errorf("%s, no context: %v", c.name, err)
		}
		if _, err := c.of(done, g, g, Options{}); !errors.Is(err, context.Canceled) {
			t.Errorf("%s, cancelled: %v", c.name, err)
		}
		var few *dispersion.TooFewError
		short := group(t, sample(t, "setosa5")[:c.need-1])
		if _, err := c.of(ctx, short, g, Options{}); !errors.As(err, &few) || few.Need != c.need || few.Have != c.need-1 {
			t.Errorf("%s, %d before: %v", c.name, c.need-1, err)
		}
		if _, err := c.of(ctx, g, short, Options{}); !errors.As(err, &few) || few.Need != c.need {
			t.Errorf("%s, %d after: %v", c.name, c.need-1, err)
		}
		if _, err := c.of(ctx, &dispersion.Group{}, g, Options{}); !errors.As(err, &few) {
			t.Errorf("%s, an empty group: %v", c.name, err)
		}
		same := group(t, []dispersion.Point{{X: 1, Y: 2}, {X: 1, Y: 2}, {X: 1, Y: 2}})
		if _, err := c.of(ctx, same, same, Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
			t.Errorf("%s, identical shots: %v", c.name, err)
		}
	}
	for _, c := range answered {
		for _, level := range []float64{1, 95, -0.5, math.NaN()} {
			if err := c.of(ctx, g, g, Options{Level: level}); !errors.Is(err, dispersion.ErrLevel) {
				t.Errorf("%s, level %v: %v", c.name, level, err)
			}
		}
		if err := c.of(ctx, g, g, Options{Resamples: -1}); !errors.Is(err, ErrResamples) {
			t.Errorf("%s, -1 resamples: %v", c.name, err)
		}
		if err := c.of(ctx, g, g, Options{Block: -1}); !errors.Is(err, ErrBlock) {
			t.Errorf("%s, blocks of -1: %v", c.name, err)
		}
		if err := c.of(ctx, nil, g, Options{}); !errors.Is(err, ErrMissing) {
			t.Errorf("%s, nothing before: %v", c.name, err)
		}
		if err := c.of(ctx, g, nil, Options{}); !errors.Is(err, ErrMissing) {
			t.Errorf("%s, nothing after: %v", c.name, err)
		}
		if err := c.of(nil, g, g, Options{}); !errors.Is(err, ErrMissing) {
			t.Errorf("%s, no context: %v", c.name, err)
		}
		if err := c.of(done, g, g, Options{}); !errors.Is(err, context.Canceled) {
			t.Errorf("%s, cancelled: %v", c.name, err)
		}
		var few *dispersion.TooFewError
		short := &dispersion.Group{}
		if c.need > 1 {
			short = group(t, sample(t, "setosa5")[:c.need-1])
		}
		if err := c.of(ctx, short, g, Options{}); !errors.As(err, &few) || few.Need != c.need {
			t.Errorf("%s, %d before: %v", c.name, c.need-1, err)
		}
		if err := c.of(ctx, g, short, Options{}); !errors.As(err, &few) || few.Need != c.need {
			t.Errorf("%s, %d after: %v", c.name, c.need-1, err)
		}
	}
	//lint:ignore SA1012 a nil context is what this tests
	if _, err := MeanGain(nil, "", "", []float64{1, 2}, []float64{1, 2}, Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("mean gain, no context: %v", err)
	}
}

func TestGainStopsWhenCancelled(t *testing.T) {
	c, cancel := context.WithCancel(ctx)
	x := make([]float64, 100)
	for i := range x {
		x[i] = float64(i * i % 37)
	}
	began := time.Now()
	_, err := MeanGain(c, "", "", x, x, Options{Resamples: resample.Most, Progress: func(done, _ int) { cancel() }})
	if !errors.Is(err, context.Canceled) || time.Since(began) > 5*time.Second {
		t.Errorf("%v after %v", err, time.Since(began))
	}
}

// Bits, not nearly: exact and random splits on 1 core and on many.
func TestSameBitsOnAnyNumberOfCores(t *testing.T) {
	setosa, versicolor := group(t, sample(t, "setosa")), group(t, sample(t, "versicolor"))
	five, twelve := group(t, sample(t, "setosa5")), group(t, sample(t, "versicolor12"))
	var first []Effect
	for _, cores := range []int{1, 2, 8} {
		old := runtime.GOMAXPROCS(cores)
		var effects []Effect
		for _, c := range compared {
			for _, groups := range [][2]*dispersion.Group{{setosa, versicolor}, {five, twelve}} {
				e, err := c.of(ctx, groups[0], groups[1], Options{Seed: 5})
				if err != nil {
					t.Fatal(err)
				}
				e.Warnings = nil
				effects = append(effects, e)
			}
		}
		runtime.GOMAXPROCS(old)
		if first == nil {
			first = effects
		}
		for i, e := range effects {
			if a, b := mustJSON(t, e), mustJSON(t, first[i]); a != b {
				t.Errorf("%d cores: %s, on 1 core %s", cores, a, b)
			}
		}
	}
}

func BenchmarkExactPermutation10v10(b *testing.B) {
	before := column(group(b, sample(b, "sleep1")), func(p dispersion.Point) float64 { return p.Y })
	after := column(group(b, sample(b, "sleep2")), func(p dispersion.Point) float64 { return p.Y })
	for b.Loop() {
		if _, err := MeanGain(ctx, "", "", before, after, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
