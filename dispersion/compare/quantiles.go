package compare

import (
	"math"
	"slices"
)

// quantilesOf returns the quantiles of the values at the given shares in [0, 1],
// by the linear rule: with h = (n-1)·share, the value of rank h if that is a
// whole number and else between its neighbours in proportion (type 7 of R. J.
// Hyndman, Y. Fan, "Sample Quantiles in Statistical Packages", The American
// Statistician 50(4), 1996, pp. 361-365). Values are finite and at least one.
func quantilesOf(values []float64, shares ...float64) []float64 {
	last := float64(len(values) - 1)
	var ranks []int
	for _, share := range shares {
		h := last * share
		ranks = append(ranks, int(math.Floor(h)), int(math.Ceil(h)))
	}
	at := ranked(values, ranks)
	quantiles := make([]float64, len(shares))
	for i, share := range shares {
		low, high := at[2*i], at[2*i+1]
		part := last*share - math.Floor(last*share)
		quantiles[i] = low + float64(part*(high-low))
	}
	return quantiles
}

// ranked returns the values of the given ranks, from 0 for the smallest. It
// sorts only those values that share a bin with a rank asked for: two passes
// and a few small sorts, where a full sort would take as long as drawing the
// resamples.
func ranked(values []float64, ranks []int) []float64 {
	low, high := values[0], values[0]
	for _, v := range values {
		if v < low {
			low = v
		} else if v > high {
			high = v
		}
	}
	const bins = 1024
	scale := bins / (high - low)
	if !(scale > 0) || math.IsInf(scale, 1) { // all equal, or too far apart to be told apart
		sorted := slices.Sorted(slices.Values(values))
		at := make([]float64, len(ranks))
		for i, r := range ranks {
			at[i] = sorted[r]
		}
		return at
	}
	binOf := func(v float64) int { return min(int((v-low)*scale), bins-1) }
	var upTo [bins + 1]int // how many values are in the bins below
	for _, v := range values {
		upTo[binOf(v)+1]++
	}
	for b := range bins {
		upTo[b+1] += upTo[b]
	}
	members := map[int][]float64{}
	var wanted [bins]bool
	home := make([]int, len(ranks)) // the bin of each rank
	for i, r := range ranks {
		home[i], _ = slices.BinarySearch(upTo[1:], r+1)
		wanted[home[i]] = true
	}
	for _, v := range values {
		if b := binOf(v); wanted[b] {
			members[b] = append(members[b], v)
		}
	}
	for _, m := range members {
		slices.Sort(m)
	}
	at := make([]float64, len(ranks))
	for i, r := range ranks {
		at[i] = members[home[i]][r-upTo[home[i]]]
	}
	return at
}
