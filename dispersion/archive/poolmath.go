package archive

import (
	"fmt"
	"math"
	"slices"
)

// A TiedError tells that there is no interval, since a share of the resamples
// have a single value and so no spread: Share of them, where Most would do. They
// would have been the tail that the interval ends in.
type TiedError struct {
	Pupils      int     // in the pool
	Share, Most float64 // of the resamples
}

func (e *TiedError) Error() string {
	return fmt.Sprintf("%.2g %% of the resamples of these %d pupils have one value only, where %.2g %% are the most at this level: pool more pupils, or a statistic in which fewer of them tie",
		100*e.Share, e.Pupils, 100*e.Most)
}

// toUnit divides values by the power of two that makes the largest about 1, so
// that no square leaves the range of numbers, and returns its exponent. It loses
// no bit of what is not tiny beside the largest.
func toUnit(x []float64) (exponent int) {
	_, exponent = math.Frexp(max(slices.Max(x), -slices.Min(x)))
	for i, v := range x {
		x[i] = math.Ldexp(v, -exponent)
	}
	return exponent
}

// rounding returns by how much values may differ that are equal: the last bits
// of a mean depend on the order of adding up.
func rounding(x []float64) float64 { return 1e-13 * max(slices.Max(x), -slices.Min(x)) }

// singleShare returns how often n values drawn from x with replacement are all
// the same,
//
//	Σ (k/n)ⁿ  over the different values, k times each
//
// where values that differ by no more than tie are the same.
func singleShare(x []float64, tie float64) float64 {
	sorted := slices.Sorted(slices.Values(x))
	n, share := float64(len(x)), 0.
	for from := 0; from < len(sorted); {
		to := from
		for to < len(sorted) && sorted[to]-sorted[from] <= tie {
			to++
		}
		share += math.Pow(float64(to-from)/n, n)
		from = to
	}
	return share
}

// meanSD returns the mean and the standard deviation, divisor n-1, in two passes.
func meanSD(x []float64) (mean, sd float64) {
	n := float64(len(x))
	for _, v := range x {
		mean += v / n
	}
	var squares float64
	for _, v := range x {
		squares += float64((v - mean) * (v - mean))
	}
	return mean, math.Sqrt(squares / (n - 1))
}

// quantile returns the quantile of sorted values at q, between neighbours in
// proportion: place q·(n+1), counted from 1.
func quantile(sorted []float64, q float64) float64 {
	place := q*float64(len(sorted)+1) - 1
	below := math.Floor(place)
	if below < 0 {
		return sorted[0]
	}
	if int(below) >= len(sorted)-1 {
		return sorted[len(sorted)-1]
	}
	a, b := sorted[int(below)], sorted[int(below)+1]
	return a + float64((place-below)*(b-a))
}
