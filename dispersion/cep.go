package dispersion

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// ErrShare is returned for a share outside (0, 1).
var ErrShare = errors.New("the share must be a fraction between 0 and 1, such as 0.5")

// ErrNotCov is returned for numbers that are no covariance: a variance below 0,
// a correlation beyond 1, or no number at all.
var ErrNotCov = errors.New("these numbers are no covariance")

// CEP returns the circular error probable: the radius around the aim that holds
// the given share of shots from a normal distribution with this covariance,
//
//	P(|shot - aim| <= r) = share
//
// where offset is the distribution's mean minus the aim. It is exact for any
// covariance and any offset, found by quadrature along the longer axis,
//
//	P = ∫ φ(x) [Φ((h-m)/σ) - Φ((-h-m)/σ)] dx,  h = √(r²-x²)
//
// and good to about 1e-10 of the radius. A covariance of rank 1 or 0 will do.
//
// Errors: [ErrShare]; [ErrNotCov]; *[PointError] for an offset that is not
// finite; [ErrOverflow].
//
// Reference: H. L. Harter, "Circular Error Probabilities", Journal of the
// American Statistical Association 55(292), 1960, pp. 723-731.
func (c Cov) CEP(share float64, offset Point) (float64, error) {
	if !(share > 0 && share < 1) {
		return 0, fmt.Errorf("dispersion: share %g: %w", share, ErrShare)
	}
	bound := math.Sqrt(c.XX) * math.Sqrt(c.YY) * (1 + 1e-9)
	if !(c.XX >= 0 && c.YY >= 0 && math.Abs(c.XY) <= bound) || math.IsInf(c.XX, 0) || math.IsInf(c.YY, 0) {
		return 0, fmt.Errorf("dispersion: a covariance of %+v: %w", c, ErrNotCov)
	}
	if err := checkPoints([]Point{offset}); err != nil {
		return 0, err
	}
	major, minor, angle := c.Axes()
	unit := max(major, math.Abs(offset.X), math.Abs(offset.Y))
	if unit == 0 {
		return 0, nil
	}
	sin, cos := math.Sincos(angle)
	x, y := offset.X/unit, offset.Y/unit
	d := disc{s1: major / unit, s2: minor / unit, m1: math.Abs(x*cos + y*sin), m2: math.Abs(y*cos - x*sin)}
	r := d.radius(share) * unit
	if math.IsInf(r, 0) {
		return 0, fmt.Errorf("dispersion: the circular error probable: %w", ErrOverflow)
	}
	return r, nil
}

// CEP returns the circular error probable of the group around the aim: the
// radius of the circle around it that would hold the given share of all shots,
// if they came from a normal distribution with the mean and covariance of this
// group. The radius carries the uncertainty of both, which is large for a few
// shots. A share of one half is the usual question.
//
// Errors: as for [Cov.CEP]; *[TooFewError] below 3 shots; [ErrDegenerate]. See
// there for the method and the reference.
func (g *Group) CEP(share float64, aim Point) (float64, error) {
	c, err := g.solidCov(3, "the circular error probable")
	if err != nil {
		return 0, err
	}
	if err := checkPoints([]Point{aim}); err != nil {
		return 0, err
	}
	return c.CEP(share, Point{X: g.Mean().X - aim.X, Y: g.Mean().Y - aim.Y})
}

// A disc is a normal distribution in its principal axes, with s1 >= s2 >= 0 and
// a mean in the first quadrant, about to be cut by a circle around 0.
type disc struct{ s1, s2, m1, m2 float64 }

// radius returns r with share(r) = p.
func (d disc) radius(p float64) float64 {
	low := 0.0
	high := math.Hypot(d.m1, d.m2) + d.s1*math.Sqrt(-2*math.Log1p(-p))
	if d.s1 == 0 {
		return high
	}
	f := func(r float64) float64 { return d.share(r) - p }
	return root(f, low, high, -p, f(high), 1e-13*min(p, 1-p))
}

// root returns where the increasing f is 0 between low and high: the secant
// with the Illinois rule, which always keeps the root between its ends. It stops
// where |f| is below near or the ends are neighbours.
func root(f func(float64) float64, low, high, atLow, atHigh, near float64) float64 {
	for range 200 {
		if atHigh <= 0 || high-low <= 4e-16*math.Abs(high) {
			return high
		}
		x := high - (high-low)*(atHigh/(atHigh-atLow))
		if !(x > low && x < high) {
			x = low + (high-low)/2
		}
		switch y := f(x); {
		case math.Abs(y) < near:
			return x
		case y < 0:
			low, atLow = x, y
			atHigh /= 2
		default:
			high, atHigh = x, y
			atLow /= 2
		}
	}
	return high
}

// rule holds the nodes of a Gauss-Legendre rule on (-1, 1).
type rule struct{ x, w []float64 }

func newRule(n int) rule {
	r := rule{make([]float64, n), make([]float64, n)}
	quad.Legendre{}.FixedLocations(r.x, r.w, -1, 1)
	return r
}

var rule20 = newRule(20)

// share returns the probability within r of 0.
func (d disc) share(r float64) float64 {
	if r <= 0 {
		return 0
	}
	band := func(h float64) float64 { // P(|second coordinate| <= h)
		if d.s2 == 0 {
			if d.m2 <= h {
				return 1
			}
			return 0
		}
		return normalBetween((-h-d.m2)/d.s2, (h-d.m2)/d.s2)
	}
	if d.s2 <= 1e-9*d.s1 {
		// A line: the other coordinate is fixed, for all that 1e-9 can show.
		if d.m2 >= r {
			return 0
		}
		h := math.Sqrt((r - d.m2) * (r + d.m2))
		return normalBetween((-h-d.m1)/d.s1, (h-d.m1)/d.s1)
	}
	// x = r·sin t takes the root out of the integrand. The pieces end where
	// the density along x or the band across it change quickly.
	var ends [40]float64
	k := 0
	put := func(x float64) {
		if x > -r && x < r {
			ends[k] = math.Asin(x / r)
			k++
		}
	}
	for _, z := range [...]float64{-9, -6, -4, -2, 0, 2, 4, 6, 9} {
		put(d.m1 + z*d.s1)
		if h := d.m2 + z*d.s2; h > 0 && h < r {
			put(math.Sqrt((r - h) * (r + h)))
			put(-math.Sqrt((r - h) * (r + h)))
		}
	}
	ends[k], ends[k+1] = -math.Pi/2, math.Pi/2
	k += 2
	insertionSort(ends[:k])
	var p float64
	for i := 1; i < k; i++ {
		middle, half := (ends[i]+ends[i-1])/2, (ends[i]-ends[i-1])/2
		if half == 0 {
			continue
		}
		for j, x := range rule20.x {
			sin, cos := math.Sincos(middle + half*x)
			z := (r*sin - d.m1) / d.s1
			if z*z > 1400 {
				continue
			}
			p += half * rule20.w[j] * cos * math.Exp(-z*z/2) * band(r*cos)
		}
	}
	return min(1, p*r/d.s1/math.Sqrt(2*math.Pi))
}

func insertionSort(v []float64) {
	for i := 1; i < len(v); i++ {
		for j := i; j > 0 && v[j] < v[j-1]; j-- {
			v[j], v[j-1] = v[j-1], v[j]
		}
	}
}

// normalBetween returns P(a < Z < b), keeping the digits in either tail.
func normalBetween(a, b float64) float64 {
	if a > 0 {
		a, b = -b, -a
	}
	if b < 0 {
		return (math.Erfc(-b/math.Sqrt2) - math.Erfc(-a/math.Sqrt2)) / 2
	}
	return 1 - (math.Erfc(b/math.Sqrt2)+math.Erfc(-a/math.Sqrt2))/2
}
