package dispersion

import (
	"cmp"
	"slices"
)

// ConvexHull returns the smallest convex polygon that holds every shot: the
// rubber band around them. It grows with every wild shot and with the number
// of shots, so hulls of groups of different sizes must not be compared.
//
// One shot has a hull, and so have shots on one line: a polygon of one or two
// corners. Corners are exact, chosen among the shots with the same care for
// ties and shots on one line as in [Group.Depth]; a shot inside an edge is no
// corner. The breakdown point is 0. It takes O(n log n) time.
//
// For the confidence see [Group.DepthRegion], of which this is the one of
// depth 1.
//
// Reference: A. M. Andrew, "Another Efficient Algorithm for Convex Hulls in Two
// Dimensions", Information Processing Letters 9(5), 1979, pp. 216-219.
func (g *Group) ConvexHull() Polygon {
	return g.polygon(hullOf(g.points), 1, depthConfidence(g.N(), 1))
}

// hullOf returns the corners of the convex hull, counter-clockwise from the
// leftmost, no three on one line.
func hullOf(points []Point) []Point {
	if len(points) == 0 {
		return nil
	}
	order := make([]int, len(points))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(points[a].X, points[b].X), cmp.Compare(points[a].Y, points[b].Y))
	})
	order = slices.CompactFunc(order, func(a, b int) bool { return points[a] == points[b] })
	plane := newPlane(points)
	chain := func(order []int) []int {
		var half []int
		for _, i := range order {
			for len(half) > 1 && plane.turn(half[len(half)-2], half[len(half)-1], i) <= 0 {
				half = half[:len(half)-1]
			}
			half = append(half, i)
		}
		return half[:len(half)-1] // the last starts the other half
	}
	corners := []Point{points[order[0]]}
	if len(order) == 1 {
		return corners
	}
	corners = corners[:0]
	for _, i := range chain(order) {
		corners = append(corners, points[i])
	}
	slices.Reverse(order)
	for _, i := range chain(order) {
		corners = append(corners, points[i])
	}
	return corners
}
