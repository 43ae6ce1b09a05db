package compare

import (
	"fmt"
	"math"
)

// Judge returns the verdict that an effect allows, against the smallest change
// worth having. For a gain that is in the effect's unit. For a ratio of spreads
// it is the share by which the radius must shrink, so that 0.20 means a radius
// of 0.8 times the old one, and a loss beyond 1/0.8 is its mirror image; an
// area ratio is judged by the radius too, its square root.
//
// C, the confidence that the gain g exceeds δ, is read off the interval, with
// the halves of an uneven interval each taken for its own side:
//
//	C = T((ĝ-δ)/h · t)   h = ĝ-low if δ < ĝ, else high-ĝ
//
// T being the law of t with the effect's DF, or the normal law, and t its
// quantile at (1+level)/2. So C reaches 97.5 % exactly where the 95 % interval
// begins at δ, whatever the level of the effect's own interval. Ratios are read
// on the logarithmic scale, where a smaller spread is a gain.
//
// The verdict takes the numbers as given: one effect, named in advance. The best
// of several, or a stage picked because it looked good, needs a correction first.
// Of a lesson it needs the old swing hit again at the end too: see
// [BookendGain], and [Verdict.WithoutBookend] where there was none.
//
// Errors: [ErrSmallest]; *[dispersion.TooFewError] below 4 shots a side;
// [ErrNoBetter] for a shift that is neither good nor bad; [ErrEffect] for an
// effect that is not sound.
func Judge(e Effect, smallest float64) (Verdict, error) {
	if err := checkJudged(e, smallest, "a verdict"); err != nil {
		return Verdict{}, err
	}
	if e.NoBetter {
		return Verdict{}, fmt.Errorf("compare: verdict on %q: %w", e.Name, ErrNoBetter)
	}
	g := gainOf(e, smallest)
	v := Verdict{Effect: e, Smallest: smallest, Fits: e.Interval}
	if e.Name == NameAreaRatio {
		v.Fits.Low, v.Fits.High = math.Sqrt(v.Fits.Low), math.Sqrt(v.Fits.High)
	}
	beyond, below := g.reach(g.delta), g.reach(-g.delta)
	v.Confidence = studentCDF(beyond, e.DF)
	v.ConfidenceWorse = studentCDF(-below, e.DF)
	sure := studentQuantile(0.975, e.DF)
	switch {
	case -below >= sure:
		v.Kind = Worse
	case beyond >= sure:
		v.Kind = WorthHaving
	case -beyond > sure:
		v.Kind = NoGainWorth
	case v.Confidence >= 0.80:
		v.Kind = Probably
	}
	if v.Kind.open() {
		v.MoreBalls = moreBalls(g, e, smallest)
	}
	return v, nil
}

// checkJudged checks what every judgement of an effect against a threshold needs.
func checkJudged(e Effect, smallest float64, what string) error {
	if !e.sound() {
		return fmt.Errorf("compare: %s on %q: %w", what, e.Name, ErrEffect)
	}
	if !(smallest > 0) || math.IsInf(smallest, 1) || e.ratio() && smallest >= 1 {
		return fmt.Errorf("compare: %g: %w", smallest, ErrSmallest)
	}
	return enough(e.N1, e.N2, 4, what)
}

// JudgeSpread returns the verdict on a spread that both ways of measuring it
// allow: [SpreadRatio], which holds for wild balls, and [AreaRatio], which is
// exact for normal shots. A gain, no gain and a loss each need both; where the
// two verdicts differ the answer may rest on one or two wild balls, and the
// verdict says so. Smallest is the share by which the radius must shrink.
//
// Errors: those of [Judge]; [ErrUnlike] for other effects than a spread ratio
// and an area ratio of the same numbers of shots.
func JudgeSpread(spread, area Effect, smallest float64) (Verdict, error) {
	if spread.Name != NameSpreadRatio || area.Name != NameAreaRatio || spread.N1 != area.N1 || spread.N2 != area.N2 {
		return Verdict{}, fmt.Errorf("compare: %q and %q: %w", spread.Name, area.Name, ErrUnlike)
	}
	bySpread, err := Judge(spread, smallest)
	if err != nil {
		return Verdict{}, err
	}
	byArea, err := Judge(area, smallest)
	if err != nil {
		return Verdict{}, err
	}
	v, err := bySpread.MoreCautious(byArea)
	if err == nil && bySpread.Kind != byArea.Kind {
		v = v.withCaveat(WildBalls)
	}
	return v, err
}

// A gain is an effect turned so that more is better and no change is 0, on the
// scale on which it is judged.
type gain struct {
	estimate, low, high float64
	delta               float64 // the smallest change worth having
	quantile            float64 // of the law at the interval's ends
	shift               float64 // how much of the interval, at either end, is no chance
}

func gainOf(e Effect, smallest float64) gain {
	g := gain{estimate: e.Estimate, low: e.Interval.Low, high: e.Interval.High, delta: smallest, shift: e.Shift}
	g.quantile = studentQuantile((1+e.Interval.Level)/2, e.DF)
	switch {
	case e.ratio():
		scale := 1.0
		if e.Name == NameAreaRatio {
			scale = 0.5
		}
		g.estimate = -scale * math.Log(e.Estimate)
		g.low, g.high = -scale*math.Log(e.Interval.High), -scale*math.Log(e.Interval.Low)
		g.delta = -math.Log1p(-smallest)
	case e.LessIsBetter:
		g.estimate, g.low, g.high = -g.estimate, -g.high, -g.low
	}
	return g
}

// reach returns how far the estimate is above the threshold, in units of the
// law that the interval came from.
func (g gain) reach(threshold float64) float64 {
	distance := g.estimate - threshold
	half := g.estimate - g.low
	if distance < 0 {
		half = g.high - g.estimate
	}
	// What a device may be off by comes off the distance whole, and not as chance.
	half -= g.shift
	distance = math.Copysign(max(0, math.Abs(distance)-g.shift), distance)
	switch {
	case distance == 0:
		return 0
	case half <= 0:
		return math.Inf(int(math.Copysign(1, distance)))
	}
	return distance / half * g.quantile
}

// The power and level at which balls are planned.
const (
	planPower = 0.80
	planLevel = 0.95
)

// moreBalls returns how many more balls of each stage would settle a gain.
func moreBalls(g gain, e Effect, smallest float64) int {
	var need int
	var err error
	if e.Name == NameAreaRatio {
		need, err = BallsForArea((1-smallest)*(1-smallest), planPower, planLevel)
	} else {
		// The spread of a single shot that explains the interval's width.
		sd := ((g.high-g.low)/2 - g.shift) / g.quantile / math.Sqrt(1/float64(e.N1)+1/float64(e.N2))
		need, err = BallsForCarry(sd, g.delta, planPower, planLevel)
	}
	if err != nil {
		return 0 // out of reach: no number of balls to recommend
	}
	return max(0, need-min(e.N1, e.N2))
}
