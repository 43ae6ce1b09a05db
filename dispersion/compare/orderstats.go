package compare

import (
	"context"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// bestOfNormal returns the expected mean of the best k of n independent standard
// normal values, to about 1e-12: the mean of the expected order statistics
//
//	E X₍ᵣ₎ = n!/((r-1)!(n-r)!) ∫ x φ(x) Φ(x)ʳ⁻¹ (1-Φ(x))ⁿ⁻ʳ dx,  r = n-k+1 … n
//
// The integrand is smooth and falls off like a normal density, where the plain
// trapezoidal rule converges exponentially.
func bestOfNormal(k, n int) float64 {
	const reach, step = 10, 1.0 / 32
	logFactorial := func(n int) float64 { l, _ := math.Lgamma(float64(n) + 1); return l }
	var sum float64
	for i := -reach * 32; i <= reach*32; i++ {
		x := float64(i) * step
		below, above := math.Log(distuv.UnitNormal.CDF(x)), math.Log(distuv.UnitNormal.CDF(-x))
		logDensity := -x*x/2 - math.Log(2*math.Pi)/2
		for r := n - k + 1; r <= n; r++ {
			l := logFactorial(n) - logFactorial(r-1) - logFactorial(n-r)
			sum += x * step * math.Exp(l+logDensity+float64(r-1)*below+float64(n-r)*above)
		}
	}
	return sum / float64(k)
}

// bestRunOfNormal returns the expected largest of the means of the first k, k+1,
// … n of independent standard normal values, to about 1e-9.
//
// The mean of the first j, taken backwards from n to k, is a random walk W at the
// times 1/j: its covariances are min(1/i, 1/j). So the wanted number is the
// expectation of M = max over the walk of W - W(1/n), and from the end of the
// walk back
//
//	M ← max(0, D + M),  D ~ N(0, 1/j - 1/(j+1))
//
// whose distribution function is carried along on Gauss-Legendre nodes (D. V.
// Lindley, "The Theory of Queues with a Single Server", Mathematical Proceedings
// of the Cambridge Philosophical Society 48(2), 1952, pp. 277-289).
func bestRunOfNormal(ctx context.Context, k, n int) (float64, error) {
	if k == n {
		return 0, nil
	}
	finest := math.Sqrt(1/float64(n-1) - 1/float64(n)) // of the steps of the walk
	top := 8.5 * math.Sqrt(1/float64(k)-1/float64(n))
	nodes, weights := panels(top, int(math.Ceil(top/finest)))
	below := make([]float64, len(nodes)) // P(M ≤ node); at the end of the walk M is 0
	for i := range below {
		below[i] = 1
	}
	next := make([]float64, len(nodes))
	for j := k; j < n; j++ {
		sd := math.Sqrt(1/float64(j) - 1/float64(j+1))
		from := 0
		for i, x := range nodes {
			if i%64 == 0 && ctx.Err() != nil {
				return 0, ctx.Err()
			}
			for nodes[from] < x-8.5*sd {
				from++
			}
			p := distuv.UnitNormal.CDF((x - top) / sd) // M beyond the top is as good as impossible
			for l := from; l < len(nodes) && nodes[l] <= x+8.5*sd; l++ {
				d := (x - nodes[l]) / sd
				p += weights[l] * below[l] * math.Exp(-d*d/2) / (sd * math.Sqrt(2*math.Pi))
			}
			next[i] = min(1, p)
		}
		below, next = next, below
	}
	var mean float64
	for i, p := range below {
		mean += weights[i] * (1 - p)
	}
	return mean, nil
}

// The Gauss-Legendre rule of eight points on [-1, 1] (M. Abramowitz, I. A.
// Stegun, Handbook of Mathematical Functions, 1964, table 25.4).
var legendre8 = [4][2]float64{
	{0.183434642495650, 0.362683783378362},
	{0.525532409916329, 0.313706645877887},
	{0.796666477413627, 0.222381034453374},
	{0.960289856497536, 0.101228536290376},
}

// panels returns nodes, upwards, and weights of the rule on count equal parts of
// [0, top].
func panels(top float64, count int) (nodes, weights []float64) {
	half := top / float64(count) / 2
	for p := range count {
		middle := half * float64(2*p+1)
		for i := 3; i >= 0; i-- {
			nodes = append(nodes, middle-half*legendre8[i][0])
			weights = append(weights, half*legendre8[i][1])
		}
		for i := range 4 {
			nodes = append(nodes, middle+half*legendre8[i][0])
			weights = append(weights, half*legendre8[i][1])
		}
	}
	return nodes, weights
}
