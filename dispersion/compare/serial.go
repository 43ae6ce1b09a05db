package compare

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// serialLags are the lag-1 correlations that a reader should be told of, since
// ten balls can't show whether they are there.
var serialLags = [...]float64{0.1, 0.2, 0.3}

// A Serial tells how much one ball resembled the one before it.
type Serial struct {
	N int // shots

	// R1 is the correlation of neighbours at lag 1. Of n independent shots it is
	// -1/n on average, not 0.
	R1 float64

	// VonNeumann is the sum of squared steps over the sum of squares about the
	// mean: near 2 for independent shots, less where neighbours are alike.
	VonNeumann float64
}

// SerialCorrelation returns how much neighbouring shots resemble each other,
// within stages, so that a gain between stages doesn't count. With deviations
// d from the mean of their own stage, in the order hit,
//
//	r₁ = Σ dₜdₜ₊₁ / Σ dₜ²,  ratio = Σ (xₜ₊₁-xₜ)² / Σ dₜ²
//
// the sums running within each stage and then over the stages.
//
// It takes three shots a stage; from fewer than thirty in all r₁ says little:
// its standard error is about 1/√n.
//
// Errors: *[dispersion.TooFewError]; *[ValueError]; [dispersion.ErrDegenerate]
// where no stage has any spread. It is deterministic and takes O(n).
//
// Reference: J. von Neumann, "Distribution of the Ratio of the Mean Square
// Successive Difference to the Variance", Annals of Mathematical Statistics
// 12(4), 1941, pp. 367-395.
func SerialCorrelation(stages ...[]float64) (Serial, error) {
	if len(stages) == 0 {
		return Serial{}, fmt.Errorf("compare: serial correlation: %w", &dispersion.TooFewError{Need: 3, For: "a serial correlation"})
	}
	var s Serial
	var neighbours, squares, steps float64
	for j, x := range stages {
		if err := checkStage(j, x); err != nil {
			return Serial{}, err
		}
		if len(x) < 3 {
			return Serial{}, fmt.Errorf("compare: %w", &dispersion.TooFewError{Have: len(x), Need: 3, For: "a serial correlation, in every stage,"})
		}
		s.N += len(x)
		mean := summaryOf(x).mean
		for t, v := range x {
			squares += (v - mean) * (v - mean)
			if t > 0 {
				neighbours += (v - mean) * (x[t-1] - mean)
				steps += (v - x[t-1]) * (v - x[t-1])
			}
		}
	}
	if squares == 0 {
		return Serial{}, fmt.Errorf("compare: serial correlation: %w", dispersion.ErrDegenerate)
	}
	s.R1, s.VonNeumann = neighbours/squares, steps/squares
	if math.IsNaN(s.R1) || math.IsInf(s.VonNeumann, 0) || math.IsNaN(s.VonNeumann) {
		return Serial{}, fmt.Errorf("compare: serial correlation: %w", dispersion.ErrOverflow)
	}
	return s, nil
}

// IfCorrelated returns the interval of a gain as it would have to be if each
// ball resembled the one before it with the correlation r at lag 1, fading as
// rᵏ at lag k. The mean of n such shots varies f times as much as that of
// independent ones, and their own spread looks smaller than it is:
//
//	f = 1 + 2·Σ (1-k/n)·rᵏ, k = 1 … n-1
//	half the interval × √(f·(n-1)/(n-f))
//
// with n the larger of the effect's two numbers of shots. Ten balls can't tell a
// correlation of 0.3 from none, so the answer is for reading beside the interval
// and not in its place.
//
// Errors: [ErrEffect] for an unsound effect or a ratio; [ErrCorrelation] for an r
// outside [0, 0.9].
//
// Reference: G. E. P. Box, G. M. Jenkins, G. C. Reinsel, Time Series Analysis,
// 3rd ed., Prentice Hall 1994, section 2.1 (the variance of a mean).
func IfCorrelated(e Effect, r float64) (dispersion.Interval, error) {
	if !e.sound() || e.ratio() || max(e.N1, e.N2) < 2 {
		return dispersion.Interval{}, fmt.Errorf("compare: %q: %w", e.Name, ErrEffect)
	}
	if !(r >= 0 && r <= 0.9) {
		return dispersion.Interval{}, fmt.Errorf("compare: a correlation of %g: %w", r, ErrCorrelation)
	}
	times := serialTimes(max(e.N1, e.N2), r)
	i := dispersion.Interval{
		Low:  e.Estimate - (e.Estimate-e.Interval.Low)*times,
		High: e.Estimate + (e.Interval.High-e.Estimate)*times, Level: e.Interval.Level,
	}
	if math.IsInf(i.Low, 0) || math.IsInf(i.High, 0) {
		return dispersion.Interval{}, fmt.Errorf("compare: %q: %w", e.Name, dispersion.ErrOverflow)
	}
	return i, nil
}

// serialTimes is how many times as wide the interval of a mean of n must be.
func serialTimes(n int, r float64) float64 {
	f, power := 1.0, 1.0
	for k := 1; k < n && power > 1e-18; k++ {
		power *= r
		f += 2 * (1 - float64(k)/float64(n)) * power
	}
	return math.Sqrt(f * float64(n-1) / (float64(n) - f))
}
