package compare

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// Source: R 4.2.2, the residual standard deviation of lm(weight ~ group) on
// PlantGrowth with qchisq. The balls are BallsForCarry's, tested on its own.
func TestPlanCarryAgainstR(t *testing.T) {
	want := evidence(t, "plan plants")
	stages := [][]float64{evidenceData(t, "data ctrl", "x"), evidenceData(t, "data trt1", "x"), evidenceData(t, "data trt2", "x"), nil}
	p, err := PlanCarry(stages, 0.5, 0.8, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "sd", p.SD, want["sd"], 1e-10)
	near(t, "low", p.SDBounds.Low, want["low"], 1e-8)
	near(t, "high", p.SDBounds.High, want["high"], 1e-8)
	for sd, got := range map[float64]int{want["sd"]: p.Balls, want["low"]: p.Low, want["high"]: p.High} {
		if balls, err := BallsForCarry(sd, 0.5, 0.8, 0.95); err != nil || got != balls {
			t.Errorf("%g: %d balls, want %d", sd, got, balls)
		}
	}
	if got, want := p.Sentence("g"), fmt.Sprintf("To show a gain of 0.5 g it takes about %d balls before and as many after; the spread is known from few balls, so it may be anything from %d to %d.", p.Balls, p.Low, p.High); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// Source: R 4.2.2, power.t.test(strict = TRUE) with sd 6.
func TestSmallestCarryShownAgainstR(t *testing.T) {
	for _, n := range []int{5, 10, 30} {
		got, err := SmallestCarryShown(6, n, 0.8, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "gain", got, evidence(t, fmt.Sprintf("shown carry %d", n))["delta"], 1e-7)
	}
}

// The dial turned round gives the number it started from.
func TestPlansTurnRound(t *testing.T) {
	for _, ratio := range []float64{0.5, 0.7, 0.8} {
		balls, err := BallsForSpread(ratio, 0.8, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		enough, err := SmallestSpreadShown(balls, 0.8, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		short, err := SmallestSpreadShown(balls-1, 0.8, 0.95)
		if err != nil || enough < ratio || short >= ratio {
			t.Errorf("%g: %d balls show %g, one less %g (%v)", ratio, balls, enough, short, err)
		}
		if turned, err := BallsForSpread(1/ratio, 0.8, 0.95); err != nil || turned != balls {
			t.Errorf("%g: %d balls, its inverse %d (%v)", ratio, balls, turned, err)
		}
	}
}

// Source: R 4.2.2, sums over all counts; and power.prop.test, whose normal
// approximation the exact number must be near.
func TestBallsForMishitsAgainstR(t *testing.T) {
	for _, w := range []struct {
		n      int
		p1, p2 float64
	}{{20, .4, .1}, {50, .3, .1}, {10, .5, .9}} {
		near(t, "power", ratePower(w.n, w.p1, w.p2, 0.95), evidence(t, fmt.Sprintf("power rates %d %g %g", w.n, w.p1, w.p2))["power"], 1e-9)
	}
	approximate := evidence(t, "power.prop.test")
	for _, w := range []struct {
		p1, p2 float64
		name   string
	}{{.4, .1, "n_40_10"}, {.2, .1, "n_20_10"}} {
		n, err := BallsForMishits(w.p1, w.p2, 0.8, 0.95)
		if want := approximate[w.name]; err != nil || math.Abs(float64(n)-want) > 0.08*want {
			t.Errorf("%g to %g: %d balls, about %.0f (%v)", w.p1, w.p2, n, want, err)
		}
		if back, err := BallsForMishits(w.p2, w.p1, 0.8, 0.95); err != nil || math.Abs(float64(back-n)) > 2 {
			t.Errorf("%g to %g: %d balls, back %d (%v)", w.p1, w.p2, n, back, err)
		}
		t.Logf("%g to %g: %d balls", w.p1, w.p2, n)
	}
}

func TestOwnPlanErrors(t *testing.T) {
	var few *dispersion.TooFewError
	if _, err := PlanCarry([][]float64{{1, 2}}, 1, 0.8, 0.95); !errors.As(err, &few) {
		t.Errorf("two balls: %v", err)
	}
	if _, err := PlanCarry([][]float64{{2, 2, 2}}, 1, 0.8, 0.95); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("no spread: %v", err)
	}
	if _, err := PlanCarry([][]float64{{1, 2, 4}}, -1, 0.8, 0.95); !errors.Is(err, ErrPlan) {
		t.Errorf("a loss: %v", err)
	}
	if _, err := PlanCarry([][]float64{{1, 2, 4}}, 1, 0.8, 95); !errors.Is(err, dispersion.ErrLevel) {
		t.Errorf("level 95: %v", err)
	}
	if _, err := SmallestCarryShown(6, 1, 0.8, 0.95); !errors.As(err, &few) {
		t.Errorf("one ball: %v", err)
	}
	if _, err := SmallestCarryShown(math.NaN(), 5, 0.8, 0.95); !errors.Is(err, ErrPlan) {
		t.Errorf("NaN: %v", err)
	}
	if _, err := SmallestSpreadShown(3, 0.8, 0.95); !errors.As(err, &few) {
		t.Errorf("three balls: %v", err)
	}
	if _, err := SmallestSpreadShown(10, 0.01, 0.95); !errors.Is(err, ErrPlan) {
		t.Errorf("power below the false alarms: %v", err)
	}
	for _, ratio := range []float64{0, 1, -2, math.Inf(1), math.NaN()} {
		if _, err := BallsForSpread(ratio, 0.8, 0.95); !errors.Is(err, ErrPlan) {
			t.Errorf("ratio %g: %v", ratio, err)
		}
	}
	if _, err := BallsForMishits(0.2, 0.2, 0.8, 0.95); !errors.Is(err, ErrPlan) {
		t.Errorf("equal rates: %v", err)
	}
	if _, err := BallsForMishits(0.2, 0.21, 0.8, 0.95); !errors.Is(err, ErrOutOfReach) {
		t.Errorf("one in a hundred: %v", err)
	}
	if _, err := BallsForMishits(0.2, 0.4, 1, 0.95); !errors.Is(err, ErrPlan) {
		t.Errorf("power 1: %v", err)
	}
}

// The power at the planned number of balls, by simulation: within 4 binomial
// standard deviations and the 2 points that the doc comment tells of.
func TestBallsForSpreadPower(t *testing.T) {
	for _, ratio := range []float64{0.17, 0.25, 0.5, 0.7} { // 4, 5, 12 and 37 balls
		n, err := BallsForSpread(ratio, 0.8, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(resample.NewStream(1, "spread plan", n))
		draws, shown := max(*pairs/5, 200), 0
		for range draws {
			var side [2][]dispersion.Point
			for j, size := range []float64{1, ratio} {
				for range n {
					side[j] = append(side[j], normal(r, size))
				}
			}
			e, err := SpreadRatio(context.Background(), group(t, side[0]), group(t, side[1]), Options{})
			if err != nil {
				t.Fatal(err)
			}
			if e.Interval.High < 1 || e.Interval.Low > 1 {
				shown++
			}
		}
		got, band := float64(shown)/float64(draws), 4*math.Sqrt(0.16/float64(draws))+0.02
		if math.Abs(got-0.8) > band {
			t.Errorf("%g with %d balls: power %.3f", ratio, n, got)
		}
		t.Logf("%g with %d balls: power %.4f", ratio, n, got)
	}
}
