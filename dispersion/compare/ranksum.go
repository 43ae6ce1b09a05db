package compare

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/combin"
)

// A rankSum is the null distribution of the sum of the ranks of one side: how
// many splits give each sum. Tied values share the mean of their ranks; ranks
// are doubled so that they stay whole.
type rankSum struct {
	ranks  []int // doubled, of the values before and then those after
	counts []float64
	total  float64 // number of splits
	first  int     // shots in the first part
}

// doubledMidranks returns twice the rank of each value among all, ties sharing
// the mean of theirs.
func doubledMidranks(values []float64) []int {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case values[a] < values[b]:
			return -1
		case values[a] > values[b]:
			return 1
		}
		return 0
	})
	ranks := make([]int, len(values))
	for from := 0; from < len(order); {
		to := from + 1
		for to < len(order) && values[order[to]] == values[order[from]] {
			to++
		}
		for _, i := range order[from:to] {
			ranks[i] = from + 1 + to // ranks from+1 … to
		}
		from = to
	}
	return ranks
}

// newRankSum counts the splits by the sum of the first part's doubled ranks,
// taking in one rank after the other: so many splits choose k of those so far
// with sum s. Counts up to 2⁵³ are exact, and larger ones to the last bits.
//
// Reference: B. Streitberg, J. Röhmel, "Exact Distributions for Permutation and
// Rank Tests", Statistical Software Newsletter 12(1), 1986, pp. 10-17.
func newRankSum(ctx context.Context, ranks []int, first int) (rankSum, error) {
	highest := 0
	for _, r := range slices.Sorted(slices.Values(ranks))[len(ranks)-first:] {
		highest += r
	}
	ways := make([][]float64, first+1)
	for k := range ways {
		ways[k] = make([]float64, highest+1)
	}
	ways[0][0] = 1
	for i, r := range ranks {
		if err := ctx.Err(); err != nil {
			return rankSum{}, err
		}
		for k := min(i+1, first); k > 0; k-- {
			from, to := ways[k-1], ways[k]
			for s := highest; s >= r; s-- {
				to[s] += from[s-r]
			}
		}
	}
	d := rankSum{ranks: ranks, counts: ways[first], first: first}
	for _, c := range d.counts {
		d.total += c
	}
	return d, nil
}

// twoSided returns the share of splits whose sum is at least as far from its
// mean as the one given, and the smallest such share there can be.
func (d rankSum) twoSided(sum int) (p, floor float64) {
	mean := 0 // of the sums, times the number of ranks
	for _, r := range d.ranks {
		mean += r * d.first
	}
	n := len(d.ranks)
	away := func(s int) int { return max(s*n-mean, mean-s*n) }
	farthest := 0
	for s, c := range d.counts {
		if c > 0 {
			farthest = max(farthest, away(s))
		}
	}
	for s, c := range d.counts {
		if c > 0 && away(s) >= away(sum) {
			p += c
		}
		if c > 0 && away(s) == farthest {
			floor += c
		}
	}
	return p / d.total, floor / d.total
}

// orderForInterval returns the largest k with P(U < k) below the tail, U the
// number of pairs with the value before above the one after, of values without
// ties and no shift; then the k-th smallest and the k-th largest difference are
// the ends of the interval. It returns at least 1, and the tail attained.
func orderForInterval(ctx context.Context, n1, n2 int, tail float64) (k int, attained float64, err error) {
	if n1+n2 > exactRanks {
		pairs := float64(n1) * float64(n2)
		sd := math.Sqrt(pairs * float64(n1+n2+1) / 12)
		// P(U < k) = P(U <= k-1), with half a step for continuity.
		if k = int(math.Floor(pairs/2 + normalQuantile(tail)*sd + 0.5)); k > 1 {
			return k, tail, nil
		}
		// All differences: what is outside is the one split with no pair that way.
		return 1, max(tail, math.Exp(-combin.LogGeneralizedBinomial(float64(n1+n2), float64(n1)))), nil
	}
	ranks := make([]int, n1+n2)
	for i := range ranks {
		ranks[i] = i + 1
	}
	d, err := newRankSum(ctx, ranks, n1)
	if err != nil {
		return 0, 0, err
	}
	lowest := n1 * (n1 + 1) / 2
	below := 0.0 // splits with U < k
	for k = 0; below+d.counts[lowest+k] < tail*d.total; k++ {
		below += d.counts[lowest+k]
	}
	if k == 0 {
		k, below = 1, d.counts[lowest]
	}
	return k, below / d.total, nil
}

// exactRanks is up to how many shots of both sides the distribution of the
// rank sum is counted out.
const exactRanks = 100
