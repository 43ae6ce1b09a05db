package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
)

// pickedPart tells what was tried for the gain of picked shots: the best three
// of ten, with and without resampling the shots before.
func pickedPart(seed uint64) (string, error) {
	const lessons, draws = 1500, 499
	var b strings.Builder
	fmt.Fprintf(&b, `
## What was tried for picked shots

The best 3 of 10 after; what picking alone does is seen on resamples of the shots before, on normal shots, or on both, taking the outer
end. %d lessons for each number: its standard error is 0.6 near 95 %%. Each cell: the share of lessons whose interval holds the true gain, and its
median width in yards.

| shots before | shape | resamples | normal shots | both: **taken** |
| ---: | --- | ---: | ---: | ---: |
`, lessons)
	for si, s := range shapes {
		for _, n := range []int{5, 10, 20, 50} {
			r := rand.New(rand.NewPCG(seed, uint64(3e9+1e6*si+n)))
			normal := pickedRatios(draws*20, n, r.NormFloat64)
			var holds [3]int
			var widths [3][]float64
			before, hit := make([]float64, n), make([]float64, 10)
			for range lessons {
				for i := range before {
					before[i] = s.draw(r).Y
				}
				for i := range hit {
					hit[i] = s.draw(r).Y
				}
				mean, sd := meanSD(before)
				shown := bestThree(hit) - mean
				own := pickedRatios(draws, n, func() float64 { return before[r.IntN(n)] })
				for i, q := range [][2]float64{own, normal, {min(own[0], normal[0]), max(own[1], normal[1])}} {
					if low, high := shown-q[1]*sd, shown-q[0]*sd; low <= 0 && 0 <= high {
						holds[i]++
					}
					widths[i] = append(widths[i], (q[1]-q[0])*sd)
				}
			}
			fmt.Fprintf(&b, "| %d | %s |", n, s.name)
			for i := range holds {
				slices.Sort(widths[i])
				fmt.Fprintf(&b, " %.1f %%, %.3g |", 100*float64(holds[i])/lessons, widths[i][lessons/2])
			}
			fmt.Fprintln(&b)
		}
	}
	return b.String(), nil
}

// pickedRatios returns the outer quantiles of how far, in standard deviations of
// n shots, the best three of ten look from their mean.
func pickedRatios(draws, n int, draw func() float64) [2]float64 {
	var ratios []float64
	before, hit := make([]float64, n), make([]float64, 10)
	for range draws {
		for i := range before {
			before[i] = draw()
		}
		for i := range hit {
			hit[i] = draw()
		}
		if mean, sd := meanSD(before); sd > 0 {
			ratios = append(ratios, (bestThree(hit)-mean)/sd)
		}
	}
	slices.Sort(ratios)
	return [2]float64{quantile(ratios, .025), quantile(ratios, .975)}
}

func bestThree(shots []float64) float64 {
	slices.Sort(shots)
	n := len(shots)
	return (shots[n-1] + shots[n-2] + shots[n-3]) / 3
}

func meanSD(values []float64) (mean, sd float64) {
	for _, v := range values {
		mean += v / float64(len(values))
	}
	var squares float64
	for _, v := range values {
		squares += (v - mean) * (v - mean)
	}
	return mean, math.Sqrt(squares / float64(len(values)-1))
}
