package dispersion

import (
	"fmt"
	"math/big"
)

// A DepthError tells that no point is as deep as asked for. It is always
// returned as *DepthError, wrapped.
type DepthError struct {
	Depth   int // asked for
	Deepest int // the greatest depth there is
}

func (e *DepthError) Error() string {
	return fmt.Sprintf("no region has depth %d: ask for 1 to %d", e.Depth, e.Deepest)
}

// DepthRegion returns the points of halfspace depth k or more: what is left of
// the plane after every half-plane with fewer than k shots has been cut away.
// Depth 1 is the convex hull; the deepest region surrounds [Group.TukeyMedian].
// The regions of growing depth are contours of the group that follow its shape,
// whatever that is, and map with it under any affine map.
//
// Each region says two things. Shots is how many of the shots it holds. And for
// shots from any one distribution with a centre of symmetry, whatever its tails
// and shape, it holds that centre with exactly the Confidence
//
//	1 - (n-2c)/2^(n-1) · Σ over j >= 0 of C(n, c-j(n-2c)),  c = k-1 < n/2
//
// the chance that no line through the centre has fewer than k shots to one side
// (this is the bivariate sign test turned round). At n = 5 the hull has a
// confidence of 0.69, at 8 of 0.94, at 9 of 0.965; deeper regions need more
// shots. A distribution without such a centre, or recorded so coarsely that
// shots tie, makes the figure a guide.
//
// Every group has regions, shots on one line or identical ones too: then a line
// or a point. Corners are found with whole numbers and rounded once. A region
// of depth k does not run away before k shots are wild. It takes O(n² log n)
// time, and more for each corner.
//
// Errors: *[TooFewError] without shots; *[DepthError] for k below 1 or above the
// greatest depth.
//
// Reference: P. J. Rousseeuw, I. Ruts, "Constructing the Bivariate Tukey
// Median", Statistica Sinica 8, 1998, pp. 827-839; for the confidence J. L.
// Hodges, "A Bivariate Sign Test", Annals of Mathematical Statistics 26(3),
// 1955, pp. 523-527.
func (g *Group) DepthRegion(k int) (Polygon, error) {
	if g.N() == 0 {
		return Polygon{}, tooFew(0, 1, "a depth region")
	}
	if k == 1 {
		return g.ConvexHull(), nil
	}
	if k > 1 && k <= g.N() {
		d := depthsOf(g.points, k)
		if r := d.region(k); len(r) > 0 {
			return g.polygon(d.corners(r), k, depthConfidence(g.N(), k)), nil
		}
	}
	deepest, _, _ := deepestRegion(g.points)
	return Polygon{}, fmt.Errorf("dispersion: %w", &DepthError{Depth: k, Deepest: deepest})
}

// polygon returns the polygon with these corners, and what it holds.
func (g *Group) polygon(corners []Point, depth int, confidence float64) Polygon {
	p := Polygon{Corners: corners, Depth: depth, N: g.N(), Confidence: confidence}
	for _, q := range g.points {
		if p.Contains(q) {
			p.Shots++
		}
	}
	return p
}

// depthConfidence returns the chance that a centre of symmetry has depth k or
// more among n shots, none of which lie there.
func depthConfidence(n, k int) float64 {
	c := k - 1
	step := n - 2*c
	if step <= 0 {
		return 0
	}
	// Whole numbers, for 1 - P would lose its digits where P is near 1.
	var ways, term big.Int
	for at := c; at >= 0; at -= step {
		ways.Add(&ways, term.Binomial(int64(n), int64(at)))
	}
	ways.Mul(&ways, big.NewInt(int64(step)))
	all := new(big.Int).Lsh(big.NewInt(1), uint(n-1))
	share, _ := new(big.Rat).SetFrac(ways.Sub(all, &ways), all).Float64()
	return max(0, share)
}
