package compare

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"gonum.org/v1/gonum/stat/distuv"
)

// A Plan is how many balls a stage it takes, and how unsure that is: the spread
// it rests on is itself known from few balls.
type Plan struct {
	Balls     int                 // at the spread seen
	Low, High int                 // at the ends of the interval of the spread
	SD        float64             // standard deviation of single balls, as seen
	SDBounds  dispersion.Interval // of SD
	Gain      float64             // to be shown
	Power     float64             // the chance of showing Gain, as asked for
	Level     float64
}

// PlanCarry returns how many balls a stage, before and after alike, it takes for
// a true gain to show, from the pupil's own balls: [BallsForCarry] at the pooled
// standard deviation within the given stages, and at the ends of its interval
//
//	s·√(ν/χ²₁₋ₐ(ν))  to  s·√(ν/χ²ₐ(ν)),  ν = N - number of stages, a = (1-level)/2
//
// It assumes normal shots of one spread. From ten balls the numbers range over a
// factor of seven: the plan is an order of magnitude, and better after each
// lesson. Any measured column will do.
//
// Errors: *[dispersion.TooFewError] below two balls more than stages;
// *[ValueError]; [dispersion.ErrDegenerate] without any spread; those of
// [BallsForCarry].
func PlanCarry(stages [][]float64, gain, power, level float64) (Plan, error) {
	sd, df, err := pooledSD(stages)
	if err != nil {
		return Plan{}, err
	}
	p := Plan{SD: sd, Gain: gain, Power: power, Level: level}
	if p.Balls, err = BallsForCarry(sd, gain, power, level); err != nil {
		return Plan{}, err
	}
	law := distuv.ChiSquared{K: df}
	tail := (1 - level) / 2
	p.SDBounds = dispersion.Interval{Low: sd * math.Sqrt(df/law.Quantile(1-tail)), High: sd * math.Sqrt(df/law.Quantile(tail)), Level: level}
	if p.Low, err = BallsForCarry(p.SDBounds.Low, gain, power, level); err != nil {
		return Plan{}, err
	}
	if p.High, err = BallsForCarry(p.SDBounds.High, gain, power, level); err != nil {
		return Plan{}, err
	}
	return p, nil
}

// pooledSD returns the standard deviation within stages and its degrees of
// freedom.
func pooledSD(stages [][]float64) (sd, df float64, err error) {
	n, scale := 0, 0.0
	for j, x := range stages {
		if err := checkStage(j, x); err != nil {
			return 0, 0, err
		}
		if len(x) > 0 {
			n += len(x) - 1
		}
		for _, v := range x {
			scale = max(scale, math.Abs(v-x[0]))
		}
	}
	if n < 2 {
		return 0, 0, fmt.Errorf("compare: %w", &dispersion.TooFewError{Have: n + 1, Need: 3, For: "a plan from the pupil's own spread, in one stage,"})
	}
	if scale == 0 {
		return 0, 0, fmt.Errorf("compare: a plan without any spread: %w", dispersion.ErrDegenerate)
	}
	var ss float64
	for _, x := range stages {
		if len(x) > 0 {
			scaled := make([]float64, len(x))
			for i, v := range x {
				scaled[i] = (v - x[0]) / scale
			}
			ss += summaryOf(scaled).ss
		}
	}
	return math.Sqrt(ss/float64(n)) * scale, float64(n), nil
}

// SmallestCarryShown turns [BallsForCarry] round: with n balls a stage and single
// shots of that standard deviation, it returns the smallest true gain that shows
// at the given power. To be said before a ball is hit.
//
// Errors: *[dispersion.TooFewError] below 2 balls; [dispersion.ErrLevel];
// [ErrPlan].
func SmallestCarryShown(sd float64, n int, power, level float64) (float64, error) {
	if !(sd > 0) || math.IsInf(sd, 1) {
		return 0, fmt.Errorf("compare: a standard deviation of %g: %w", sd, ErrPlan)
	}
	d, err := smallestShown(2, n, power, level, func(d float64) float64 { return meanPower(float64(n), d, level) })
	if err == nil && math.IsInf(d*sd, 1) {
		err = fmt.Errorf("compare: a standard deviation of %g: %w", sd, ErrPlan)
	}
	return d * sd, err
}

// SmallestSpreadShown does the same for [BallsForSpread]: it returns the ratio of
// radii, below 1, closest to 1 that shows with n balls a stage.
//
// Errors: *[dispersion.TooFewError] below 4 balls; [dispersion.ErrLevel];
// [ErrPlan].
func SmallestSpreadShown(n int, power, level float64) (float64, error) {
	l, err := smallestShown(leastSpreadBalls, n, power, level, func(l float64) float64 { return spreadPower(float64(n), l, level) })
	return math.Exp(-l), err
}

// smallestShown returns the size at which the power, which grows with it, is
// reached.
func smallestShown(least, n int, power, level float64, powerAt func(size float64) float64) (float64, error) {
	if n < least {
		return 0, fmt.Errorf("compare: %w", &dispersion.TooFewError{Have: n, Need: least, For: "a plan, in every stage,"})
	}
	if n > maxBalls {
		return 0, fmt.Errorf("compare: %d balls: %w", n, ErrOutOfReach)
	}
	if !(level > 0 && level < 1) {
		return 0, fmt.Errorf("compare: level %g: %w", level, dispersion.ErrLevel)
	}
	if !(power > 1-level && power < 1) {
		return 0, fmt.Errorf("compare: a power of %g at level %g: %w", power, level, ErrPlan)
	}
	low, high := 0.0, 1.0
	for powerAt(high) < power {
		if high > 1e6 {
			return 0, fmt.Errorf("compare: a power of %g with %d balls: %w", power, n, ErrPlan)
		}
		low, high = high, 2*high
	}
	for range 60 {
		middle := (low + high) / 2
		if powerAt(middle) >= power {
			high = middle
		} else {
			low = middle
		}
	}
	return high, nil
}

// BallsForSpread returns how many balls a stage it takes for a true ratio of
// radii, after over before, to show at the given power: for the interval of
// [SpreadRatio] to exclude 1, which [JudgeSpread] asks for beside that of
// [AreaRatio]. The log of the ratio of two mean distances is taken for normal,
// with the coefficient of variation that distances of normal shots have, and two
// balls a stage as spent on finding the middle:
//
//	power = P(|T| > t(2n-2)),  T noncentral t(2n-2; |ln ratio|/0.5227·√((n-2)/2))
//
// It assumes independent normal shots; heavier tails take more. Simulated with
// 6,000 pairs at the ratios that show in 80 of 100 lessons, 0.17 at 4 balls to 0.80
// at 90, the power is within two points of this. A ratio and its inverse take equally many.
//
// Errors: [dispersion.ErrLevel]; [ErrPlan]; [ErrOutOfReach].
func BallsForSpread(ratio, power, level float64) (int, error) {
	if !(ratio > 0) || math.IsInf(ratio, 1) || ratio == 1 {
		return 0, fmt.Errorf("compare: a ratio of radii of %g: %w", ratio, ErrPlan)
	}
	l := math.Abs(math.Log(ratio))
	return fewestBalls(leastSpreadBalls, power, level, func(n float64) float64 { return spreadPower(n, l, level) })
}

// leastSpreadBalls leaves two balls a stage when two are spent on the middle.
const leastSpreadBalls = 4

func spreadPower(n, logRatio, level float64) float64 {
	return studentPower(2*n-2, logRatio/rayleighVariation*math.Sqrt((n-2)/2), level)
}

// maxRateBalls is the most balls that a plan for rates may ask for.
const maxRateBalls = 1000

// BallsForMishits returns how many balls a stage it takes for mishit rates of p1
// before and p2 after to show at the given power: for the interval of
// [MishitRateChange] to exclude 0. The power is exact, a sum over all pairs of
// counts; it rises in a saw's teeth, and the number is the first from which the
// next four hold it too.
//
// From one ball in five to one in ten takes some 200 balls a stage: a lesson
// can't show that, a season can.
//
// Errors: [dispersion.ErrLevel]; [ErrPlan] for rates outside [0, 1], or equal;
// [ErrOutOfReach] above 1,000 balls. Takes a second where it takes hundreds.
func BallsForMishits(p1, p2, power, level float64) (int, error) {
	if !(p1 >= 0 && p1 <= 1 && p2 >= 0 && p2 <= 1) || p1 == p2 {
		return 0, fmt.Errorf("compare: mishit rates of %g and %g: %w", p1, p2, ErrPlan)
	}
	if !(level > 0 && level < 1) {
		return 0, fmt.Errorf("compare: level %g: %w", level, dispersion.ErrLevel)
	}
	if !(power > 1-level && power < 1) {
		return 0, fmt.Errorf("compare: a power of %g at level %g: %w", power, level, ErrPlan)
	}
	// By the arcsine of the rates, some way below what it will take.
	h := 2 * math.Abs(math.Asin(math.Sqrt(p1))-math.Asin(math.Sqrt(p2)))
	z := normalQuantile((1+level)/2) + normalQuantile(power)
	guess := 2 * z * z / (h * h)
	if guess > 2*maxRateBalls {
		return 0, fmt.Errorf("compare: %w", ErrOutOfReach)
	}
	const teeth = 5
	held := 0
	for n := max(1, int(0.6*guess)); n <= maxRateBalls+teeth; n++ {
		if ratePower(n, p1, p2, level) < power {
			held = 0
			continue
		}
		if held++; held == teeth {
			return n - teeth + 1, nil
		}
	}
	return 0, fmt.Errorf("compare: %w", ErrOutOfReach)
}

// ratePower is the chance that Newcombe's interval excludes 0.
func ratePower(n int, p1, p2, level float64) float64 {
	low, high := make([]float64, n+1), make([]float64, n+1)
	chance1, chance2 := make([]float64, n+1), make([]float64, n+1)
	for k := range n + 1 {
		low[k], high[k] = wilson(k, n, level)
		chance1[k], chance2[k] = binomial(k, n, p1), binomial(k, n, p2)
	}
	var power float64
	for k1 := range n + 1 {
		if chance1[k1] < 1e-12 {
			continue
		}
		r1 := float64(k1) / float64(n)
		for k2 := range n + 1 {
			if chance2[k2] < 1e-12 {
				continue
			}
			r2 := float64(k2) / float64(n)
			d := r2 - r1
			excludes := d > 0 && d > math.Hypot(r2-low[k2], high[k1]-r1) || d < 0 && -d > math.Hypot(high[k2]-r2, r1-low[k1])
			if excludes {
				power += chance1[k1] * chance2[k2]
			}
		}
	}
	return power
}

// binomial is the chance of k in n at rate p.
func binomial(k, n int, p float64) float64 {
	switch {
	case p == 0 && k == 0, p == 1 && k == n:
		return 1
	case p == 0 || p == 1:
		return 0
	}
	return distuv.Binomial{N: float64(n), P: p}.Prob(float64(k))
}
