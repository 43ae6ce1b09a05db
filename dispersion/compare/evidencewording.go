package compare

import (
	"fmt"
	"math"
	"strings"
)

// What readers are told about the answers that come without a verdict: a sentence
// for the pupil and a line for the statistician of each.

// Sentence says what these balls fit, without a verdict.
func (e Effect) Sentence() string { return upperFirst(e.fits()) + "." }

// Line returns the effect for the statistician, without a verdict.
func (e Effect) Line() string { return e.line(threeDigits) + " (" + e.Method + ")." }

// fits words the interval to the digits that its own width allows.
func (e Effect) fits() string {
	return "these balls fit anything " + e.rangeText()
}

func (e Effect) rangeText() string {
	v := Verdict{Effect: e, Fits: e.Interval, Smallest: max((e.Interval.High-e.Interval.Low)/2, math.SmallestNonzeroFloat64)}
	if e.Name == NameAreaRatio {
		v.Fits.Low, v.Fits.High = math.Sqrt(v.Fits.Low), math.Sqrt(v.Fits.High)
	}
	s := v.rangeText()
	if e.Name == NameMishitRateChange {
		s += " mishits in 100"
	}
	return s
}

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// Sentence says how far the new swing is from the old one, and how far the old
// one moved meanwhile.
func (b Bookended) Sentence() string {
	drift := b.Drift
	drift.Name = b.Gain.Name // for its words: longer and shorter
	return fmt.Sprintf("Against the old swing at both ends %s; the old swing itself, from start to end, moved anything %s.",
		b.Gain.fits(), drift.rangeText())
}

// Line returns gain and drift for the statistician.
func (b Bookended) Line() string { return b.Gain.Line() + " " + b.Drift.Line() }

// SerialSentence says what the interval of a gain would be if neighbouring balls
// resembled each other, which no lesson is long enough to show.
//
// Errors: those of [IfCorrelated].
func SerialSentence(e Effect) (string, error) {
	var parts []string
	for _, r := range serialLags {
		i, err := IfCorrelated(e, r)
		if err != nil {
			return "", err
		}
		wider := e
		wider.Interval = i
		parts = append(parts, wider.rangeText())
	}
	return fmt.Sprintf("If each ball resembled the one before it a little (a correlation of %.1f, %.1f or %.1f), these balls would fit anything %s, %s or %s.",
		serialLags[0], serialLags[1], serialLags[2], parts[0], parts[1], parts[2]), nil
}

// Sentence says whether the column changed.
func (m Move) Sentence() string {
	name := m.Effect.Name
	switch m.Kind {
	case Moved:
		return fmt.Sprintf("%s changed: %s.", name, m.Effect.fits())
	case Stayed:
		return fmt.Sprintf("%s stayed where it was, give or take half of what it varies from ball to ball: %s.", name, m.Effect.fits())
	}
	return fmt.Sprintf("Whether %s changed these balls can't tell: they fit anything %s.", name, m.Effect.rangeText())
}

// Line returns the change of the column for the statistician.
func (m Move) Line() string {
	return fmt.Sprintf("%s pooled SD of single balls %.3g.", m.Effect.Line(), m.Spread)
}

// Sentence says which story fits better, a drift or the stages.
func (d DriftCheck) Sentence() string {
	if d.LineDoesAsWell() {
		return "One steady drift through the whole lesson explains these balls as well as the stages do, so a gain from stage to stage may be warming up, practice or tiredness."
	}
	return "The stages explain these balls better than one steady drift through the whole lesson would."
}

// Line returns the comparison for the statistician.
func (d DriftCheck) Line() string {
	return fmt.Sprintf("adjusted R² of a line %.3f, of %d stages %.3f, n = %d; stages beyond the line %s, line beyond the stages %s; %s",
		d.LineShare, d.Stages, d.StageShare, d.N, pText(d.BeyondLine), pText(d.BeyondStages), d.Within.Line())
}

// Sentence says which belief the shots support, if any.
func (s SpeedCheck) Sentence() string {
	switch s.Supports {
	case HarderWilder:
		return "Within the stages the longer shots are the wilder ones: these balls support that hitting harder costs direction."
	case HarderTruer:
		return "Within the stages the longer shots are the truer ones: these balls support that a swing hit harder flies straighter, or that badly struck balls are both short and crooked."
	}
	return "Whether the longer shots are wilder or truer these balls can't tell: they support neither belief."
}

// Line returns the slope for the statistician.
func (s SpeedCheck) Line() string {
	return s.Slope.Line() + " " + s.Distance.Line() + " " + s.Angle.Line()
}

// Sentence says what is left of the gain.
func (p Picked) Sentence() string {
	e := p.Corrected
	v := Verdict{Effect: e, Fits: e.Interval, Smallest: max((e.Interval.High-e.Interval.Low)/2, math.SmallestNonzeroFloat64)}
	if p.Shown*p.Inflation < 0 || math.Abs(p.Inflation) > math.Abs(p.Shown) {
		return fmt.Sprintf("The balls shown are %s, and picking alone makes them look %s: what is left fits anything %s.", v.end(p.Shown), v.end(p.Inflation), v.rangeText())
	}
	return fmt.Sprintf("The balls shown are %s, and picking them does %s of that by itself: what is left fits anything %s.",
		v.end(p.Shown), strings.TrimSpace(v.amount(p.Inflation)+" "+e.Unit), v.rangeText())
}

// Line returns the correction for the statistician.
func (p Picked) Line() string {
	return fmt.Sprintf("shown %.3g, inflation %.3g by resampling, %.3g if normal; %s", p.Shown, p.Inflation, p.Normal, p.Corrected.Line())
}

// Sentence says whether the expectation fits.
func (s Score) Sentence() string {
	e := s.Effect
	v := Verdict{Effect: e, Fits: e.Interval, Smallest: max((e.Interval.High-e.Interval.Low)/2, math.SmallestNonzeroFloat64)}
	held := "these balls fit that"
	if !s.Held {
		held = "these balls don't fit that"
	}
	more := e.Estimate - s.Expected
	switch {
	case e.Name == NameAreaRatio: // in words of the radius, as everywhere
		return fmt.Sprintf("Expected was %s: %s; measured was %s.", v.end(math.Sqrt(s.Expected)), held, v.end(math.Sqrt(e.Estimate)))
	case e.ratio():
		return fmt.Sprintf("Expected was %s: %s; measured was %s.", v.end(s.Expected), held, v.end(e.Estimate))
	case e.Name == NameMishitRateChange:
		return fmt.Sprintf("Expected was %s mishits in 100: %s. Measured was %s, so %s than expected.", v.end(s.Expected), held, v.end(e.Estimate), v.end(more))
	}
	return fmt.Sprintf("Expected was %s: %s. Measured was %s, so %s %s than expected.", v.end(s.Expected), held, v.end(e.Estimate),
		strings.TrimSpace(v.amount(more)+" "+e.Unit), direction(more >= 0, "more", "less"))
}

// Line returns the score for the statistician.
func (s Score) Line() string {
	return fmt.Sprintf("expected %.3g, off by %.3g, held by the interval: %t; %s", s.Expected, s.Off, s.Held, s.Effect.Line())
}

// Sentence says how good the expectations were.
func (c Calibration) Sentence() string {
	s := fmt.Sprintf("In %d of %d lessons the balls fit what was expected, where a perfect forecaster gets %s", c.Held, c.Lessons, percent(c.Level))
	if c.HasDelivered {
		s += fmt.Sprintf("; measured was %.0f %% of what was expected, all in all", 100*c.Delivered)
	}
	return s + "."
}

// Line returns the calibration for the statistician.
func (c Calibration) Line() string {
	return fmt.Sprintf("held %d of %d, %s CI %.2f to %.2f (Wilson); mean off %.3g, CI %.3g to %.3g (t on %d df); mean absolute %.3g.", c.Held, c.Lessons,
		percent(c.Level), c.HeldShare.Low, c.HeldShare.High, c.MeanOff, c.MeanOffInterval.Low, c.MeanOffInterval.High, c.Lessons-1, c.MeanAbsOff)
}

// Sentence says how many balls the next practice needs.
func (p Plan) Sentence(unit string) string {
	return fmt.Sprintf("To show a gain of %s it takes about %d balls before and as many after; the spread is known from few balls, so it may be anything from %d to %d.",
		strings.TrimSpace(fmt.Sprintf("%.3g %s", p.Gain, unit)), p.Balls, p.Low, p.High)
}

// Line returns the plan for the statistician.
func (p Plan) Line() string {
	return fmt.Sprintf("n = %d a stage (%d to %d) for a gain of %.3g at power %s and level %s, SD %.3g, CI %.3g to %.3g; two-sided t test.",
		p.Balls, p.Low, p.High, p.Gain, percent(p.Power), percent(p.Level), p.SD, p.SDBounds.Low, p.SDBounds.High)
}
