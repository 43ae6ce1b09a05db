package practice

import (
	"math"
	"slices"

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

// dayWeights is what a comparison needs to know of the days that balls were hit
// on. The baseline may be of several; those of immediate and of retention are of
// one day each, and that of retention is none of the others.
type dayWeights struct {
	variance float64 // of a day's true mean
	squares  float64 // Σ w², w being the share of the baseline's balls that a day has
	shared   float64 // w of the day of immediate, 0 where that is none of the baseline's
}

func weightsOf(baseline, immediate found, sd float64) dayWeights {
	w := dayWeights{variance: sd * sd}
	for i, n := range baseline.counts {
		share := float64(n) / float64(len(baseline.values))
		w.squares += share * share
		if slices.Contains(immediate.sessions, baseline.sessions[i]) {
			w.shared = share
		}
	}
	return w
}

// The variances that days put into immediate minus baseline, retention minus
// baseline and retention minus immediate.
func (w dayWeights) first() float64 { return w.variance * max(0, 1-2*w.shared+w.squares) }
func (w dayWeights) kept() float64  { return w.variance * (1 + w.squares) }
func (w dayWeights) since() float64 { return w.variance * 2 }

// keptShare returns (R-B)/(I-B) with Fieller's interval, and false where the
// first gain I-B is not sure enough for one. With θ the share, v = s²/n of
// baseline, immediate and retention, σ² the variance of days and w, Σw² their
// weights in the baseline,
//
//	[(R-B) - θ(I-B)]² <= t²·[vR + (1-θ)²·vB + θ²·vI + σ²·(1 + θ² + (1-θ)²·Σw² + 2θ(1-θ)·w)]
//
// which is 2σ² where baseline and immediate are of one day. t has the
// Welch-Satterthwaite degrees of freedom at the estimate of θ, or those of the
// first gain if these are fewer. The set of θ is an interval where the first
// gain's own interval with that t excludes 0.
//
// References: E. C. Fieller, "Some Problems in Interval Estimation", Journal of
// the Royal Statistical Society B 16(2), 1954, pp. 175-185; for unequal spreads
// M. Hasler, R. Vonk, L. A. Hothorn, "Assessing Non-Inferiority of a New Treatment
// in a Three-Arm Trial in the Presence of Heteroscedasticity", Statistics in
// Medicine 27(4), 2008, pp. 490-503 (from memory).
func keptShare(b, i, r summary, w dayWeights, level float64) (share float64, interval dispersion.Interval, ok bool) {
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
	A := first*first - t2*(vB+vI+w.first())
	B := first*later - t2*(vB+w.variance*(w.squares-w.shared))
	C := later*later - t2*(vR+vB+w.kept())
	if !(A > 0) {
		return 0, dispersion.Interval{}, false
	}
	half := math.Sqrt(max(0, B*B-A*C)) // the share itself is in the set, so that less is rounding
	return share, dispersion.Interval{Low: (B - half) / A, High: (B + half) / A, Level: level}, true
}

func square(x float64) float64 { return x * x }
