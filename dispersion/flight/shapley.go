package flight

import "math/bits"

// shapley returns what each of n parts adds on average over all n! orders in which
// they can be put in place, one after the other, from what is there when a set
// of them is: value[mask] with bit k for part k,
//
//	φ_k = Σ |S|!·(n-1-|S|)!/n! · (value[S + k] - value[S]) over the sets S without k
//
// Together they add up to value[all] - value[0].
//
// Reference: L. S. Shapley, "A Value for n-Person Games", in H. W. Kuhn, A. W.
// Tucker (eds.), Contributions to the Theory of Games II, Princeton 1953, pp.
// 307-317.
func shapley(value []float64, n int) []float64 {
	parts := make([]float64, n)
	for mask := range value {
		for k := range n {
			if mask>>k&1 == 0 {
				parts[k] += (value[mask|1<<k] - value[mask]) * orders(bits.OnesCount(uint(mask)), n)
			}
		}
	}
	return parts
}

// orders returns the share of the orders of n parts in which so many given ones
// come first and another given one next.
func orders(before, n int) float64 {
	share := 1 / float64(n)
	for i := 1; i <= before; i++ { // 1/C(n-1, before)
		share *= float64(i) / float64(n-i)
	}
	return share
}
