package compare

import (
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// LogAreaRatio returns the natural logarithm of the area of the pattern after
// over the area before, a statistic for [BootstrapMoments]:
//
//	½·ln(|S₂|/|S₁|)
//
// S being the covariance with divisor n-1. Half of it is the logarithm of the
// ratio of radii. Its spread hardly depends on its value, which is what
// bootstrap-t needs.
//
// Errors: *[dispersion.TooFewError] below 3 shots; [dispersion.ErrDegenerate]
// for shots on one line.
func LogAreaRatio(before, after dispersion.Moments) (float64, error) {
	if have := min(before.N, after.N); have < 3 {
		return 0, enough(int(before.N), int(after.N), 3, "an area")
	}
	area1, ok1 := solidDet(before.SXX, before.SXY, before.SYY)
	area2, ok2 := solidDet(after.SXX, after.SXY, after.SYY)
	if !ok1 || !ok2 {
		return logAreaRatioScaled(before, after)
	}
	n1, n2 := float64(before.N-1), float64(after.N-1)
	return math.Log(area2*n1*n1/(area1*n2*n2)) / 2, nil
}

// solidDet returns sxx·syy - sxy² where it is far from overflow, underflow and
// the flatness that makes an area meaningless.
func solidDet(sxx, sxy, syy float64) (det float64, ok bool) {
	product := float64(sxx * syy)
	det = product - float64(sxy*sxy)
	return det, product > 1e-120 && product < 1e120 && det > 1e-6*product
}

// logAreaRatioScaled is LogAreaRatio for any size and shape.
func logAreaRatioScaled(before, after dispersion.Moments) (float64, error) {
	var logs [2]float64
	for i, m := range []dispersion.Moments{before, after} {
		c, err := m.Cov()
		if err != nil {
			return 0, err
		}
		scale1, scale2 := math.Sqrt(c.XX), math.Sqrt(c.YY)
		if scale1 < 1e-150 || scale2 < 1e-150 {
			return 0, dispersion.ErrDegenerate
		}
		unit := dispersion.Cov{XX: 1, XY: c.XY / scale1 / scale2, YY: 1}.Det()
		if unit <= 1e-13 {
			return 0, dispersion.ErrDegenerate
		}
		logs[i] = math.Log(scale1) + math.Log(scale2) + math.Log(unit)/2
	}
	return logs[1] - logs[0], nil
}
