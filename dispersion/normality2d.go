package dispersion

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// HenzeZirkler tests whether the shots come from one bivariate normal
// distribution, by the distance between the characteristic function of the
// standardised shots and that of the normal law. With D the squared Mahalanobis
// distances by the covariance with divisor n, and β = (5n/4)^(1/6)/√2,
//
//	HZ = (1/n) Σᵢⱼ exp(-β²Dᵢⱼ/2) - 2/(1+β²) Σᵢ exp(-β²Dᵢ/(2+2β²)) + n/(1+2β²)
//
// small for normal shots. The p-value comes from a lognormal law with the exact
// mean and variance of the limit. It finds every departure, given enough shots.
// Rounded shots do no harm. It takes n²/2 exponentials: half a second at n = 10,000.
//
// Errors: *[TooFewError] below 20 shots; [ErrDegenerate].
//
// Reference: N. Henze, B. Zirkler, "A Class of Invariant Consistent Tests for
// Multivariate Normality", Communications in Statistics: Theory and Methods
// 19(10), 1990, pp. 3595-3617.
func (g *Group) HenzeZirkler() (NormalityTest, error) {
	z, err := g.whitened("a Henze-Zirkler test")
	if err != nil {
		return NormalityTest{}, err
	}
	n := float64(len(z))
	b := math.Cbrt(math.Sqrt(5*n/4)) / math.Sqrt2
	b2 := b * b
	var pairs, single float64
	for i, p := range z {
		for _, q := range z[:i] {
			dx, dy := p.X-q.X, p.Y-q.Y
			pairs += 2 * math.Exp(-b2/2*(dx*dx+dy*dy))
		}
		single += math.Exp(-b2 / (2 * (1 + b2)) * (p.X*p.X + p.Y*p.Y))
	}
	hz := (pairs+n)/n - 2/(1+b2)*single + n/(1+2*b2)

	// Mean and variance of the limit for two dimensions.
	a := 1 + 2*b2
	w := (1 + b2) * (1 + 3*b2)
	b4, b8 := b2*b2, b2*b2*b2*b2
	mean := 1 - (1+2*b2/a+4*b4/(a*a))/a
	variance := 2/(1+4*b2) + 2/(a*a)*(1+4*b4/(a*a)+6*b8/(a*a*a*a)) - 4/w*(1+3*b4/w+4*b8/(w*w))
	s2 := math.Log1p(variance / (mean * mean))
	p := distuv.UnitNormal.Survival((math.Log(hz) - math.Log(mean) + s2/2) / math.Sqrt(s2))
	return NormalityTest{Method: "Henze-Zirkler", Statistic: hz, P: p, N: len(z)}, nil
}

// A MardiaTest holds the skewness and kurtosis of a group in two dimensions.
type MardiaTest struct {
	Skewness, Kurtosis   float64 // 0 and 8 for the normal law
	PSkewness, PKurtosis float64 // the former with the small-sample factor
	N                    int
}

// Mardia measures the skewness and the kurtosis of the shots in two dimensions,
// with D the Mahalanobis products by the covariance with divisor n,
//
//	skewness = (1/n²) Σᵢⱼ Dᵢⱼ³   kurtosis = (1/n) Σᵢ Dᵢᵢ²
//
// Under the normal law n·k/6 times the skewness is about χ² with 4 degrees of
// freedom, k = 3(n+1)(n+3)/(n(3(n+1)-6)), and (kurtosis-8)/√(64/n) about
// normal. A single wild shot moves both without bound.
//
// Errors: *[TooFewError] below 20 shots; [ErrDegenerate].
//
// References: K. V. Mardia, "Measures of Multivariate Skewness and Kurtosis
// with Applications", Biometrika 57(3), 1970, pp. 519-530; the factor: K. V.
// Mardia, "Applications of Some Measures of Multivariate Skewness and Kurtosis
// in Testing Normality and Robustness Studies", Sankhyā B 36(2), 1974, pp.
// 115-128.
func (g *Group) Mardia() (MardiaTest, error) {
	z, err := g.whitened("Mardia's skewness and kurtosis")
	if err != nil {
		return MardiaTest{}, err
	}
	return mardia(z), nil
}

func mardia(z []Point) MardiaTest {
	n := float64(len(z))
	var m30, m21, m12, m03, fourth float64
	for _, p := range z {
		m30 += p.X * p.X * p.X / n
		m21 += p.X * p.X * p.Y / n
		m12 += p.X * p.Y * p.Y / n
		m03 += p.Y * p.Y * p.Y / n
		d := p.X*p.X + p.Y*p.Y
		fourth += d * d / n
	}
	// The double sum of cubes is the squared length of the third moments.
	r := MardiaTest{Skewness: m30*m30 + 3*m21*m21 + 3*m12*m12 + m03*m03, Kurtosis: fourth, N: len(z)}
	k := 3 * (n + 1) * (n + 3) / (n * (3*(n+1) - 6))
	r.PSkewness = distuv.ChiSquared{K: 4}.Survival(n * k / 6 * r.Skewness)
	r.PKurtosis = 2 * distuv.UnitNormal.Survival(math.Abs(r.Kurtosis-8)/math.Sqrt(64/n))
	return r
}

// whitened returns the shots with mean 0 and with covariance I for divisor n.
func (g *Group) whitened(what string) ([]Point, error) {
	if _, err := g.solidCov(normalityLeast, what); err != nil {
		return nil, err
	}
	return whiten(g.points, g.moments), nil
}

func whiten(points []Point, m Moments) []Point {
	n := float64(m.N)
	sx, sy := math.Sqrt(m.SXX/n), math.Sqrt(m.SYY/n)
	r := m.SXY / n / sx / sy
	rest := math.Sqrt(Cov{XX: 1, XY: r, YY: 1}.Det())
	z := make([]Point, len(points))
	for i, p := range points {
		u, v := (p.X-m.Mean.X)/sx, (p.Y-m.Mean.Y)/sy
		z[i] = Point{X: u, Y: (v - r*u) / rest}
	}
	return z
}
