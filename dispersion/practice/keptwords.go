package practice

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// RegressionAtIntake is what every comparison with a baseline at intake has to
// say of it.
const RegressionAtIntake = "Pupils come when they are bad: part of any gain over the first balls of all would have come without a lesson."

func tQuantile(level, df float64) float64 {
	return distuv.StudentsT{Sigma: 1, Nu: df}.Quantile((1 + level) / 2)
}

// Sentence says what became of the gain, for the pupil, with the interval of each
// number, and what the intake may have added to it.
func (k Keeping) Sentence() string {
	ended := "the session ended " + k.against(k.First, "the baseline")
	when := fmt.Sprintf("%.0f days later, before any teaching, the first balls were", k.Days)
	still := " still"
	if k.Taught > 0 {
		when = fmt.Sprintf("%.0f days and %s with teaching later, before any more, the first balls were", k.Days, sessions(k.Taught))
		still = ""
	}
	var s string
	switch k.Outcome {
	case GainKept:
		s = fmt.Sprintf("Kept: %s, and %s%s %s.", ended, when, still, k.against(k.Kept, "it"))
	case GainPartly:
		s = fmt.Sprintf("Partly kept: %s, and %s %s: less, but not nothing.", ended, when, k.against(k.Kept, "it"))
	case GainLost:
		s = fmt.Sprintf("Lost: %s, but %s %s.%s", ended, when, k.against(k.Kept, "it"), k.left())
	case GainLater:
		s = fmt.Sprintf("Came later: %s %s, although nothing sure showed when %s.", when, k.against(k.Kept, "the baseline"), ended)
	case GainUnclear:
		s = fmt.Sprintf("Can't tell: %s; %s %s, which fits both kept and lost.", ended, when, k.against(k.Kept, "it"))
	case GainNone:
		s = fmt.Sprintf("None sure: %s, and %s %s.", ended, when, k.against(k.Kept, "it"))
	default:
		s = fmt.Sprintf("%s, so what was kept of it can't be told: %s %s.",
			either(k.Immediate.N == 0, "Nobody looked at the end of the session", "One ball is no look at the end of the session"), when, k.against(k.Kept, "the baseline"))
	}
	if k.HasShare && (k.Outcome == GainKept || k.Outcome == GainPartly) {
		s += fmt.Sprintf(" %s %.0f %%; these balls fit anything from %.0f to %.0f %%.",
			either(k.Taught == 0, "Of the first gain that is", "Held against the first gain that is, with all that was taught since,"), 100*k.Share, 100*k.ShareInterval.Low, 100*k.ShareInterval.High)
	}
	if k.HasVerdict {
		s += fmt.Sprintf(" Held against the smallest change worth having, %g %s, the verdict is: %s.", k.Verdict.Smallest, k.Unit, k.Verdict.Kind)
	}
	return s + " What a session shows at its end is performance; only the later balls tell what was learned. " + RegressionAtIntake
}

func sessions(n int) string {
	return fmt.Sprintf("%d %s", n, either(n == 1, "session", "sessions"))
}

// left says how little of a lost gain there can be.
func (k Keeping) left() string {
	level := 100 * k.Kept.Interval.Level
	if k.ShareAtMost <= 0 {
		return fmt.Sprintf(" Nothing of the first gain is left, %.3g %% sure.", level)
	}
	return fmt.Sprintf(" Less than %.0f %% of the first gain is left, %.3g %% sure.", math.Ceil(100*k.ShareAtMost), level)
}

// against words a difference from something with its interval: "14 yd above it
// (95 %: 7 to 20 yd above)".
func (k Keeping) against(e compare.Effect, what string) string {
	return fmt.Sprintf("%s %s (%.3g %%: %s)", k.off(e), what, 100*e.Interval.Level, k.span(e.Interval))
}

// off words a difference: "14 yd above".
func (k Keeping) off(e compare.Effect) string {
	return k.amount(e.Estimate, e.Interval) + " " + either(e.Estimate >= 0, "above", "below")
}

// span words an interval: "3 yd below to 5 above", "3 to 5 yd above", "3 to 5 yd
// below".
func (k Keeping) span(i dispersion.Interval) string {
	low, high := k.amount(i.Low, i), k.amount(i.High, i)
	switch {
	case i.Low >= 0:
		return fmt.Sprintf("%s to %s above", strings.TrimSuffix(low, " "+k.Unit), high)
	case i.High <= 0:
		return fmt.Sprintf("%s to %s below", strings.TrimSuffix(high, " "+k.Unit), low)
	}
	return fmt.Sprintf("%s below to %s above", low, strings.TrimSuffix(high, " "+k.Unit))
}

// amount rounds a size to a tenth of the interval's width or finer.
func (k Keeping) amount(v float64, i dispersion.Interval) string {
	places := 0
	if width := i.High - i.Low; width > 0 {
		places = max(0, min(9, int(math.Ceil(-math.Log10(width/10)))))
	}
	return strings.TrimSpace(fmt.Sprintf("%.*f %s", places, math.Abs(v), k.Unit))
}

// Line returns the numbers for the statistician.
func (k Keeping) Line() string {
	s := fmt.Sprintf("%s, %s: %s. %s", k.Club, k.Column, k.Outcome, k.Kept.Line())
	if k.HasFirst {
		s += " " + k.First.Line() + " " + k.Since.Line()
	}
	if k.HasShare {
		s += fmt.Sprintf(" Kept share %.3g, %.3g %% CI %.3g to %.3g (Fieller).", k.Share, 100*k.ShareInterval.Level, k.ShareInterval.Low, k.ShareInterval.High)
	}
	return s
}
