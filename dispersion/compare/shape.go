package compare

import (
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// A shape is the common shape V of two groups, as the lower triangle of its
// Cholesky factor: V = LLᵀ.
type shape struct{ l11, l21, l22 float64 }

// commonShape returns the shape of V = ½(S₁/√|S₁| + S₂/√|S₂|). Each part has
// the determinant 1, so that neither the larger nor the longer group decides.
func commonShape(before, after *dispersion.Group, level float64) (shape, error) {
	var v dispersion.Cov
	for _, g := range []*dispersion.Group{before, after} {
		area, err := g.AreaScale(level)
		if err != nil {
			return shape{}, err
		}
		s, err := g.Cov()
		if err != nil {
			return shape{}, err
		}
		v.XX += s.XX / area.Raw / 2
		v.XY += s.XY / area.Raw / 2
		v.YY += s.YY / area.Raw / 2
	}
	l11 := math.Sqrt(v.XX)
	return shape{l11: l11, l21: v.XY / l11, l22: v.SqrtDet() / l11}, nil
}

// distances returns how far each shot is from the geometric median of its
// group, in the metric of the shape.
func (s shape) distances(g *dispersion.Group) ([]float64, error) {
	mean := g.Mean()
	points := g.Points()
	for i, p := range points {
		x := (p.X - mean.X) / s.l11
		y := (p.Y - mean.Y - s.l21*x) / s.l22
		points[i] = dispersion.Point{X: x, Y: y}
	}
	upright, err := dispersion.NewGroup(points)
	if err != nil {
		return nil, err
	}
	middle := upright.GeometricMedian().Point
	distances := make([]float64, len(points))
	for i, p := range points {
		distances[i] = math.Hypot(p.X-middle.X, p.Y-middle.Y)
	}
	return distances, nil
}
