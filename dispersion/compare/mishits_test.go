package compare

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

func ints(t testing.TB, words []string) []int {
	t.Helper()
	numbers := make([]int, len(words))
	for i, w := range words {
		numbers[i] = int(number(t, w))
	}
	return numbers
}

// Source: R 4.2.2, prop.test(correct = FALSE).
func TestWilsonIntervalAgainstR(t *testing.T) {
	checked := 0
	for name, want := range golden(t) {
		rest, ok := strings.CutPrefix(name, "wilson ")
		if !ok {
			continue
		}
		checked++
		words := strings.Fields(rest)
		k := ints(t, words[:2])
		i, err := WilsonInterval(k[0], k[1], number(t, words[2]))
		if err != nil {
			t.Fatal(err)
		}
		// prop.test leaves 1e-17 where the low end is 0.
		if math.Abs(i.Low-want["low"]) > 1e-12 || math.Abs(i.High-want["high"]) > 1e-12 {
			t.Errorf("%s: got %v to %v, want %v to %v", name, i.Low, i.High, want["low"], want["high"])
		}
	}
	if checked != 18 {
		t.Errorf("%d intervals checked, want 18", checked)
	}
}

// Source: R 4.2.2, Wilson intervals of prop.test put together by Newcombe's
// formula, and fisher.test. Among them 56/70 against 48/80, which Newcombe 1998
// prints as 0.0524 to 0.3339 (from memory; the formula confirms it), and 5/56
// against 0/29 (his contrast g, data from memory).
func TestMishitRateChangeAgainstR(t *testing.T) {
	checked := 0
	for name, want := range golden(t) {
		rest, ok := strings.CutPrefix(name, "rates ")
		if !ok {
			continue
		}
		checked++
		k := ints(t, strings.Fields(rest))
		e, err := MishitRateChange(k[0], k[1], k[2], k[3], Options{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+" estimate", e.Estimate, float64(k[2])/float64(k[3])-float64(k[0])/float64(k[1]), 1e-15)
		near(t, name+" low", e.Interval.Low, want["low"], 1e-12)
		near(t, name+" high", e.Interval.High, want["high"], 1e-12)
		near(t, name+" p", e.P, want["fisher"], 1e-9)
		if e.PFloor > e.P*(1+1e-12) || !e.LessIsBetter {
			t.Errorf("%s: p %g, floor %g, less is better: %v", name, e.P, e.PFloor, e.LessIsBetter)
		}
	}
	if checked != 9 {
		t.Errorf("%d changes checked, want 9", checked)
	}
}

// By hand: with 4 mishits among 4 + 4 balls the tables run from 0 to 4 before
// with chances 1, 16, 36, 16, 1 in 70. 4 against 0: p = 2/70 = floor. 3 against
// 1: p = 34/70. No mishit at all: one table, p = 1.
func TestFisherByHand(t *testing.T) {
	for _, c := range []struct {
		k1, k2   int
		p, floor float64
	}{{4, 0, 2.0 / 70, 2.0 / 70}, {3, 1, 34.0 / 70, 2.0 / 70}, {2, 2, 1, 2.0 / 70}, {0, 0, 1, 1}} {
		p, floor := fisher(c.k1, 4, c.k2, 4)
		near(t, "p", p, c.p, 1e-12)
		near(t, "floor", floor, c.floor, 1e-12)
	}
}

// With n balls and no mishit Wilson's interval ends at z²/(n+z²), which for z² =
// 3.8415 first falls below 1/3 at n = 8.
func TestRateWarnsOfFewBalls(t *testing.T) {
	e, err := MishitRateChange(1, 7, 0, 30, Options{})
	var few *FewShotsWarning
	if err != nil || len(e.Warnings) != 1 || !errors.As(e.Warnings[0], &few) || few.Need != 8 || few.Before != 7 {
		t.Errorf("error %v, warnings %v, want 8 balls needed", err, e.Warnings)
	}
	if e, err := MishitRateChange(1, 8, 0, 8, Options{}); err != nil || len(e.Warnings) != 0 {
		t.Errorf("8 balls: error %v, warnings %v", err, e.Warnings)
	}
}

func TestRateErrors(t *testing.T) {
	var count *CountError
	for _, c := range [][2]int{{0, 0}, {-1, 5}, {6, 5}, {0, -2}} {
		if _, err := WilsonInterval(c[0], c[1], 0.95); !errors.As(err, &count) || count.Side != "" {
			t.Errorf("interval of %v: %v", c, err)
		}
		if _, err := MishitRateChange(c[0], c[1], 1, 5, Options{}); !errors.As(err, &count) || count.Side != "before" {
			t.Errorf("%v before: %v", c, err)
		}
		if _, err := MishitRateChange(1, 5, c[0], c[1], Options{}); !errors.As(err, &count) || count.Side != "after" || count.Mishits != c[0] {
			t.Errorf("%v after: %v", c, err)
		}
	}
	for _, level := range []float64{0, 1, 95, math.NaN(), -0.5} {
		if _, err := WilsonInterval(1, 5, level); !errors.Is(err, dispersion.ErrLevel) {
			t.Errorf("level %v: %v", level, err)
		}
	}
	if _, err := MishitRateChange(1, 5, 1, 5, Options{Level: 95}); !errors.Is(err, dispersion.ErrLevel) {
		t.Errorf("level 95: %v", err)
	}
}

// Swapping before and after turns the interval around.
func TestMishitRateChangeSwapped(t *testing.T) {
	e, _ := MishitRateChange(3, 11, 1, 17, Options{})
	s, err := MishitRateChange(1, 17, 3, 11, Options{})
	if err != nil || e.Estimate != -s.Estimate || e.Interval.Low != -s.Interval.High || e.Interval.High != -s.Interval.Low {
		t.Errorf("%v, swapped %v, error %v", e.Interval, s.Interval, err)
	}
	near(t, "p", s.P, e.P, 1e-12)
}
