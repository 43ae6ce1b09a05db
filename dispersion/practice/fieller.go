package practice

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"github.com/landfall-golf/landfall/dispersion"
)

// A summary is what the kept share needs to know of some balls.
type summary struct {
	n, mean, variance float64
}

func summarise(values []float64) summary {
	s := summary{n: float64(len(values)), mean: meanOf(values)}
	for _, v := range values {
		s.variance += (v - s.mean) * (v - s.mean)
	}
	if s.n > 1 {
		s.variance /= s.n - 1
	}
	return s
}

// keptShare returns (R-B)/(I-B) with Fieller's interval, and false where the
// first gain I-B is not sure enough for one. With θ the share and v = s²/n of
// baseline, immediate and retention,
//
//	[(R-B) - θ(I-B)]² <= t²·[vR + (1-θ)²·vB + θ²·vI + 2·day²]
//
// t has the Welch-Satterthwaite degrees of freedom at the estimate of θ, or those
// of the first gain if these are fewer. The set of θ is an interval where the
// first gain's own interval with that t excludes 0.
//
// References: E. C. Fieller, "Some Problems in Interval Estimation", Journal of
// the Royal Statistical Society B 16(2), 1954, pp. 175-185; for unequal spreads
// M. Hasler, R. Vonk, L. A. Hothorn, "Assessing Non-Inferiority of a New Treatment
// in a Three-Arm Trial in the Presence of Heteroscedasticity", Statistics in
// Medicine 27(4), 2008, pp. 490-503 (from memory).
func keptShare(b, i, r summary, day, level float64) (share float64, interval dispersion.Interval, ok bool) {
	first, later := i.mean-b.mean, r.mean-b.mean
	vB, vI, vR := b.variance/b.n, i.variance/i.n, r.variance/r.n
	share = later / first
	df := func(wR, wB, wI float64) float64 {
		sum := wR*vR + wB*vB + wI*vI
		return sum * sum / (square(wR*vR)/(r.n-1) + square(wB*vB)/(b.n-1) + square(wI*vI)/(i.n-1))
	}
	nu := min(df(1, square(1-share), square(share)), df(0, 1, 1))
	if !(nu > 0) {
		return 0, dispersion.Interval{}, false
	}
	t2 := square(distuv.StudentsT{Sigma: 1, Nu: nu}.Quantile((1 + level) / 2))
	// A θ² - 2Bθ + C <= 0
	A := first*first - t2*(vB+vI)
	B := first*later - t2*vB
	C := later*later - t2*(vR+vB+2*day*day)
	root := B*B - A*C
	if !(A > 0) || !(root >= 0) {
		return 0, dispersion.Interval{}, false
	}
	half := math.Sqrt(root)
	return share, dispersion.Interval{Low: (B - half) / A, High: (B + half) / A, Level: level}, true
}

func square(x float64) float64 { return x * x }
