package compare

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// noncentralT returns P(T ≤ t) for T = (Z+shift)/√(χ²/df), to about 1e-12:
//
//	∫ Φ(t·s - shift) f(s) ds,  f the density of s = √(χ²/df)
//
// In x = ln s the integrand is smooth and falls off at both ends faster than
// any power, where the plain trapezoidal rule converges exponentially (L. N.
// Trefethen, J. A. C. Weideman, SIAM Review 56(3), 2014, pp. 385-458).
func noncentralT(t, df, shift float64) float64 {
	const cut = 42 // e⁻⁴² of the peak is below the rounding of the sum
	// Left of the peak at x = 0 the log density falls like df·(x + (1-e²ˣ)/2),
	// right of it like df·(e²ˣ-1)/2.
	logDensity := func(x float64) float64 { return df * (x - math.Expm1(2*x)/2) }
	step := min(0.1, 0.2/math.Sqrt(df))
	var sum, weights float64
	add := func(x float64) bool {
		l := logDensity(x)
		w := math.Exp(l)
		sum += w * distuv.UnitNormal.CDF(t*math.Exp(x)-shift)
		weights += w
		return l > -cut
	}
	add(0)
	for i := 1; add(float64(i) * step); i++ {
	}
	for i := 1; add(-float64(i) * step); i++ {
	}
	// The density's constant is the same sum without Φ.
	return sum / weights
}
