package compare

import (
	"errors"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

func scored(t testing.TB, estimate, half, expected float64) Score {
	t.Helper()
	s, err := ScoreExpectation(carryEffect(estimate, half, 18), expected)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestScoreExpectation(t *testing.T) {
	if s := scored(t, 6, 3, 10); s.Held || s.Off != -4 || s.Sentence() != "Expected was 10.0 yd longer: these balls don't fit that. Measured was 6.0 yd longer, so 4.0 yd less than expected." {
		t.Errorf("%+v: %s", s, s.Sentence())
	}
	if s := scored(t, 6, 3, 9); !s.Held {
		t.Errorf("the end of the interval: %+v", s)
	}
	ratio, err := ScoreExpectation(ratioEffect(NameSpreadRatio, 0.8, 1.3), 0.7)
	if err != nil || ratio.Sentence() != "Expected was 30 % tighter: these balls fit that; measured was 20 % tighter." {
		t.Errorf("%s, %v", ratio.Sentence(), err)
	}
	for _, x := range []float64{math.NaN(), math.Inf(-1)} {
		if _, err := ScoreExpectation(carryEffect(6, 3, 18), x); !errors.Is(err, ErrExpectation) {
			t.Errorf("%g: %v", x, err)
		}
	}
	if _, err := ScoreExpectation(Effect{}, 3); !errors.Is(err, ErrEffect) {
		t.Errorf("no effect: %v", err)
	}
}

// By hand: off by -4, -2, 1, -3: mean -2, standard deviation √(14/3), t(3) at
// 0.975 is 3.182446 (any t table), so ± 3.182446·√(14/12) = 3.437435. Measured 30
// in all where 38 was expected. Two of four held.
func TestCalibrate(t *testing.T) {
	scores := []Score{scored(t, 6, 3, 10), scored(t, 8, 3, 10), scored(t, 9, 3, 8), scored(t, 7, 2, 10)}
	c, err := Calibrate(scores)
	if err != nil || c.Lessons != 4 || c.Held != 2 || !c.HasDelivered {
		t.Fatalf("%+v, %v", c, err)
	}
	near(t, "mean off", c.MeanOff, -2, 1e-15)
	near(t, "low", c.MeanOffInterval.Low, -2-3.437435, 1e-6)
	near(t, "high", c.MeanOffInterval.High, -2+3.437435, 1e-6)
	near(t, "absolute", c.MeanAbsOff, 2.5, 1e-15)
	near(t, "delivered", c.Delivered, 30.0/38, 1e-15)
	near(t, "held", c.HeldShare.Low, 0.1500389892, 1e-9) // R 4.2.2: prop.test(2, 4, correct = FALSE)
	if got, want := c.Sentence(), "In 2 of 4 lessons the balls fit what was expected, where a perfect forecaster gets 95 %; measured was 79 % of what was expected, all in all."; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	var few *dispersion.TooFewError
	if _, err := Calibrate(scores[:2]); !errors.As(err, &few) {
		t.Errorf("two lessons: %v", err)
	}
	other := scores[1]
	other.Effect.Unit = "m"
	if _, err := Calibrate([]Score{scores[0], other, scores[2]}); !errors.Is(err, ErrUnlike) {
		t.Errorf("metres among yards: %v", err)
	}
	if _, err := Calibrate(make([]Score, 3)); !errors.Is(err, ErrEffect) {
		t.Errorf("nothing scored: %v", err)
	}
	if c, err := Calibrate([]Score{scored(t, 1, 2, 0), scored(t, -1, 2, 0), scored(t, 2, 4, -1)}); err != nil || c.HasDelivered || c.Delivered != 0 {
		t.Errorf("nothing expected: %+v, %v", c, err)
	}
}
