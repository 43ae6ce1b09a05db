package compare

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"gonum.org/v1/gonum/stat/combin"
)

// WilsonInterval returns the interval for a rate of which k in n were seen,
//
//	[k + z²/2 ± z·√(k(n-k)/n + z²/4)] / (n + z²)
//
// with z the normal quantile at (1+level)/2. It never leaves [0, 1], and no
// mishit in ten balls does not make it a point: it then reaches to 0.28.
//
// It assumes that each ball is mishit with the same chance, whatever the others
// were. Coverage swings around the level from n to n, close to it on average.
//
// Errors: *[CountError]; [dispersion.ErrLevel]. One ball is enough.
//
// Reference: E. B. Wilson, "Probable Inference, the Law of Succession, and
// Statistical Inference", Journal of the American Statistical Association
// 22(158), 1927, pp. 209-212.
func WilsonInterval(k, n int, level float64) (dispersion.Interval, error) {
	if err := checkCount("", k, n); err != nil {
		return dispersion.Interval{}, err
	}
	if !(level > 0 && level < 1) {
		return dispersion.Interval{}, fmt.Errorf("compare: level %g: %w", level, dispersion.ErrLevel)
	}
	low, high := wilson(k, n, level)
	if math.IsNaN(low) || math.IsNaN(high) {
		return dispersion.Interval{}, fmt.Errorf("compare: a rate at level %g: %w", level, dispersion.ErrOverflow)
	}
	return dispersion.Interval{Low: low, High: high, Level: level}, nil
}

// mostCounted is of how many balls a rate may be. Every table with their margins
// is gone through for Fisher's p.
const mostCounted = 10_000_000

func checkCount(side string, k, n int) error {
	if n < 1 || n > mostCounted || k < 0 || k > n {
		return fmt.Errorf("compare: %w", &CountError{Side: side, Mishits: k, Of: n})
	}
	return nil
}

func wilson(k, n int, level float64) (low, high float64) {
	z := normalQuantile((1 + level) / 2)
	hits, all := float64(k), float64(n)
	middle := hits + z*z/2
	half := z * math.Sqrt(hits*((all-hits)/all)+z*z/4)
	low, high = (middle-half)/(all+z*z), (middle+half)/(all+z*z)
	rate := hits / all
	// Rounding must not push an end past the rate itself, or out of [0, 1].
	return max(0, min(low, rate)), min(1, max(high, rate))
}

// MishitRateChange returns the mishit rate after minus the rate before, k2 of
// n2 balls against k1 of n1, with Newcombe's hybrid of the two Wilson intervals
// [l, u] of the rates p:
//
//	p₂-p₁ - √((p₂-l₂)² + (u₁-p₁)²)  to  p₂-p₁ + √((u₂-p₂)² + (p₁-l₁)²)
//
// P is Fisher's exact two-sided p: the chance, given the number of mishits in
// all, of a table no more likely than this one. It stems from another argument
// than the interval, and is cautious: it can exceed 0.05 beside a 95 % interval
// that excludes 0. Less is better here.
//
// It assumes that each ball of a side is mishit with the same chance, whatever
// the others were. It takes one ball a side.
//
// Errors: *[CountError]; [dispersion.ErrLevel], [ErrResamples]. Warnings:
// *[FewShotsWarning] where a stage without a mishit would still leave room for a
// rate of one in three.
//
// It is deterministic and takes O(n).
//
// References: R. G. Newcombe, "Interval Estimation for the Difference between
// Independent Proportions: Comparison of Eleven Methods", Statistics in
// Medicine 17(8), 1998, pp. 873-890, method 10. R. A. Fisher, "The Logic of
// Inductive Inference", Journal of the Royal Statistical Society 98(1), 1935,
// pp. 39-82.
func MishitRateChange(k1, n1, k2, n2 int, o Options) (Effect, error) {
	o, err := o.resolved()
	if err != nil {
		return Effect{}, err
	}
	if err := checkCount("before", k1, n1); err != nil {
		return Effect{}, err
	}
	if err := checkCount("after", k2, n2); err != nil {
		return Effect{}, err
	}
	p1, p2 := float64(k1)/float64(n1), float64(k2)/float64(n2)
	low, high := newcombe(k1, n1, k2, n2, o.Level)
	p, floor := fisher(k1, n1, k2, n2)
	e := Effect{
		Name: NameMishitRateChange, Method: "difference of rates; Newcombe's hybrid score interval; Fisher's exact p",
		Before: p1, After: p2, N1: n1, N2: n2,
		Estimate: p2 - p1, LessIsBetter: true,
		Interval: dispersion.Interval{Low: low, High: high, Level: o.Level},
		P:        p, PFloor: floor, HasP: true, Seed: o.Seed,
	}
	if fewest := min(n1, n2); !cleanSaysLittle(fewest, o.Level) {
		return e.checked()
	}
	need := min(n1, n2)
	for need < 1000 && cleanSaysLittle(need, o.Level) {
		need++
	}
	e.Warnings = append(e.Warnings, &FewShotsWarning{
		Before: n1, After: n2, Need: need, For: "a stage without a mishit to show a rate below one in three",
	})
	return e.checked()
}

// cleanSaysLittle tells whether n balls without a mishit still leave room for a
// rate of one in three.
func cleanSaysLittle(n int, level float64) bool {
	_, high := wilson(0, n, level)
	return high >= 1.0/3
}

func newcombe(k1, n1, k2, n2 int, level float64) (low, high float64) {
	p1, p2 := float64(k1)/float64(n1), float64(k2)/float64(n2)
	l1, u1 := wilson(k1, n1, level)
	l2, u2 := wilson(k2, n2, level)
	d := p2 - p1
	return d - math.Hypot(p2-l2, u1-p1), d + math.Hypot(u2-p2, p1-l1)
}

// fisher returns the exact two-sided p of a table and the smallest one that
// its margins allow.
func fisher(k1, n1, k2, n2 int) (p, floor float64) {
	k := k1 + k2
	from, to := max(0, k-n2), min(k, n1)
	logs := make([]float64, to-from+1)
	most, least := math.Inf(-1), math.Inf(1)
	for i := range logs {
		a := from + i
		logs[i] = combin.LogGeneralizedBinomial(float64(n1), float64(a)) + combin.LogGeneralizedBinomial(float64(n2), float64(k-a))
		most, least = max(most, logs[i]), min(least, logs[i])
	}
	// upTo sums the chances of the tables no more likely than the given one.
	// Equally likely tables differ by rounding, hence the allowance.
	upTo := func(log float64) float64 {
		var sum float64
		for _, l := range logs {
			if l <= log+1e-7 {
				sum += math.Exp(l - most)
			}
		}
		return sum
	}
	all := upTo(most)
	return upTo(logs[k1-from]) / all, upTo(least) / all
}
