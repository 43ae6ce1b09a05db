package compare

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// Huge and tiny numbers within what is allowed give numbers.
func TestEdgesGiveNumbers(t *testing.T) {
	v, err := ShownAreaRatio(0.5, 1e-200, 1e150)
	if err != nil || v != 1 { // all of what is seen is the error
		t.Errorf("ShownAreaRatio: %g, %v", v, err)
	}
	before, after := twoGroups(t, "setosa versicolor")
	p1, err := PosteriorOf(before, Jeffreys())
	if err != nil {
		t.Fatal(err)
	}
	p2, err := PosteriorOf(after, Jeffreys())
	if err != nil {
		t.Fatal(err)
	}
	for times, want := range map[float64]float64{1e308: 1, 1e-308: 0} {
		if p, err := ProbabilityAreaBelow(p1, p2, times); err != nil || math.Abs(p-want) > 1e-12 {
			t.Errorf("below %g times: %g, %v", times, p, err)
		}
	}
	var count *CountError
	if _, err := MishitRateChange(math.MaxInt, math.MaxInt, math.MaxInt, math.MaxInt, Options{}); !errors.As(err, &count) {
		t.Errorf("as many mishits as there are numbers: %v", err)
	}
	wide := carryEffect(0, 1e308, 2)
	wide.N1, wide.N2 = 20, 20
	if i, err := IfCorrelated(wide, 0.9); !errors.Is(err, dispersion.ErrOverflow) {
		t.Errorf("%v, %v", i, err)
	}
}

// P is the same whichever way round the groups are, as far as doubles reach.
func TestAreaRatioPIsSymmetric(t *testing.T) {
	small, large := group(t, sample(t, "setosa")), group(t, scaled(sample(t, "setosa"), 30))
	a, err := AreaRatio(ctx, small, large, Options{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := AreaRatio(ctx, large, small, Options{})
	if err != nil || !(a.P > 0 && a.P < 1e-20) {
		t.Fatalf("%g, %v", a.P, err)
	}
	near(t, "P", a.P, b.P, 1e-6)
}

func scaled(points []dispersion.Point, times float64) (out []dispersion.Point) {
	for _, p := range points {
		out = append(out, dispersion.Point{X: times * p.X, Y: times * p.Y})
	}
	return out
}

// What is trimmed away must not cost the middle its digits.
func TestTrimmedGainForgetsWildValues(t *testing.T) {
	before := []float64{150, 151, 149, 152, 148, 150.5, 149.5, 151.5, 148.5, 150}
	after := []float64{155, 156, 154, 157, 153, 155.5, 154.5, 156.5, 153.5, 158}
	want, err := TrimmedGain(ctx, "", "", before, after, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, wild := range []float64{1e6, 1e12, 1e15} {
		after[9] = wild
		got, err := TrimmedGain(ctx, "", "", before, after, Options{})
		if err != nil {
			t.Fatalf("%g: %v", wild, err)
		}
		near(t, "estimate", got.Estimate, want.Estimate, 1e-13)
		near(t, "high", got.Interval.High, want.Interval.High, 1e-12)
	}
}

// With two shots against ninety-nine the interval of all differences is as sure
// as it gets: 1 - 2/C(101, 2).
func TestHodgesLehmannBeyondItsReach(t *testing.T) {
	before, after := []float64{1, 2}, make([]float64, 99)
	for i := range after {
		after[i] = float64(i%31) + 0.5
	}
	e, err := HodgesLehmann(ctx, "", "", before, after, Options{Level: 0.9999})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "level", e.Interval.Level, 1-2.0/5050, 1e-12)
	near(t, "floor of P", e.PFloor, 2.0/5050, 1e-12)
	var w *LevelWarning
	if len(e.Warnings) != 1 || !errors.As(e.Warnings[0], &w) || strings.Contains(w.Error(), "100 % of lessons") {
		t.Errorf("%v", e.Warnings)
	}
}

// A shift of the device is no chance: a gain of which it may eat nearly all is not
// probably worth 5, however many the balls.
func TestJudgeTakesOffAShift(t *testing.T) {
	gain := carryEffect(10, 0.9, 18)
	behind, err := GainBehindError(gain, DeviceError{Shift: 9})
	if err != nil {
		t.Fatal(err)
	}
	v, err := Judge(behind, 5)
	if err != nil || v.Kind != CantTell || v.MoreBalls != 0 && v.MoreBalls > 20 {
		t.Errorf("%s, %+v, %v", v.Kind, v.MoreBalls, err)
	}
	small, err := GainBehindError(gain, DeviceError{Shift: 2})
	if err != nil {
		t.Fatal(err)
	}
	if v, err := Judge(small, 5); err != nil || v.Kind != WorthHaving {
		t.Errorf("%s, %v", v.Kind, err)
	}
	// Without a shift nothing has changed.
	if plain, err := GainBehindError(gain, DeviceError{Random: 3}); err != nil || plain.Shift != 0 || !plain.HasP == gain.HasP {
		t.Errorf("%+v, %v", plain, err)
	}
	text, err := json.Marshal(behind)
	if err != nil || !strings.Contains(string(text), `"device_shift":9`) {
		t.Errorf("%s, %v", text, err)
	}
}

// Expectations of ratios and of rates are worded and added up the right way round.
func TestScoresOfRatiosAndRates(t *testing.T) {
	rate, err := MishitRateChange(6, 20, 3, 20, Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := ScoreExpectation(rate, -0.2)
	if err != nil {
		t.Fatal(err)
	}
	if want := "Expected was 20 fewer mishits in 100: these balls fit that. Measured was 15 fewer, so 5 more than expected."; s.Sentence() != want {
		t.Errorf("%s", s.Sentence())
	}
	near(t, "off", s.Off, -0.05, 1e-12) // too much was expected
	area, err := ScoreExpectation(ratioEffect(NameAreaRatio, 0.81, 1.5), 0.64)
	if err != nil || area.Sentence() != "Expected was 20 % tighter: these balls fit that; measured was 10 % tighter." {
		t.Errorf("%s, %v", area.Sentence(), err)
	}
	if _, err := ScoreExpectation(ratioEffect(NameSpreadRatio, 0.8, 1.3), 0); !errors.Is(err, ErrExpectation) {
		t.Errorf("no spread expected: %v", err)
	}
	var scores []Score
	for range 4 {
		s, err := ScoreExpectation(ratioEffect(NameSpreadRatio, 0.95, 1.3), 0.7)
		if err != nil {
			t.Fatal(err)
		}
		scores = append(scores, s)
	}
	c, err := Calibrate(scores)
	if err != nil || !c.HasDelivered {
		t.Fatalf("%+v, %v", c, err)
	}
	near(t, "delivered", c.Delivered, math.Log(0.95)/math.Log(0.7), 1e-12)
	near(t, "mean off", c.MeanOff, math.Log(0.7/0.95), 1e-12)
}

// What picking does is worded by itself where it points the other way, or does
// more than what is shown.
func TestPickedSentenceWhereTheBallsAreShorter(t *testing.T) {
	e := carryEffect(-8, 5, 18)
	p := Picked{Shown: -4.7, Inflation: 3.8, Corrected: e}
	if s := p.Sentence(); !strings.Contains(s, "are 5 yd shorter, and picking alone makes them look 4 yd longer") {
		t.Error(s)
	}
	p.Shown, p.Corrected = 2, carryEffect(-1.8, 5, 18)
	if s := p.Sentence(); !strings.Contains(s, "are 2 yd longer, and picking alone makes them look 4 yd longer") {
		t.Error(s)
	}
}

// A statistic of blocks may look at the order: leaving out a ball that was drawn
// twice is then two different things.
func TestBlocksLeaveOutPlaceByPlace(t *testing.T) {
	before, after := group(t, sample(t, "setosa")[:12]), group(t, sample(t, "versicolor")[:12])
	steps := func(b, a []dispersion.Point) (float64, error) {
		sum := 0.0
		for _, s := range [][]dispersion.Point{b, a} {
			for i := 1; i < len(s); i++ {
				sum += math.Abs(s[i].Y-s[i-1].Y) * float64(i)
			}
		}
		return sum, nil
	}
	of := func(s [][]dispersion.Point) (float64, error) { return steps(s[0], s[1]) }
	j := pointsJob([]*dispersion.Group{before, after}, 3, of)
	k, e := j.newJackknife(), j.evaluator()
	k.shots[0] = []int{0, 1, 2, 0, 1, 2, 3, 4, 5, 9, 10, 11}
	if err := k.leaveOut(ctx, e); err != nil {
		t.Fatal(err)
	}
	drawn := make([]dispersion.Point, 0, 12)
	for place := range k.shots[0] {
		drawn = drawn[:0]
		for i, shot := range k.shots[0] {
			if i != place {
				drawn = append(drawn, before.Points()[shot])
			}
		}
		want, _ := steps(drawn, after.Points())
		near(t, "without a place", k.values[0][place], want, 1e-12)
	}
}

// Errors name the stage.
func TestValueErrorsNameTheStage(t *testing.T) {
	bad := [][]float64{{1, 2, 3}, {2, 3, 4}, {3, math.NaN(), 5}}
	var v *ValueError
	if _, err := Trend(ctx, "", bad); !errors.As(err, &v) || v.Side != "in stage 3" || v.Index != 1 {
		t.Errorf("trend: %v", err)
	}
	if _, err := SerialCorrelation(bad...); !errors.As(err, &v) || v.Side != "in stage 3" {
		t.Errorf("serial: %v", err)
	}
	runs := []Run{{At: []float64{1, 2, 3}, Values: []float64{1, 2, 3}}, {At: []float64{4, math.NaN(), 6}, Values: []float64{1, 2, 4}}}
	if _, err := DriftOrStages("", "", runs, 0); !errors.As(err, &v) || v.Side != "among the places of stage 2" {
		t.Errorf("drift: %v", err)
	}
}

// Progress of a bookend lesson grows from beginning to end.
func TestBookendReportsOneProgress(t *testing.T) {
	values := func(from float64) (x []float64) {
		for i := range 12 {
			x = append(x, from+float64(i*i%7))
		}
		return x
	}
	last := 0
	o := Options{Resamples: 3000, Progress: func(done, total int) {
		if done <= last || done > total || total != 3000 {
			t.Errorf("%d of %d after %d", done, total, last)
		}
		last = done
	}}
	if _, err := BookendGain(ctx, "", "", values(150), values(155), values(151), o); err != nil || last != 3000 {
		t.Errorf("ended at %d, %v", last, err)
	}
}
