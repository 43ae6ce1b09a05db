package dispersion

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/combin"
)

// MedianCentre returns the medians of side and of carry, each by itself, with
// the rectangle that holds the true ones with at least confidence level:
//
//	side from x₍c₎ to x₍ₙ₊₁₋c₎, carry from y₍c₎ to y₍ₙ₊₁₋c₎
//
// where x₍c₎ is the c-th smallest and c the greatest rank with
//
//	2·2·P(B < c) <= 1 - level,  B binomial of n and 1/2
//
// (twice for the two ends, twice for the two axes). The rectangle assumes
// nothing but independent shots from one distribution; its Confidence is the
// bound attained, which the true one exceeds: at level 0.95 it held the true
// medians of 99, 96, 98 and 97 % of normal groups of 8, 10, 20 and 50 shots, and
// of t(3) and of groups with one mishit in ten to within a point as many
// (docs/methods/one-group.md).
//
// One wild shot moves the point by a bounded amount, and up to half of the
// shots may be wild before it breaks down. It stretches with each axis but does
// not turn with the group: turn the axes and it is another point, which
// [Group.GeometricMedian] is not. The median of an even number is midway
// between the two middle values. Ties and shots on one line change nothing.
//
// From one shot on it has an answer; the region needs 7 at level 0.95, 6 at
// 0.9. Below that Region is nil and a warning says how many are needed.
//
// Errors: [ErrLevel]; *[TooFewError] without shots. Warnings: *[TooFewError] for a missing region.
//
// Reference: W. R. Thompson, "On Confidence Ranges for the Median and Other
// Expectation Distributions for Populations of Unknown Distribution Form",
// Annals of Mathematical Statistics 7(3), 1936, pp. 122-128.
func (g *Group) MedianCentre(level float64) (Centre, error) {
	if err := checkLevel(level); err != nil {
		return Centre{}, err
	}
	if g.N() == 0 {
		return Centre{}, tooFew(0, 1, "a coordinatewise median")
	}
	n := g.N()
	side, carry := make([]float64, n), make([]float64, n)
	for i, p := range g.points {
		side[i], carry[i] = p.X, p.Y
	}
	slices.Sort(side)
	slices.Sort(carry)
	middle := func(sorted []float64) float64 { return sorted[(n-1)/2]/2 + sorted[n/2]/2 }
	c := Centre{Method: "coordinatewise median", Point: Point{X: middle(side), Y: middle(carry)}, N: n}
	rank, confidence := medianRank(n, level)
	if rank == 0 {
		need := n + 1
		for math.Ldexp(1, 2-need) > 1-level {
			need++
		}
		c.setRegion(nil, level, tooFew(n, need, "the region of the coordinatewise median"), nil)
		return c, nil
	}
	low, high := Point{X: side[rank-1], Y: carry[rank-1]}, Point{X: side[n-rank], Y: carry[n-rank]}
	r := g.polygon(hullOf([]Point{low, {X: high.X, Y: low.Y}, high, {X: low.X, Y: high.Y}}), 0, confidence)
	c.setRegion(r, level, nil, nil)
	return c, nil
}

// medianRank returns the greatest rank from either end whose order statistics
// bound the medians of two axes with the given confidence, and the bound on the
// confidence that they attain; 0 where there is none.
func medianRank(n int, level float64) (rank int, confidence float64) {
	// P(B < rank), summed from the small end.
	var below float64
	for rank <= n/2 {
		term := math.Exp(combin.LogGeneralizedBinomial(float64(n), float64(rank)) - float64(n)*math.Ln2)
		if 4*(below+term) > (1-level)*(1+1e-12) {
			break
		}
		below += term
		rank++
	}
	return rank, 1 - 4*below
}
