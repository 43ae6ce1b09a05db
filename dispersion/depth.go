package dispersion

import "slices"

// Depth returns the halfspace depth of p: the smallest number of shots on or
// to one side of a line through p,
//
//	min over unit vectors u of #{i : u·(xᵢ-p) >= 0}
//
// where shots at p itself count. It is 0 outside the convex hull, 1 at its
// corners, at least n/3 at the deepest point, and at most n/2, rounded up, plus
// half of the shots that share the point. It stays the same under any affine
// map.
//
// Every group has depths. Ties and shots on one line are counted exactly: each
// coordinate is taken as the shortest decimal that reads back as it, so that
// tenths are tenths. A point with a coordinate that is no finite number has
// depth 0. It sorts the shots once by direction: O(n log n) time.
//
// Reference: J. W. Tukey, "Mathematics and the Picturing of Data", Proceedings
// of the International Congress of Mathematicians, Vancouver 1975, vol. 2,
// pp. 523-531; P. J. Rousseeuw, I. Ruts, "Algorithm AS 307: Bivariate Location
// Depth", Applied Statistics 45(4), 1996, pp. 516-526.
func (g *Group) Depth(p Point) int {
	if !usable(p.X) || !usable(p.Y) {
		return 0
	}
	var s sweep
	s.around(newPlane(append(slices.Clip(g.points), p)), g.N())
	return s.same + s.least()
}

// Depths returns the halfspace depth of every shot, in the order hit: see
// [Group.Depth]. It takes O(n² log n) time.
func (g *Group) Depths() []int {
	plane := newPlane(g.points)
	depths := make([]int, g.N())
	var s sweep
	for i := range depths {
		s.around(plane, i)
		depths[i] = 1 + s.same + s.least()
	}
	return depths
}
