package flight

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// By hand: 30 m/s and a ratio of 1.2 become 32 and 1.3. Swung faster is 2·1.25 =
// 2.5, hit better .1·31 = 3.1, together 41.6 - 36 = 5.6.
func TestSplitStrikeByHand(t *testing.T) {
	stage := func(club, ratio float64) []Shot {
		var shots []Shot
		for _, off := range []float64{-1, -.5, 0, .5, 1, 0} {
			shots = append(shots, Shot{Launch: Launch{Speed: club*ratio + off, Angle: .3, Spin: 500}, Carry: 100, ClubSpeed: club + off/2})
		}
		shots[5].ClubSpeed = 0 // not measured: left out
		shots[5].Speed = 90
		return shots
	}
	s, err := SplitStrike(context.Background(), stage(30, 1.2), stage(32, 1.3), compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ratio before", s.RatioBefore, 1.2, 1e-12)
	near(t, "ratio after", s.RatioAfter, 1.3, 1e-12)
	near(t, "change of the ratio", s.Ratio.Estimate, .1, 1e-12)
	near(t, "change of ball speed", s.BallSpeed.Estimate, 5.6, 1e-12)
	near(t, "swung faster", s.Swing.Estimate, 2.5, 1e-12)
	near(t, "hit better", s.Strike.Estimate, 3.1, 1e-12)
	for _, share := range []Share{s.Ratio, s.BallSpeed, s.Swing, s.Strike} {
		if i := share.Interval; !(i.Low < share.Estimate && share.Estimate < i.High && i.Level == .95) {
			t.Errorf("%+v", share)
		}
	}
	if s.N1 != 5 || s.N2 != 5 || s.Resamples != 1000 {
		t.Errorf("%+v", s)
	}
	var few *dispersion.TooFewError
	if _, err := SplitStrike(context.Background(), stage(30, 1.2)[1:], stage(32, 1.3), compare.Options{}); !errors.As(err, &few) {
		t.Errorf("four with a club speed: %v", err)
	}
	if _, err := SplitStrike(noContext, stage(30, 1.2), stage(32, 1.3), compare.Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("no context: %v", err)
	}
}

// Source: the truth that the shots are drawn from. At ten shots a stage the
// intervals hold the truth in 95 of 100 lessons.
func TestSplitStrikeCoverage(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 4))
	draw := func(club, ratio float64) []Shot {
		shots := make([]Shot, 10)
		for i := range shots {
			c := club + .5*rng.NormFloat64()
			shots[i] = Shot{Launch: Launch{Speed: c * (ratio + .03*rng.NormFloat64()), Angle: .3, Spin: 500}, ClubSpeed: c}
		}
		return shots
	}
	const lessons = 600
	var held [3]int
	for range lessons {
		s, err := SplitStrike(context.Background(), draw(30, 1.2), draw(31, 1.3), compare.Options{Resamples: 500})
		if err != nil {
			t.Fatal(err)
		}
		for k, of := range []struct {
			share Share
			truth float64
		}{{s.Ratio, .1}, {s.Swing, 1.25}, {s.Strike, 3.05}} {
			if of.share.Interval.Low <= of.truth && of.truth <= of.share.Interval.High {
				held[k]++
			}
		}
	}
	for k, n := range held {
		if band := 4 * math.Sqrt(.95*.05*lessons); math.Abs(float64(n)-.95*lessons) > band {
			t.Errorf("interval %d holds the truth in %d of %d, want 95 %% ± %.0f", k, n, lessons, band)
		}
	}
}
