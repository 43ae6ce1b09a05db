package dispersion

import "math"

// Cov is a covariance matrix of side and carry:
//
//	| XX XY |
//	| XY YY |
//
// in the square of the points' unit.
type Cov struct{ XX, XY, YY float64 }

// Det returns the determinant XX·YY - XY², to about the last bit. It is 0 for
// points on one line.
func (c Cov) Det() float64 {
	// W. Kahan's difference of products: the rounding error of one product is
	// found by a fused multiply-add and given back.
	w := float64(c.XY * c.XY)
	return max(0, math.FMA(c.XX, c.YY, -w)-math.FMA(c.XY, c.XY, -w))
}

// SqrtDet returns √(XX·YY - XY²), the area of the one-sigma ellipse over π. It
// does not overflow where the determinant does.
func (c Cov) SqrtDet() float64 {
	s := max(c.XX, c.YY)
	if s == 0 {
		return 0
	}
	return s * math.Sqrt(Cov{XX: c.XX / s, XY: c.XY / s, YY: c.YY / s}.Det())
}

// Axes returns the standard deviations along the longest and the shortest
// direction of the group, and the angle from +X toward +Y to the longest, in
// radians in (-π/2, π/2], 0 for a circle.
func (c Cov) Axes() (major, minor, angle float64) {
	s := max(c.XX, c.YY)
	if s == 0 {
		return 0, 0, 0
	}
	xx, xy, yy := c.XX/s, c.XY/s, c.YY/s
	large := (xx+yy)/2 + math.Hypot((xx-yy)/2, xy)
	// The smaller eigenvalue by the determinant: the difference of two nearly
	// equal numbers would lose its digits.
	small := Cov{XX: xx, XY: xy, YY: yy}.Det() / large
	angle = math.Atan2(2*xy, xx-yy) / 2
	if angle <= -math.Pi/2 {
		angle = math.Pi / 2
	}
	return math.Sqrt(s) * math.Sqrt(large), math.Sqrt(s) * math.Sqrt(small), angle
}

// flat tells whether no area can be given: see [ErrDegenerate]. Variances
// whose products underflow count as zero.
func (c Cov) flat() bool {
	if c.XX < 1e-300 || c.YY < 1e-300 {
		return true
	}
	s := max(c.XX, c.YY)
	scaled := Cov{XX: c.XX / s, XY: c.XY / s, YY: c.YY / s}
	return scaled.Det() <= 1e-13*scaled.XX*scaled.YY
}

// times returns the covariance with every entry multiplied by f.
func (c Cov) times(f float64) Cov { return Cov{XX: c.XX * f, XY: c.XY * f, YY: c.YY * f} }

// squaredDistance returns (p-m)ᵀ C⁻¹ (p-m), the squared Mahalanobis distance.
// The covariance must not be flat.
func (c Cov) squaredDistance(m, p Point) float64 {
	// Each axis in its own standard deviations, so that nothing overflows.
	sx, sy := math.Sqrt(c.XX), math.Sqrt(c.YY)
	r := c.XY / sx / sy
	u, v := (p.X-m.X)/sx, (p.Y-m.Y)/sy
	return (u*u + v*v - 2*r*u*v) / Cov{XX: 1, XY: r, YY: 1}.Det()
}
