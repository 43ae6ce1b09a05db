package compare

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// A Score holds what was expected of a lesson, written down before a ball was
// hit, against what was measured.
type Score struct {
	Expected float64
	Effect   Effect
	Off      float64 // how far beyond what was expected: below 0 if too much was; see [ScoreExpectation]
	Held     bool    // the interval holds what was expected
}

// ScoreExpectation returns how well the expected gain, or ratio, fits what was
// measured. The interval tells what these balls are compatible with, so an
// expectation outside it was wrong for this lesson, and one inside it is not yet
// right.
//
// Off is the estimate minus what was expected, turned so that more is better:
// the other way round where less is, and for ratios, where it is the logarithm of
// the expected radius over the measured one.
//
// Errors: [ErrExpectation], also for a ratio not above 0; [ErrEffect].
func ScoreExpectation(e Effect, expected float64) (Score, error) {
	if math.IsNaN(expected) || math.Abs(expected) > dispersion.MaxCoordinate {
		return Score{}, fmt.Errorf("compare: expected %g: %w", expected, ErrExpectation)
	}
	if !e.sound() {
		return Score{}, fmt.Errorf("compare: expectation of %q: %w", e.Name, ErrEffect)
	}
	if e.ratio() && !(expected > 0) {
		return Score{}, fmt.Errorf("compare: expected %g times: %w", expected, ErrExpectation)
	}
	return Score{
		Expected: expected, Effect: e, Off: e.better(e.Estimate) - e.better(expected),
		Held: e.Interval.Low <= expected && expected <= e.Interval.High,
	}, nil
}

// better turns a value of the effect so that more is better and no change is 0:
// of ratios it is minus the logarithm of that of the radii.
func (e Effect) better(v float64) float64 {
	switch {
	case e.Name == NameAreaRatio:
		return -math.Log(v) / 2
	case e.ratio():
		return -math.Log(v)
	case e.LessIsBetter:
		return -v
	}
	return v
}

// A Calibration tells how good the expectations of many lessons were.
type Calibration struct {
	Lessons, Held int                 // scored, and those of them whose interval held what was expected
	HeldShare     dispersion.Interval // of the share held, Wilson
	Level         float64             // of the intervals that held: a perfect forecaster is held in this share

	// MeanOff is the mean of [Score.Off], with its interval; below 0 where too much
	// was expected. MeanAbsOff is how far off on average.
	MeanOff         float64
	MeanOffInterval dispersion.Interval
	MeanAbsOff      float64

	// Delivered is what was measured over what was expected, sum over sum, both
	// turned as Off is: 0.4 where gains come out at two fifths of the forecast. It is
	// 0 with HasDelivered false where the expectations sum to no gain.
	Delivered    float64
	HasDelivered bool
}

// Calibrate returns how good the expectations of several lessons were. The
// scores must be of effects in one unit and of one level.
//
// It takes three lessons; from fewer than twenty the share held can't tell a
// good forecaster from a middling one. Errors: *[dispersion.TooFewError];
// [ErrUnlike] for effects of different units, levels or kinds; [ErrEffect].
func Calibrate(scores []Score) (Calibration, error) {
	if len(scores) < 3 {
		return Calibration{}, fmt.Errorf("compare: %w", &dispersion.TooFewError{Have: len(scores), Need: 3, For: "the calibration of expectations, in lessons,"})
	}
	first := scores[0].Effect
	c := Calibration{Lessons: len(scores), Level: first.Interval.Level}
	off := make([]float64, len(scores))
	var expected, measured float64
	for i, s := range scores {
		again, err := ScoreExpectation(s.Effect, s.Expected)
		if err != nil {
			return Calibration{}, err
		}
		e := s.Effect
		if e.Unit != first.Unit || e.Null != first.Null || e.Interval.Level != c.Level || e.LessIsBetter != first.LessIsBetter {
			return Calibration{}, fmt.Errorf("compare: %s and %s: %w", first.Name, e.Name, ErrUnlike)
		}
		off[i] = again.Off
		c.MeanAbsOff += math.Abs(again.Off) / float64(len(scores))
		if again.Held {
			c.Held++
		}
		expected += e.better(s.Expected)
		measured += e.better(e.Estimate)
	}
	var err error
	if c.HeldShare, err = WilsonInterval(c.Held, c.Lessons, c.Level); err != nil {
		return Calibration{}, err
	}
	s := summaryOf(off)
	half := studentQuantile((1+c.Level)/2, s.n-1) * math.Sqrt(s.ss/(s.n-1)/s.n)
	c.MeanOff = s.mean
	c.MeanOffInterval = dispersion.Interval{Low: s.mean - half, High: s.mean + half, Level: c.Level}
	if c.HasDelivered = expected > 0; c.HasDelivered {
		c.Delivered = measured / expected
	}
	if math.IsNaN(half) || math.IsInf(half, 0) || math.IsInf(c.Delivered, 0) || math.IsInf(c.MeanAbsOff, 0) {
		return Calibration{}, fmt.Errorf("compare: calibration: %w", dispersion.ErrOverflow)
	}
	return c, nil
}
