package practice

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"

	"github.com/landfall-golf/landfall/dispersion"
)

// LimitPhaseI returns the limit of Hotelling's T² for a shot of the n that the
// centre and covariance were computed from: it exceeds it with the chance share.
//
//	(n-1)²/n · B(1-share; 1, (n-3)/2),  B the quantile of the beta law
//
// It assumes independent shots from one bivariate normal distribution.
//
// Errors: *[dispersion.TooFewError] below four shots; [ErrShare].
//
// Reference: N. D. Tracy, J. C. Young, R. L. Mason, "Multivariate Control Charts
// for Individual Observations", Journal of Quality Technology 24(2), 1992, pp.
// 88-95 (from memory).
func LimitPhaseI(n int, share float64) (float64, error) {
	if err := checkLimit(n, share); err != nil {
		return 0, err
	}
	m := float64(n)
	return (m - 1) * (m - 1) / m * -math.Expm1(2/(m-3)*math.Log(share)), nil
}

// LimitPhaseII returns the limit of Hotelling's T² for a later shot against the
// centre and covariance of n earlier ones.
//
//	2(n+1)(n-1)/(n(n-2)) · F(1-share; 2, n-2)
//
// The chance is that of a pattern and a shot drawn together. Once the pattern is
// drawn all its later shots are held against the same one, which may be tight or
// wide: so one over share is not the mean run length, see [LimitRunLength].
//
// Assumptions, errors and reference are those of [LimitPhaseI].
func LimitPhaseII(n int, share float64) (float64, error) {
	if err := checkLimit(n, share); err != nil {
		return 0, err
	}
	m := float64(n)
	f := (m - 2) / 2 * math.Expm1(-2/(m-2)*math.Log(share)) // the quantile of F(2, m-2)
	return 2 * (m + 1) * (m - 1) / (m * (m - 2)) * f, nil
}

func checkLimit(n int, share float64) error {
	if n < 4 {
		return fmt.Errorf("practice: %w", &dispersion.TooFewError{Have: n, Need: 4, For: "a limit of T²"})
	}
	if !(share > 0 && share < 1) {
		return fmt.Errorf("practice: share %g: %w", share, ErrShare)
	}
	return nil
}

// patternShots is the fewest shots that a pattern to be watched may have.
const patternShots = 10

// LimitRunLength returns the limit of Hotelling's T² with which half of all
// practices in which nothing has changed go on for more than the given number of
// balls before the first false signal, the pattern being computed from n shots.
// It is the h with
//
//	E (1 - p(h))ᴿ = ½,  R the run length
//
// where p is the chance that a shot exceeds h given the centre and covariance
// found, and the mean is over what n shots may find. The median is stated and not
// the mean: from few shots some patterns come out so wide that they signal next
// to never, and the mean run length is whatever those make it.
//
// Where the pattern is known the limit is the quantile of χ²(2) at ½^(1/R).
//
// It assumes independent shots from one bivariate normal distribution; heavy
// tails signal more often. docs/methods/practice.md holds simulated run lengths.
//
// Errors: *[dispersion.TooFewError] below ten shots; [ErrRunLength] outside 10
// to 1,000 balls. Deterministic; takes some tenths of a second.
func LimitRunLength(n, balls int) (float64, error) {
	if n < patternShots {
		return 0, fmt.Errorf("practice: %w", &dispersion.TooFewError{Have: n, Need: patternShots, For: "a pattern to be watched"})
	}
	if balls < 10 || balls > 1000 {
		return 0, fmt.Errorf("practice: %d balls: %w", balls, ErrRunLength)
	}
	patterns := patternsOf(n)
	silent := func(h float64) float64 {
		var mean float64
		for _, p := range patterns {
			mean += p.weight * math.Pow(p.within(h/float64(n-1)), float64(balls))
		}
		return mean
	}
	// The limit of a known pattern is too low for a found one, and that for a shot
	// drawn together with its pattern is too high. Between the two, false position
	// (the Illinois rule) in the logarithm of the share of silent practices.
	share := -math.Expm1(-math.Ln2 / float64(balls))
	low := -2 * math.Log(share)
	high, err := LimitPhaseII(n, share)
	if err != nil {
		return 0, err
	}
	off := func(h float64) float64 { return math.Log(2 * silent(h)) }
	atLow, atHigh := off(low), off(high)
	for range 60 {
		h := low - atLow*(high-low)/(atHigh-atLow)
		at := off(h)
		if math.Abs(at) < 1e-10 || high-low < 1e-10*high {
			return h, nil
		}
		if at < 0 {
			low, atLow, atHigh = h, at, atHigh/2
		} else {
			high, atHigh, atLow = h, at, atLow/2
		}
	}
	return (low + high) / 2, nil
}

// A foundPattern is a centre and a scatter that n standard normal shots may be
// found to have, with its weight in the mean. The scatter is LLᵀ with L lower
// triangular (M. S. Bartlett's decomposition); turned so that the centre lies on
// the first axis, which leaves the law of the scatter as it is.
type foundPattern struct {
	off           float64 // of the centre from the true one
	l11, l21, l22 float64
	weight        float64
}

// patternNodes is how many values each of the four random numbers of a pattern
// takes: ten put the run length within one per cent.
const patternNodes = 10

// patternsOf spreads patterns over their law: each random number at the nodes of
// Gauss and Hermite, carried over from the normal law by its quantiles.
func patternsOf(n int) []foundPattern {
	x, w := make([]float64, patternNodes), make([]float64, patternNodes)
	quad.Hermite{}.FixedLocations(x, w, math.Inf(-1), math.Inf(1))
	m := float64(n)
	l11, l22, off := make([]float64, patternNodes), make([]float64, patternNodes), make([]float64, patternNodes)
	for i := range x {
		x[i] *= math.Sqrt2
		w[i] /= math.Sqrt(math.Pi)
		u := distuv.UnitNormal.CDF(x[i])
		l11[i] = math.Sqrt(distuv.ChiSquared{K: m - 1}.Quantile(u))
		l22[i] = math.Sqrt(distuv.ChiSquared{K: m - 2}.Quantile(u))
		off[i] = math.Sqrt(-2 * math.Log(distuv.UnitNormal.Survival(x[i])) / m)
	}
	var all []foundPattern
	for a := range x {
		for b := range x {
			for c := range x {
				for d := range patternNodes / 2 { // l21 and -l21 are mirror images
					all = append(all, foundPattern{off[a], l11[b], x[d], l22[c], 2 * w[a] * w[b] * w[c] * w[d]})
				}
			}
		}
	}
	return all
}

// within returns the chance that a standard normal shot lies where |L⁻¹(z-c)|² is
// at most g. With w = L⁻¹(z-c) and w₁ = √g·sin θ it is the integral over θ of
//
//	φ(c + l₁₁w₁)·l₁₁·√g·cos θ · [Φ(l₂₁w₁ + l₂₂√g·cos θ) - Φ(l₂₁w₁ - l₂₂√g·cos θ)]
//
// by the trapezoidal rule, which for so smooth an integrand that vanishes at both
// ends is as good as any.
func (p foundPattern) within(g float64) float64 {
	r := math.Sqrt(g)
	var sum float64
	for _, s := range halfTurn {
		across := p.off + p.l11*r*s.sin
		up, half := p.l21*r*s.sin, p.l22*r*s.cos
		sum += math.Exp(-across*across/2) * s.cos * (math.Erf((up+half)/math.Sqrt2) - math.Erf((up-half)/math.Sqrt2)) / 2
	}
	return min(1, sum*p.l11*r*math.Pi/float64(len(halfTurn)+1)/math.Sqrt(2*math.Pi))
}

type turn struct{ sin, cos float64 }

// halfTurn holds the angles between -π/2 and π/2, both ends left out.
var halfTurn = func() (all [31]turn) {
	for i := range all {
		all[i].sin, all[i].cos = math.Sincos(math.Pi * (float64(i+1)/float64(len(all)+1) - 0.5))
	}
	return all
}()
