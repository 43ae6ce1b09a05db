package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// All that readers are told about an effect is worded in this file.

// String returns the verdict in the words of the page.
func (k VerdictKind) String() string {
	switch k {
	case WorthHaving:
		return "worth having"
	case Probably:
		return "probably"
	case NoGainWorth:
		return "no gain worth having"
	case Worse:
		return "worse"
	}
	return "can't tell"
}

// String returns the caveat as a sentence.
func (c Caveat) String() string {
	switch c {
	case NoBookend:
		return "There was no return to the old swing at the end, so warming up, practice or tiredness may have done part of it."
	case ThinBookend:
		return "The old swing was hit again at the end, but with too few balls to tell what warming up, practice or tiredness did."
	case Drifted:
		return "The old swing itself moved between the start and the end, so the answer depends on which of them the new one is held against."
	case OneOfSeveral:
		return "Several comparisons were looked at and some look good by luck, so each has to be surer to count."
	}
	return "The two ways of measuring the spread lead to different answers: it may rest on one or two wild balls."
}

// Sentence returns the verdict for the pupil.
func (v Verdict) Sentence() string {
	fits := "these balls fit anything " + v.rangeText()
	if v.Effect.Name == NameMishitRateChange {
		fits += " mishits in 100"
	}
	var s string
	switch v.Kind {
	case WorthHaving:
		s = "Worth having: " + fits + "."
	case Probably:
		s = "Probably worth having: " + fits + v.settleText()
	case NoGainWorth:
		s = fmt.Sprintf("No gain worth having: %s, and it takes %s to matter.", fits, v.smallestText())
	case Worse:
		s = "Worse: " + fits + "."
	default:
		s = "Can't tell: " + fits + v.settleText()
	}
	for _, c := range v.Caveats {
		s += " " + c.String()
	}
	return s
}

// settleText ends a sentence with what would settle it.
func (v Verdict) settleText() string {
	if v.MoreBalls > 0 {
		return fmt.Sprintf("; %d more of each would settle it.", v.MoreBalls)
	}
	if slices.Contains(v.Caveats, Drifted) || slices.Contains(v.Caveats, OneOfSeveral) {
		return "." // more balls are not what is missing
	}
	if v.Kind == CantTell {
		return "; the change lies so close to what matters that more balls may not settle it."
	}
	return "."
}

// Line returns the verdict for the statistician.
func (v Verdict) Line() string {
	e := v.Effect
	places := v.places()
	number := func(x float64) string { return fmt.Sprintf("%.*f", places+1, x) }
	if e.ratio() {
		number = threeDigits
	}
	return e.line(number) + fmt.Sprintf("; confidence in a gain beyond %s: %s, in a loss beyond it: %s (%s).",
		v.smallestText(), percent(v.Confidence), percent(v.ConfidenceWorse), e.Method)
}

func threeDigits(x float64) string { return fmt.Sprintf("%.3g", x) }

// line says all of the effect but its method.
func (e Effect) line(number func(float64) string) string {
	unit := ""
	if e.Unit != "" && !e.ratio() {
		unit = " " + e.Unit
	}
	s := fmt.Sprintf("%s %s%s, %s CI %s to %s, n = %d and %d", e.Name, number(e.Estimate), unit,
		percent(e.Interval.Level), number(e.Interval.Low), number(e.Interval.High), e.N1, e.N2)
	if e.DF > 0 {
		s += fmt.Sprintf(", t on %.3g df", e.DF)
	}
	if e.HasP {
		s += ", two-sided " + pText(e.P)
		if e.PFloor > 0 {
			s += fmt.Sprintf(" (floor %.2g)", e.PFloor)
		}
	}
	return s
}

// pText never prints a p of nothing.
func pText(p float64) string {
	if p < 0.001 {
		return "p < 0.001"
	}
	return fmt.Sprintf("p = %.3f", p)
}

// percent keeps a confidence short of certainty from being rounded to it.
func percent(share float64) string {
	switch {
	case share > 0.999:
		return "above 99.9 %"
	case share < 0.001:
		return "below 0.1 %"
	}
	return strings.TrimSuffix(fmt.Sprintf("%.1f", 100*share), ".0") + " %"
}

// An end of a range: how far, of what, and in which direction. "4 yd shorter"
// is {"4", "yd", "shorter"}.
type end struct{ amount, unit, way string }

func (x end) String() string {
	if x.unit == "" {
		return x.amount + " " + x.way
	}
	return x.amount + " " + x.unit + " " + x.way
}

// rangeText says what the shots fit, from the worse end to the better one: "from
// 4 yd shorter to 11 longer".
func (v Verdict) rangeText() string {
	worst, best := v.Fits.Low, v.Fits.High
	if v.Effect.ratio() || v.Effect.LessIsBetter {
		worst, best = best, worst
	}
	from, to := v.end(worst), v.end(best)
	if from.amount == "0" {
		from.way = to.way
	}
	if to.amount == "0" {
		to.way = from.way
	}
	if from.way == to.way {
		if from == to {
			return "around " + from.String()
		}
		if from.unit == to.unit {
			return "from " + from.amount + " to " + to.String()
		}
	}
	if from.unit == to.unit && to.unit != "%" {
		to.unit = ""
	}
	return "from " + from.String() + " to " + to.String()
}

// end words a value of the effect.
func (v Verdict) end(x float64) end {
	e := v.Effect
	switch {
	case e.ratio() && x >= 2:
		return end{fmt.Sprintf("%.2g", x), "times", "as wide"}
	case e.ratio():
		return end{fmt.Sprintf("%.0f", 100*math.Abs(1-x)), "%", direction(x > 1, "wider", "tighter")}
	case e.Name == NameMishitRateChange:
		return end{fmt.Sprintf("%.0f", 100*math.Abs(x)), "", direction(x > 0, "more", "fewer")}
	case strings.HasPrefix(e.Name, NameCarryGain):
		return end{v.amount(x), e.Unit, direction(x > 0, "longer", "shorter")}
	}
	return end{v.amount(x), e.Unit, direction(x > 0, "higher", "lower")}
}

func direction(first bool, word, other string) string {
	if first {
		return word
	}
	return other
}

// amount rounds to what matters: to a fifth of the smallest change worth having
// or finer.
func (v Verdict) amount(x float64) string {
	return strings.TrimPrefix(fmt.Sprintf("%.*f", v.places(), math.Abs(x)), "-")
}

func (v Verdict) places() int {
	return max(0, min(9, int(math.Ceil(-math.Log10(v.Smallest/5)))))
}

// smallestText words the smallest change worth having.
func (v Verdict) smallestText() string {
	e := v.Effect
	switch {
	case e.Name == NameAngleSpreadRatio:
		return percent(v.Smallest) + " of the spread"
	case e.ratio():
		return percent(v.Smallest) + " of the radius"
	case e.Name == NameMishitRateChange:
		return fmt.Sprintf("%.3g mishits in 100", 100*v.Smallest)
	case e.Unit == "":
		return fmt.Sprintf("%.3g", v.Smallest)
	}
	return fmt.Sprintf("%.3g %s", v.Smallest, e.Unit)
}
