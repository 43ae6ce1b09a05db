package compare

import (
	"errors"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// carryEffect makes a carry gain in yards with a symmetric 95 % interval.
func carryEffect(estimate, half, df float64) Effect {
	return Effect{
		Name: NameCarryGain, Unit: "yd", N1: 10, N2: 10, Estimate: estimate, DF: df,
		Interval: dispersion.Interval{Low: estimate - half, High: estimate + half, Level: 0.95},
	}
}

// ratioEffect makes a ratio whose 95 % interval reaches a factor either way.
func ratioEffect(name string, estimate, factor float64) Effect {
	return Effect{
		Name: name, N1: 10, N2: 10, Estimate: estimate, Null: 1,
		Interval: dispersion.Interval{Low: estimate / factor, High: estimate * factor, Level: 0.95},
	}
}

func judge(t *testing.T, e Effect, smallest float64) Verdict {
	t.Helper()
	v, err := Judge(e, smallest)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// By hand, δ = 5 yd and the normal law: z = (gain-5)/h·1.959964.
func TestVerdictsByHand(t *testing.T) {
	for _, c := range []struct {
		estimate, half float64
		want           VerdictKind
		confidence     float64
	}{
		{12, 6.9, WorthHaving, 0.97661},    // z = 7/6.9·1.96 = 1.98837
		{12, 7.1, Probably, 0.97335},       // z = 7/7.1·1.96 = 1.93236
		{8, 6, Probably, 0.83646},          // z = 0.97998
		{8, 8, CantTell, 0.76882},          // z = 0.73499
		{3.5, 7.5, CantTell, 0.34753},      // z = -0.39199
		{1, 3.9, NoGainWorth, 0.02220},     // z = -2.01022
		{0, 4.9, NoGainWorth, 0.02275},     // z = -2.0000
		{-9, 3.9, Worse, 9.885e-13},        // z = -7.03577; the loss: z = 4/3.9·1.96 = 2.01
		{-9, 4.1, NoGainWorth, 1.0964e-11}, // the loss: z = 4/4.1·1.96 = 1.912 < 1.96
		{-9, 20, CantTell, 0.085033},       // z = -1.371975
	} {
		v := judge(t, carryEffect(c.estimate, c.half, 0), 5)
		if v.Kind != c.want || math.Abs(v.Confidence-c.confidence) > 2e-5 {
			t.Errorf("%g ± %g: %v with C = %.5g, want %v with %.5g", c.estimate, c.half, v.Kind, v.Confidence, c.want, c.confidence)
		}
	}
	// t on 4 degrees of freedom: P(T < 2.776445·1/2) = 0.8814, between the table
	// values t(.85) = 1.190 and t(.90) = 1.533 (any t table).
	v := judge(t, carryEffect(10, 10, 4), 5)
	if v.Kind != Probably || v.Confidence < 0.85 || v.Confidence > 0.90 {
		t.Errorf("t on 4: %v with C = %g", v.Kind, v.Confidence)
	}
}

// The confidence reaches 97.5 % exactly where the 95 % interval begins at δ.
func TestWorthHavingIsTheEndOfTheInterval(t *testing.T) {
	for _, df := range []float64{0, 2.7, 18} {
		e := carryEffect(12, 7, df) // begins at 5
		if v := judge(t, e, 5); v.Kind != WorthHaving || math.Abs(v.Confidence-0.975) > 1e-12 {
			t.Errorf("df %g: begins at δ: %v, C = %.15g", df, v.Kind, v.Confidence)
		}
		if v := judge(t, e, math.Nextafter(5, 6)*(1+1e-12)); v.Kind != Probably {
			t.Errorf("df %g: begins just below δ: %v", df, v.Kind)
		}
		if v := judge(t, e, 19.01); v.Kind != NoGainWorth {
			t.Errorf("df %g: ends just below δ: %v", df, v.Kind)
		}
		if v := judge(t, e, 18.99); v.Kind != CantTell {
			t.Errorf("df %g: ends just above δ: %v", df, v.Kind)
		}
	}
}

// An interval of another level leads to the same verdict.
func TestVerdictDoesNotDependOnTheLevel(t *testing.T) {
	before := group(t, sample(t, "setosa5"))
	after := group(t, sample(t, "versicolor12"))
	for _, smallest := range []float64{0.1, 0.7, 1.5} {
		var first Verdict
		for i, level := range []float64{0.95, 0.5, 0.8, 0.999} {
			e, err := CarryGain(ctx, before, after, Options{Level: level})
			if err != nil {
				t.Fatal(err)
			}
			v := judge(t, e, smallest)
			if i == 0 {
				first = v
			}
			if v.Kind != first.Kind || math.Abs(v.Confidence-first.Confidence) > 1e-9 {
				t.Errorf("level %g, δ %g: %v with %g, at 0.95 %v with %g", level, smallest, v.Kind, v.Confidence, first.Kind, first.Confidence)
			}
		}
	}
}

// Less is better: the same effect with its sign turned gives the same verdict.
func TestLessIsBetterIsTheMirrorImage(t *testing.T) {
	for _, c := range [][2]float64{{12, 6}, {8, 6}, {3, 8}, {0, 4}, {-12, 6}} {
		more := judge(t, carryEffect(c[0], c[1], 9), 5)
		e := carryEffect(-c[0], c[1], 9)
		e.LessIsBetter = true
		less := judge(t, e, 5)
		if less.Kind != more.Kind || less.Confidence != more.Confidence || less.ConfidenceWorse != more.ConfidenceWorse || less.MoreBalls != more.MoreBalls {
			t.Errorf("%v: %+v, turned %+v", c, more, less)
		}
	}
}

// By hand on the log scale, δ = ln 1.25 = 0.22314: a ratio of 0.6 gains 0.51083,
// and a factor of 1.3 is ± 0.26236, so z = 0.28768/0.26236·1.96 = 2.149.
func TestRatiosAreJudgedOnTheLogScale(t *testing.T) {
	v := judge(t, ratioEffect(NameSpreadRatio, 0.6, 1.3), 0.20)
	if v.Kind != WorthHaving || math.Abs(v.Confidence-0.98419) > 1e-4 {
		t.Errorf("0.6: %v, C = %g", v.Kind, v.Confidence)
	}
	if w := judge(t, ratioEffect(NameSpreadRatio, 1/0.6, 1.3), 0.20); w.Kind != Worse || math.Abs(w.ConfidenceWorse-v.Confidence) > 1e-12 {
		t.Errorf("1/0.6: %v, confidence %g", w.Kind, w.ConfidenceWorse)
	}
	// An area is judged by its radius: the same numbers squared.
	a := judge(t, ratioEffect(NameAreaRatio, 0.36, 1.69), 0.20)
	if a.Kind != v.Kind || math.Abs(a.Confidence-v.Confidence) > 1e-12 {
		t.Errorf("area 0.36: %v, C = %g", a.Kind, a.Confidence)
	}
	near(t, "radius", a.Fits.Low, 0.6/1.3, 1e-12)
}

// An uneven interval: each half counts for its own side. By hand, gain 0, from
// -2 to 8: δ = 4 is half way up, so z = -0.98 and C = 0.16354; -4 is twice the
// lower half away, z = 3.92.
func TestUnevenIntervals(t *testing.T) {
	e := carryEffect(0, 1, 0)
	e.Interval.Low, e.Interval.High = -2, 8
	v := judge(t, e, 4)
	if math.Abs(v.Confidence-0.16354) > 1e-5 || math.Abs(v.ConfidenceWorse-4.427e-5) > 1e-7 {
		t.Errorf("C = %g, worse %g", v.Confidence, v.ConfidenceWorse)
	}
	// All balls mishit before, none after: the interval ends at its estimate.
	r, err := MishitRateChange(10, 10, 0, 10, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if v := judge(t, r, SmallestMishitRate); v.Kind != WorthHaving || v.ConfidenceWorse > 1e-6 {
		t.Errorf("all to none: %+v", v)
	}
	point := carryEffect(6, 0, 0)
	if v := judge(t, point, 5); v.Kind != WorthHaving || v.Confidence != 1 {
		t.Errorf("a point above δ: %+v", v)
	}
	if v := judge(t, point, 7); v.Kind != NoGainWorth || v.Confidence != 0 {
		t.Errorf("a point below δ: %+v", v)
	}
}

// The plan behind "n more of each": σ = 6 takes 24 balls for 5 yd (R), and 10
// against 10 with σ = 6 give ± 2.100922·6·√0.2 = 5.63732.
func TestMoreBalls(t *testing.T) {
	v := judge(t, carryEffect(3, 5.637317, 18), 5)
	if v.Kind != CantTell || v.MoreBalls != 14 {
		t.Errorf("%v, %d more, want 14", v.Kind, v.MoreBalls)
	}
	// An area takes 82 balls for 0.8² (R).
	if v := judge(t, ratioEffect(NameAreaRatio, 0.8, 2.761359), 0.20); v.MoreBalls != 72 {
		t.Errorf("area: %d more, want 72", v.MoreBalls)
	}
	if v := judge(t, carryEffect(20, 5, 18), 5); v.MoreBalls != 0 {
		t.Errorf("settled, yet %d more", v.MoreBalls)
	}
	if v := judge(t, carryEffect(5, 1, 18), 5); v.Kind != CantTell || v.MoreBalls != 0 {
		t.Errorf("right at δ: %v, %d more", v.Kind, v.MoreBalls)
	}
	if v := judge(t, carryEffect(0, 1e6, 18), 5); v.MoreBalls != 0 {
		t.Errorf("out of reach, yet %d more", v.MoreBalls)
	}
}

func TestJudgeErrors(t *testing.T) {
	good := carryEffect(3, 4, 18)
	for _, smallest := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := Judge(good, smallest); !errors.Is(err, ErrSmallest) {
			t.Errorf("δ = %v: %v", smallest, err)
		}
	}
	if _, err := Judge(ratioEffect(NameSpreadRatio, 1, 2), 1); !errors.Is(err, ErrSmallest) {
		t.Errorf("a spread shrinking to nothing: %v", err)
	}
	spoil := []func(e *Effect){
		func(e *Effect) { *e = Effect{} },
		func(e *Effect) { e.Estimate = math.NaN() },
		func(e *Effect) { e.Interval.High = math.Inf(1) },
		func(e *Effect) { e.Interval.Low = e.Estimate + 1 },
		func(e *Effect) { e.Interval.Level = 0 },
		func(e *Effect) { e.DF = -1 },
		func(e *Effect) { e.Null = 0.5 },
		func(e *Effect) { e.Null = 1 }, // the low end is below 0
	}
	for i, f := range spoil {
		e := good
		f(&e)
		if _, err := Judge(e, 5); !errors.Is(err, ErrEffect) {
			t.Errorf("spoiled effect %d: %v", i, err)
		}
	}
	few := good
	few.N2 = 3
	var tooFew *dispersion.TooFewError
	if _, err := Judge(few, 5); !errors.As(err, &tooFew) || tooFew.Need != 4 || tooFew.Have != 3 {
		t.Errorf("3 shots: %v", err)
	}
	shift := good
	shift.NoBetter = true
	if _, err := Judge(shift, 5); !errors.Is(err, ErrNoBetter) {
		t.Errorf("a shift: %v", err)
	}
}

func TestJudgeSpread(t *testing.T) {
	spread := func(estimate, factor float64) Effect { return ratioEffect(NameSpreadRatio, estimate, factor) }
	area := func(radius, factor float64) Effect {
		return ratioEffect(NameAreaRatio, radius*radius, factor*factor)
	}
	for _, c := range []struct {
		what         string
		spread, area Effect
		want         VerdictKind
		wild         bool
	}{
		{"both gain", spread(0.6, 1.3), area(0.55, 1.3), WorthHaving, false},
		{"one gains more surely", spread(0.7, 1.5), area(0.55, 1.3), CantTell, true},
		{"one is only probable", spread(0.65, 1.4), area(0.55, 1.3), Probably, true},
		{"both worse", spread(1.7, 1.3), area(1.8, 1.3), Worse, false},
		{"one worse, one no gain", spread(1.2, 1.3), area(1.8, 1.3), NoGainWorth, true},
		{"both no gain", spread(1.1, 1.3), area(1.1, 1.3), NoGainWorth, false},
		{"gain against loss", spread(0.6, 1.3), area(1.8, 1.3), CantTell, true},
	} {
		v, err := JudgeSpread(c.spread, c.area, SmallestSpread)
		if err != nil {
			t.Fatal(err)
		}
		wild := len(v.Caveats) == 1 && v.Caveats[0] == WildBalls
		if v.Kind != c.want || wild != c.wild || len(v.Caveats) > 1 {
			t.Errorf("%s: %v, caveats %v", c.what, v.Kind, v.Caveats)
		}
		one, two := judge(t, c.spread, SmallestSpread), judge(t, c.area, SmallestSpread)
		if v.Confidence != min(one.Confidence, two.Confidence) || v.ConfidenceWorse != min(one.ConfidenceWorse, two.ConfidenceWorse) {
			t.Errorf("%s: confidences %g, %g", c.what, v.Confidence, v.ConfidenceWorse)
		}
		if v.Fits.Low != min(one.Fits.Low, two.Fits.Low) || v.Fits.High != max(one.Fits.High, two.Fits.High) || v.Effect.Name != NameSpreadRatio {
			t.Errorf("%s: fits %v, effect %s", c.what, v.Fits, v.Effect.Name)
		}
	}
	if _, err := JudgeSpread(area(1, 2), spread(1, 2), 0.2); !errors.Is(err, ErrUnlike) {
		t.Errorf("the wrong way round: %v", err)
	}
	other := area(1, 2)
	other.N1 = 11
	if _, err := JudgeSpread(spread(1, 2), other, 0.2); !errors.Is(err, ErrUnlike) {
		t.Errorf("other shots: %v", err)
	}
	if _, err := JudgeSpread(spread(1, 2), area(1, 2), 20); !errors.Is(err, ErrSmallest) {
		t.Errorf("20 for 20 %%: %v", err)
	}
}

func TestWithoutBookend(t *testing.T) {
	for _, c := range []struct {
		estimate   float64
		from, want VerdictKind
	}{{20, WorthHaving, Probably}, {8.5, Probably, Probably}, {4, CantTell, CantTell}, {-2, NoGainWorth, NoGainWorth}, {-20, Worse, Worse}} {
		v := judge(t, carryEffect(c.estimate, 6, 18), 5)
		capped := v.WithoutBookend()
		if v.Kind != c.from || capped.Kind != c.want || len(v.Caveats) != 0 || len(capped.Caveats) != 1 || capped.Caveats[0] != NoBookend {
			t.Errorf("%g: %v became %v with %v", c.estimate, v.Kind, capped.Kind, capped.Caveats)
		}
		if again := capped.WithoutBookend(); len(again.Caveats) != 1 {
			t.Errorf("%g: said twice: %v", c.estimate, again.Caveats)
		}
	}
}

// Two verdicts made from one must not write into each other's caveats.
func TestVerdictsShareNoCaveats(t *testing.T) {
	v := judge(t, carryEffect(8, 6, 18), 5)
	v.Caveats = make([]Caveat, 0, 4)
	one, two := v.WithoutBookend(), v.withCaveat(WildBalls)
	if one.Caveats[0] != NoBookend || two.Caveats[0] != WildBalls {
		t.Errorf("%v and %v", one.Caveats, two.Caveats)
	}
}

func TestMoreCautious(t *testing.T) {
	gain, maybe := judge(t, carryEffect(20, 6, 18), 5), judge(t, carryEffect(8, 6, 18), 5)
	v, err := gain.MoreCautious(maybe.WithoutBookend())
	if err != nil || v.Kind != Probably || v.Confidence != maybe.Confidence || v.MoreBalls != maybe.MoreBalls || len(v.Caveats) != 1 {
		t.Errorf("%+v, %v", v, err)
	}
	if v.Fits != (dispersion.Interval{Low: 2, High: 26, Level: 0.95}) {
		t.Errorf("fits %v", v.Fits)
	}
	if w, err := maybe.WithoutBookend().MoreCautious(gain); err != nil || w.Kind != v.Kind || w.Confidence != v.Confidence || w.Fits != v.Fits {
		t.Errorf("the other way round: %+v, %v", w, err)
	}
	if both, err := gain.MoreCautious(gain); err != nil || both.Kind != WorthHaving || both.MoreBalls != 0 {
		t.Errorf("with itself: %+v, %v", both, err)
	}
	other := judge(t, carryEffect(20, 6, 18), 4)
	if _, err := gain.MoreCautious(other); !errors.Is(err, ErrUnlike) {
		t.Errorf("another δ: %v", err)
	}
	if _, err := judge(t, ratioEffect(NameSpreadRatio, 1, 2), 0.2).MoreCautious(judge(t, carryEffect(0, 1, 0), 0.2)); !errors.Is(err, ErrUnlike) {
		t.Errorf("a ratio and a gain: %v", err)
	}
}
