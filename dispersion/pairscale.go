package dispersion

import (
	"fmt"
	"math"
	"slices"
)

// Qn returns a standard deviation that wild values do not move: an order
// statistic of the distances between the values,
//
//	2.21914 · d(n) · {|xᵢ - xⱼ|; i < j} at rank k,  k = ½h(h-1),  h = ⌊n/2⌋ + 1
//
// in the unit of the values, where d(n) makes it right on average for a few
// normal values (d(n) tends to 1). Up to half of the values may be wild before
// it breaks down; for many normal values it wastes 18 % of them, the scaled MAD
// 63 %. It is 0 where h or more of the values are equal. One value gives 0.
//
// The constant is the corrected one, 1/(√2·Φ⁻¹(5/8)); the article prints
// 2.2219. d(n) is that of R's robustbase 0.95-0. It takes about 64·n steps.
//
// Errors: *[TooFewError] for no values; an error naming the first value that is
// not finite, or beyond twice [MaxCoordinate] in size.
//
// Reference: P. J. Rousseeuw, C. Croux, "Alternatives to the Median Absolute
// Deviation", Journal of the American Statistical Association 88(424), 1993,
// pp. 1273-1283.
func Qn(values []float64) (float64, error) {
	x, err := sortedValues(values, "Qn")
	if err != nil || len(x) == 1 {
		return 0, err
	}
	n := len(x)
	h := n/2 + 1
	return 2.21914 * qnFactor(n) * pairDistance(x, h*(h-1)/2), nil
}

// Sn returns a standard deviation that wild values do not move: the middle, over
// the values, of the middle distance of each to the others,
//
//	1.1926 · c(n) · lomedᵢ himedⱼ |xᵢ - xⱼ|
//
// where himed takes the value at rank ⌊n/2⌋+1 and lomed that at ⌊(n+1)/2⌋, and
// c(n) makes it right on average for a few normal values. Like [Qn] it breaks
// down only beyond half of the values; it wastes 42 % of many normal values, but
// is never thrown far by a cluster near the middle. It is 0 where more than half
// of the values are equal. One value gives 0. It takes n·log n steps.
//
// Errors: as for [Qn]. Reference: as for [Qn].
func Sn(values []float64) (float64, error) {
	x, err := sortedValues(values, "Sn")
	if err != nil || len(x) == 1 {
		return 0, err
	}
	n := len(x)
	middle := make([]float64, n)
	for i := range x {
		middle[i] = neighbourDistance(x, i, n/2+1)
	}
	return 1.1926 * snFactor(n) * kthSmallest(middle, (n+1)/2-1), nil
}

func sortedValues(values []float64, what string) ([]float64, error) {
	if len(values) == 0 {
		return nil, tooFew(0, 1, what)
	}
	for i, v := range values {
		if !(math.Abs(v) <= 2*MaxCoordinate) {
			return nil, fmt.Errorf("dispersion: value %d is %g: %s needs finite numbers", i, v, what)
		}
	}
	return slices.Sorted(slices.Values(values)), nil
}

// pairDistance returns the k-th smallest (from 1) distance between two of the
// sorted values. It halves the range of the distances' bit patterns, whose
// order is that of the distances, so that the answer is exact.
func pairDistance(x []float64, k int) float64 {
	atMost := func(d float64) (pairs int) {
		first := 0
		for i, v := range x {
			for v-x[first] > d {
				first++
			}
			pairs += i - first
		}
		return pairs
	}
	low, high := uint64(0), math.Float64bits(x[len(x)-1]-x[0])
	for low < high {
		middle := low + (high-low)/2
		if atMost(math.Float64frombits(middle)) >= k {
			high = middle
		} else {
			low = middle + 1
		}
	}
	return math.Float64frombits(low)
}

// neighbourDistance returns the k-th smallest distance of sorted value i to all
// values, itself included at distance 0: the least reach of k values in a row
// that hold it.
func neighbourDistance(x []float64, i, k int) float64 {
	reach := func(first int) float64 { return max(x[i]-x[first], x[first+k-1]-x[i]) }
	low, high := max(0, i-k+1), min(i, len(x)-k)
	for low < high {
		middle := low + (high-low)/2
		// Moving right shortens the left arm and lengthens the right one.
		if x[i]-x[middle] > x[middle+k-1]-x[i] {
			low = middle + 1
		} else {
			high = middle
		}
	}
	best := reach(low)
	if low > max(0, i-k+1) {
		best = min(best, reach(low-1))
	}
	return best
}

func qnFactor(n int) float64 {
	if n <= 12 {
		return [...]float64{.399356, .99365, .51321, .84401, .6122, .85877, .66993, .87344, .72014, .88906, .75743}[n-2]
	}
	f := float64(n)
	if n%2 == 1 {
		return 1 / (1 + (1.60188+(-2.1284-5.172/f)/f)/f)
	}
	return 1 / (1 + (3.67561+(1.9654+(6.987-77/f)/f)/f)/f)
}

func snFactor(n int) float64 {
	if n <= 9 {
		return [...]float64{.743, 1.851, .954, 1.351, .993, 1.198, 1.005, 1.131}[n-2]
	}
	if n%2 == 1 {
		return float64(n) / (float64(n) - .9)
	}
	return 1
}
