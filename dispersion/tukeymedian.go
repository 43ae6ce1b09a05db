package dispersion

// TukeyMedian returns the centroid of the deepest points of the group, those
// whose halfspace depth ([Group.Depth]) is the greatest there is, with the
// smallest depth region that holds a centre of symmetry with at least
// confidence level ([Group.DepthRegion]).
//
// It is the centre around which shots lie most evenly on both sides of every
// line, and maps with the group under any affine map. It assumes nothing about
// the shots. It breaks down when a third of the shots of a symmetric group are
// wild, and never before n/3 of them are, less one. The region assumes a
// distribution with a centre of symmetry, of any shape and with any tails, and
// its Confidence is the one attained, which at small n is well above level.
// At level 0.95 it held the centre of 98, 97 and 97 % of normal groups of 10, 20
// and 50 shots, of as many with the tails of t(3), and of 98, 97 and 95 % with
// one mishit in ten, with a radius 1.4, 1.3 and 1.2 times that of the mean's on
// normal shots (docs/methods/one-group.md).
//
// From one shot on it has an answer, on ties and shots on one line too. The
// region needs 9 shots at level 0.95, 8 at 0.9; below that Region is nil and a
// warning says how many are needed.
//
// Errors: [ErrLevel]; *[TooFewError] without shots. Warnings: *[TooFewError] for a missing region.
//
// It is deterministic, exact to rounding, and takes O(n² log n) time, more for
// shots around a hole.
//
// Reference: P. J. Rousseeuw, I. Ruts, "Constructing the Bivariate Tukey
// Median", Statistica Sinica 8, 1998, pp. 827-839; D. L. Donoho, M. Gasko,
// "Breakdown Properties of Location Estimates Based on Halfspace Depth and
// Projected Outlyingness", Annals of Statistics 20(4), 1992, pp. 1803-1827.
func (g *Group) TukeyMedian(level float64) (Centre, error) {
	if err := checkLevel(level); err != nil {
		return Centre{}, err
	}
	if g.N() == 0 {
		return Centre{}, tooFew(0, 1, "a Tukey median")
	}
	deepest, d, region := deepestRegion(g.points)
	c := Centre{Method: "Tukey median", Point: d.middle(region), N: g.N()}
	k := 0
	for k < deepest && depthConfidence(g.N(), k+1) >= level {
		k++
	}
	if k == 0 {
		need := g.N() + 1
		for depthConfidence(need, 1) < level {
			need++
		}
		c.setRegion(nil, level, tooFew(g.N(), need, "the region of the Tukey median"), nil)
		return c, nil
	}
	r, err := g.DepthRegion(k)
	c.setRegion(r, level, err, nil)
	return c, nil
}
