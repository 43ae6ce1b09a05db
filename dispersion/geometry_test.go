package dispersion

import (
	"math"
	"slices"
	"testing"
)

// Source: geometry.py, Python fractions and mpmath 1.2.1: exact hulls, circles,
// depths (equal to those of ddalpha 1.3.13 of R on every set) and deepest
// regions.
func TestRegionsAgainstExactArithmetic(t *testing.T) {
	for _, name := range referenceNames(t, "geometry_") {
		t.Run(name, func(t *testing.T) {
			var ref struct {
				Output struct {
					Hull struct {
						Vertices [][2]float64 `json:"vertices_ccw"`
						Area     float64
					}
					Spread float64 `json:"extreme_spread"`
					Circle struct {
						Centre [2]float64 `json:"center"`
						Radius float64
					} `json:"smallest_enclosing_circle"`
					Depths []int `json:"halfspace_depth_counts"`
					Tukey  *struct {
						Depth    int          `json:"max_depth"`
						Vertices [][2]float64 `json:"region_vertices"`
						Area     float64      `json:"region_area"`
						Centroid [2]float64
					} `json:"tukey_median"`
				}
			}
			readReference(t, "geometry_"+name, &ref)
			g, want := referenceGroup(t, name), ref.Output
			hull := g.ConvexHull()
			sameCorners(t, "hull", hull.Corners, toPoints(want.Hull.Vertices))
			nearRel(t, "hull area", hull.Area(), want.Hull.Area, 1e-12)
			if hull.Shots != g.N() || hull.N != g.N() {
				t.Errorf("the hull holds %s", hull.Holds())
			}
			circle, err := g.EnclosingCircle()
			if err != nil {
				t.Fatal(err)
			}
			near(t, "circle side", circle.Centre.X, want.Circle.Centre[0], 1e-12)
			near(t, "circle carry", circle.Centre.Y, want.Circle.Centre[1], 1e-12)
			nearRel(t, "circle radius", circle.Radius, want.Circle.Radius, 1e-12)
			deepest := 0
			for i, d := range g.Depths() {
				if deepest = max(deepest, d); d != want.Depths[i] {
					t.Errorf("depth of shot %d = %d, want %d", i, d, want.Depths[i])
				}
			}
			if want.Tukey == nil {
				return // line6: on one line
			}
			m, err := g.TukeyMedian(.95)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "Tukey median side", m.Point.X, want.Tukey.Centroid[0], 1e-12)
			near(t, "Tukey median carry", m.Point.Y, want.Tukey.Centroid[1], 1e-12)
			r, err := g.DepthRegion(want.Tukey.Depth)
			if err != nil {
				t.Fatal(err)
			}
			sameCorners(t, "deepest region", r.Corners, toPoints(want.Tukey.Vertices))
			near(t, "deepest area", r.Area(), want.Tukey.Area, 1e-12)
			if _, err := g.DepthRegion(want.Tukey.Depth + 1); err == nil {
				t.Error("a region deeper than the deepest")
			}
		})
	}
}

// sameCorners compares corners to 1e-12, from whichever one the lists start.
func sameCorners(t *testing.T, what string, got, want []Point) {
	t.Helper()
	for shift := range want {
		turned := append(slices.Clone(want[shift:]), want[:shift]...)
		if slices.EqualFunc(got, turned, func(a, b Point) bool {
			return math.Abs(a.X-b.X) <= 1e-12*max(1, math.Abs(b.X)) && math.Abs(a.Y-b.Y) <= 1e-12*max(1, math.Abs(b.Y))
		}) {
			return
		}
	}
	t.Errorf("%s: corners %v, want %v", what, got, want)
}
