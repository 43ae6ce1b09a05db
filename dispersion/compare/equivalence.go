package compare

import "fmt"

// A MarginTest tells whether an effect is surely small, or surely no worse,
// against a margin named beforehand.
type MarginTest struct {
	Margin float64 // as given
	P      float64 // of an effect that looks at least so good although it is as bad as the margin
	Holds  bool    // P is at most (1-level)/2 of the effect's interval: 0.025 for a 95 % interval
	Effect Effect
}

// Equivalent tells whether the effect is smaller than the margin either way. The
// margin of a gain is in its unit; that of a ratio of spreads is the share by
// which the radius may shrink, such as 0.20 for 0.8 times, and then it may grow
// by the inverse, 1.25 times. With the scale and the law T of [Judge],
//
//	P = max{T((ĝ-margin)/h·t), T(-(ĝ+margin)/h·t)}
//
// the larger of two one-sided p. It holds exactly where the whole interval lies
// within the margins. That is more than an interval that contains 0: it says
// that a change, if there is one, is too small to matter. A shift to one side
// may be judged this way too.
//
// Errors: [ErrEffect]; [ErrSmallest] for a margin that is not above 0, or not
// below 1 for a ratio; *[dispersion.TooFewError] below 4 shots a side.
//
// Reference: D. J. Schuirmann, "A Comparison of the Two One-Sided Tests Procedure
// and the Power Approach for Assessing the Equivalence of Average
// Bioavailability", Journal of Pharmacokinetics and Biopharmaceutics 15(6), 1987,
// pp. 657-680.
func Equivalent(e Effect, margin float64) (MarginTest, error) {
	if err := checkJudged(e, margin, "a margin test"); err != nil {
		return MarginTest{}, err
	}
	g := gainOf(e, margin)
	p := max(studentCDF(g.reach(g.delta), e.DF), studentCDF(-g.reach(-g.delta), e.DF))
	return marginTest(e, margin, p), nil
}

// NotWorse tells whether the effect is surely no loss as large as the margin: a
// gain above -margin, or a radius below 1/(1-margin) times the old one. P is the
// one-sided p of a loss of the whole margin,
//
//	P = T(-(ĝ+margin)/h·t)
//
// so it holds exactly where the interval's worse end lies on the good side of
// that. The margin is as in [Equivalent].
//
// Errors: those of [Equivalent]; [ErrNoBetter] for a shift that is neither good
// nor bad.
func NotWorse(e Effect, margin float64) (MarginTest, error) {
	if err := checkJudged(e, margin, "a margin test"); err != nil {
		return MarginTest{}, err
	}
	if e.NoBetter {
		return MarginTest{}, fmt.Errorf("compare: a margin test on %q: %w", e.Name, ErrNoBetter)
	}
	g := gainOf(e, margin)
	return marginTest(e, margin, studentCDF(-g.reach(-g.delta), e.DF)), nil
}

// marginTest decides by the interval's own tail. The allowance is for an end
// that lies on the margin itself.
func marginTest(e Effect, margin, p float64) MarginTest {
	return MarginTest{Margin: margin, P: p, Holds: p <= (1-e.Interval.Level)/2*(1+tie), Effect: e}
}
