package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// looksPart tells how often one is wrong who looks after every ball.
func looksPart(seed uint64) (string, error) {
	const lessons, old, fresh = 2000, 10, 30
	var b strings.Builder
	fmt.Fprintf(&b, `
## Looking after every ball

Ten balls with the old swing, then up to thirty with the new one, and a look after each from the second on, by AnytimeGain and by the interval
of a single look (Welch). Nothing has changed, or the true gain is on the line of 5.25 yards. %d lessons for each row: the standard error is 0.5 at 5 %%. The
promise is 5 %% for ever excluding 0 without a gain, and 2.5 for ever saying "worth having" on the line.

| shape | ever excludes 0 | a single look, ever | "worth having", on the line | balls of the new swing to exclude 0 at a gain of 16 yd, median |
| --- | ---: | ---: | ---: | ---: |
`, lessons)
	ctx := context.Background()
	for si, c := range []struct {
		shape
		spread float64 // of the new swing
	}{{shapes[0], 1}, {shapes[0], .5}, {shapes[1], 1}, {shapes[2], 1}, {shapes[3], 1}} {
		r := rand.New(rand.NewPCG(seed, uint64(5e9+1e6*si)))
		ever, single, worth := 0, 0, 0
		var until []float64
		x, y := make([]float64, old), make([]float64, fresh)
		for range lessons {
			for i := range x {
				x[i] = c.draw(r).Y
			}
			for i := range y {
				y[i] = (middle.Y - c.short) + c.spread*(c.draw(r).Y-(middle.Y-c.short))
			}
			var anytime, once, said bool
			stop := fresh + 1
			for n := 2; n <= fresh; n++ {
				once = once || welchExcludes(x, y[:n])
				e, err := compare.AnytimeGain(ctx, "", "", x, y[:n], compare.Options{})
				if errors.As(err, new(*dispersion.TooFewError)) {
					continue // the interval is not finite yet
				}
				if err != nil {
					return "", err
				}
				anytime = anytime || e.Interval.Low > 0 || e.Interval.High < 0
				if e.Interval.Low+16 > 0 {
					stop = min(stop, n)
				}
				e.Estimate, e.Interval.Low, e.Interval.High = e.Estimate+smallestCarry, e.Interval.Low+smallestCarry, e.Interval.High+smallestCarry
				if n >= 4 {
					v, err := compare.Judge(e, smallestCarry)
					if err != nil {
						return "", err
					}
					said = said || v.Kind == compare.WorthHaving
				}
			}
			ever, single, worth = ever+count(anytime), single+count(once), worth+count(said)
			until = append(until, float64(stop))
		}
		name := c.name
		if c.spread != 1 {
			name += ", half as wide after"
		}
		t := tally{widths: until}
		after := fmt.Sprintf("%.0f", t.width())
		if t.width() > fresh {
			after = fmt.Sprintf("more than %d", fresh)
		}
		fmt.Fprintf(&b, "| %s | %.1f | %.1f | %.1f | %s |\n", name, percent(ever, lessons), percent(single, lessons), percent(worth, lessons), after)
	}
	return b.String(), nil
}

func percent(k, n int) float64 { return 100 * float64(k) / float64(n) }

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// welchExcludes tells whether the interval of a single look excludes 0.
func welchExcludes(x, y []float64) bool {
	m1, s1 := meanSD(x)
	m2, s2 := meanSD(y)
	n1, n2 := float64(len(x)), float64(len(y))
	v1, v2 := s1*s1/n1, s2*s2/n2
	df := (v1 + v2) * (v1 + v2) / (v1*v1/(n1-1) + v2*v2/(n2-1))
	return math.Abs(m2-m1) > quantileT(df)*math.Sqrt(v1+v2)
}

// fadingPart tells what the bookend makes of a lesson whose start is cold.
func fadingPart(seed uint64) (string, error) {
	const lessons = 2000
	var b strings.Builder
	fmt.Fprintf(&b, `
## The bookend, where the lesson itself moves the carry

Old swing, new swing, old swing again, n balls each, and no gain at all. Cold and fading: the first ball is 12 yards short (one and a half standard deviations), and what is missing
halves every three balls. Steady drift: 12 yards longer from the first ball to the last. %d lessons for each row: the standard error is 0.5 near 95 %%. Each
cell, in per cent: how often the 95 %% interval holds the true gain of 0, and how often "worth having" and "probably" are said.

| shape | lesson | n | bookend: holds | worth having | probably | first stage alone: holds | worth having | probably |
| --- | --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |
`, lessons)
	ctx := context.Background()
	for si, s := range []shape{shapes[0], shapes[3]} {
		for li, l := range []struct {
			name string
			adds func(ball, of int) float64
		}{
			{"nothing moves", func(int, int) float64 { return 0 }},
			{"cold and fading", func(ball, _ int) float64 { return -12 * math.Exp2(-float64(ball)/3) }},
			{"steady drift", func(ball, of int) float64 { return 12 * float64(ball) / float64(of-1) }},
		} {
			for _, n := range []int{5, 11, 20} {
				r := rand.New(rand.NewPCG(seed, uint64(6e9+1e6*si+1000*li+n)))
				var both, alone [3]int
				for range lessons {
					var stages [3][]float64
					for ball := range 3 * n {
						stages[ball/n] = append(stages[ball/n], s.draw(r).Y+l.adds(ball, 3*n))
					}
					e, err := compare.BookendGain(ctx, "", "", stages[0], stages[1], stages[2], compare.Options{Resamples: 1})
					if err != nil {
						return "", err
					}
					v, err := e.Judge(smallestCarry)
					if err != nil {
						return "", err
					}
					first, err := compare.Judge(e.First, smallestCarry)
					if err != nil {
						return "", err
					}
					for i, yes := range []bool{held(e.Gain, 0).holds, v.Kind == compare.WorthHaving, v.Kind == compare.Probably} {
						both[i] += count(yes)
					}
					for i, yes := range []bool{held(e.First, 0).holds, first.Kind == compare.WorthHaving, first.Kind == compare.Probably} {
						alone[i] += count(yes)
					}
				}
				fmt.Fprintf(&b, "| %s | %s | %d |", s.name, l.name, n)
				for _, k := range append(both[:], alone[:]...) {
					fmt.Fprintf(&b, " %.1f |", percent(k, lessons))
				}
				fmt.Fprintln(&b)
			}
		}
	}
	return b.String(), nil
}
