package compare

import (
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// A shape is the common shape V of two groups, as the lower triangle of its
// Cholesky factor: V = LLᵀ.
type shape struct{ l11, l21, l22 float64 }

// commonShape returns the shape of V = Σ(nⱼ-1)Sⱼ/√|Sⱼ| / Σ(nⱼ-1). Each part has
// the determinant 1, so that the wider group doesn't decide; the one with more
// shots does. With equal weights few shots against many would lie close
// together in a shape that is half their own.
func commonShape(before, after *dispersion.Group, level float64) (shape, error) {
	var v dispersion.Cov
	all := float64(before.N() + after.N() - 2)
	for _, g := range []*dispersion.Group{before, after} {
		weight := float64(g.N()-1) / all
		area, err := g.AreaScale(level)
		if err != nil {
			return shape{}, err
		}
		s, err := g.Cov()
		if err != nil {
			return shape{}, err
		}
		v.XX += float64(s.XX / area.Raw * weight)
		v.XY += float64(s.XY / area.Raw * weight)
		v.YY += float64(s.YY / area.Raw * weight)
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
