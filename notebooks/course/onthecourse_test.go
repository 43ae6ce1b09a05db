package course

import (
	"context"
	"math"
	"strings"
	"testing"
)

func demoRound(t *testing.T) Round {
	t.Helper()
	r, err := DemoRound(3)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestDemoRoundNamesAPlayerThereIs(t *testing.T) {
	for _, player := range []int{0, 5} {
		if _, err := DemoRound(player); err == nil || !strings.Contains(err.Error(), "1 to 4") {
			t.Errorf("player %d: %v", player, err)
		}
	}
}

// The mean over drawn balls against the integral over the normal law that they
// are drawn from, which package strokes computes without drawing.
func TestStrokesOfDrawnBallsAgainstTheirLaw(t *testing.T) {
	r := demoRound(t)
	h := Habit{Bias: radians(3), Across: radians(4), Along: 0.05}
	const balls = 20000
	costs, err := r.strokesOf(h, 140, balls, 1)
	if err != nil {
		t.Fatal(err)
	}
	view, err := r.Hole.Approach(metres(140), r.Baseline)
	if err != nil {
		t.Fatal(err)
	}
	law, err := knownPattern(view.Distance(), h.Bias, h.Across, h.Along)
	if err != nil {
		t.Fatal(err)
	}
	if want := h.Bias * view.Distance(); math.Abs(law.Bias()-want) > 1e-9*want {
		t.Errorf("bias %g, want %g", law.Bias(), want)
	}
	a, err := view.BestAim(context.Background(), law, aims(view.Distance()))
	if err != nil {
		t.Fatal(err)
	}
	m, squares := meanOf(costs), 0.0
	for _, c := range costs {
		squares += (c - m) * (c - m)
	}
	if band := 4 * math.Sqrt(squares) / balls; math.Abs(m-a.StraightExpected) > band {
		t.Errorf("drawn %.4f, by the law %.4f, band %.4f", m, a.StraightExpected, band)
	}
}

// The share of mishits and their length are those of the habit, and a habit
// without them has the same struck balls.
func TestDrawnBallsOfAHabit(t *testing.T) {
	const n, far = 20000, 100.0
	struck := FormerHabit
	struck.Mishits = 0
	all, clean := FormerHabit.draw(n, far, 3), struck.draw(n, far, 3)
	mishits := 0
	for i := range all {
		if all[i] == clean[i] {
			continue
		}
		mishits++
		if share := all[i].Y / clean[i].Y; share < 0.55 || share > 0.75 {
			t.Fatalf("ball %d went %.3f of the way", i, share)
		}
	}
	if p := float64(mishits) / n; math.Abs(p-0.1) > 4*math.Sqrt(0.1*0.9/n) {
		t.Errorf("%.4f are mishits, want 0.1", p)
	}
}
