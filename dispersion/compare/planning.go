package compare

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// maxBalls is the most balls a stage that a plan may ask for.
const maxBalls = 1_000_000

// BallsForCarry returns how many balls a stage, before and after alike, it
// takes for a true gain of the given size to show at the given power: for the
// two-sided interval at the given level to exclude 0. sd is the standard
// deviation of single shots and gain the true difference, in one unit: any
// measured column will do. With n balls a stage and λ = gain/sd·√(n/2),
//
//	power = 1 - T(t; 2n-2, λ) + T(-t; 2n-2, λ)
//
// T being the law of noncentral t and t the quantile of t at (1+level)/2.
//
// It assumes independent normal shots with the same spread on both sides. A
// spread known from few shots makes the plan uncertain in proportion to its
// square.
//
// Errors: [dispersion.ErrLevel]; [ErrPlan]; [ErrOutOfReach].
//
// Reference: J. Cohen, Statistical Power Analysis for the Behavioral Sciences,
// 2nd ed., Erlbaum 1988, chapter 2.
func BallsForCarry(sd, gain, power, level float64) (int, error) {
	d := gain / sd
	if !(sd > 0 && gain > 0) || math.IsInf(d, 0) || math.IsNaN(d) {
		return 0, fmt.Errorf("compare: a gain of %g at a standard deviation of %g: %w", gain, sd, ErrPlan)
	}
	return fewestBalls(2, power, level, func(n float64) float64 { return meanPower(n, d, level) })
}

// BallsForArea returns how many balls a stage, before and after alike, it takes
// for a true ratio of areas, after over before, to show at the given power: for
// the interval of [AreaRatio] at the given level to exclude 1. With n balls a
// stage and quantiles of F(2n-4, 2n-4),
//
//	power = P(F > F₁₋ₐ/ratio) + P(F < Fₐ/ratio),  a = (1-level)/2
//
// It assumes independent normal shots. The square of a ratio of radii is the
// ratio to give. A ratio and its inverse take equally many balls.
//
// Errors: [dispersion.ErrLevel]; [ErrPlan]; [ErrOutOfReach].
func BallsForArea(ratio, power, level float64) (int, error) {
	if !(ratio > 0) || math.IsInf(ratio, 1) || ratio == 1 {
		return 0, fmt.Errorf("compare: an area ratio of %g: %w", ratio, ErrPlan)
	}
	return fewestBalls(3, power, level, func(n float64) float64 { return fPower(2*n-4, ratio, level) })
}

// fewestBalls returns the smallest n from least on with at least the power. The
// power of these plans grows with n.
func fewestBalls(least int, power, level float64, powerAt func(n float64) float64) (int, error) {
	if !(level > 0 && level < 1) {
		return 0, fmt.Errorf("compare: level %g: %w", level, dispersion.ErrLevel)
	}
	if !(power > 1-level && power < 1) {
		return 0, fmt.Errorf("compare: a power of %g at level %g: %w", power, level, ErrPlan)
	}
	high := least
	for powerAt(float64(high)) < power {
		if high == maxBalls {
			return 0, fmt.Errorf("compare: %w", ErrOutOfReach)
		}
		high = min(2*high, maxBalls)
	}
	low := max(least, high/2)
	for low < high {
		middle := low + (high-low)/2
		if powerAt(float64(middle)) >= power {
			high = middle
		} else {
			low = middle + 1
		}
	}
	return low, nil
}

// meanPower returns the power of the two-sided t test of two means of n shots
// each that are d standard deviations apart. n need not be whole.
func meanPower(n, d, level float64) float64 { return studentPower(2*n-2, d*math.Sqrt(n/2), level) }

// studentPower returns the power of a two-sided t test at that noncentrality.
func studentPower(df, shift, level float64) float64 {
	t := studentQuantile((1+level)/2, df)
	// By symmetry P(T > t; λ) = P(T < -t; -λ), which loses no digits.
	return noncentralT(-t, df, -shift) + noncentralT(-t, df, shift)
}

// fPower returns the power of the two-sided F test with df degrees of freedom on
// both sides when the true ratio is as given.
func fPower(df, ratio, level float64) float64 {
	low := fLaw(df, df).Quantile((1 - level) / 2)
	// The upper quantile is 1/low; P(F > 1/(low·ratio)) = P(F < low·ratio).
	return fLaw(df, df).CDF(low*ratio) + fLaw(df, df).CDF(low/ratio)
}
