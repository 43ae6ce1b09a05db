package dispersion

// TukeyMedian returns the centroid of the deepest points of the group: those
// whose halfspace depth, as in [Group.Depth], is the greatest there is.
//
// It is the centre around which shots lie most evenly on both sides of every
// line, and maps with the group under any affine map. It assumes nothing about
// the shots. It breaks down when a third of the shots of a symmetric group are
// wild, and never before n/3 of them are, less one.
//
// From one shot on it has an answer, on ties and shots on one line too. Its
// region is missing: [Group.DepthRegion] gives regions around it that hold a
// centre of symmetry with a known confidence.
//
// It is deterministic, exact to rounding, and takes O(n² log n) time and more
// for shots without a middle.
//
// Reference: P. J. Rousseeuw, I. Ruts, "Constructing the Bivariate Tukey
// Median", Statistica Sinica 8, 1998, pp. 827-839; D. L. Donoho, M. Gasko,
// "Breakdown Properties of Location Estimates Based on Halfspace Depth and
// Projected Outlyingness", Annals of Statistics 20(4), 1992, pp. 1803-1827.
func (g *Group) TukeyMedian() Centre {
	_, d, region := deepestRegion(g.points)
	return Centre{Method: "Tukey median", Point: d.middle(region), N: g.N()}
}
