package compare

import (
	"regexp"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

func TestSentencesWithoutAVerdict(t *testing.T) {
	e := carryEffect(3.5, 7.5, 18)
	e.Method = "Welch"
	rate, err := MishitRateChange(6, 12, 1, 12, Options{})
	if err != nil {
		t.Fatal(err)
	}
	serial, err := SerialSentence(e)
	if err != nil {
		t.Fatal(err)
	}
	drift := carryEffect(0, 6, 9)
	drift.Name = NameDrift
	b := Bookended{Gain: e, Drift: drift}
	// Of a correlation of 0.1 at n = 10 by R: 7.5·1.10653 = 8.3, 7.5·1.22921 = 9.2,
	// 7.5·1.37437 = 10.3.
	for got, want := range map[string]string{
		e.Sentence():    "These balls fit anything from 4 yd shorter to 11 longer.",
		e.Line():        "carry_gain 3.5 yd, 95 % CI -4 to 11, n = 10 and 10, t on 18 df (Welch).",
		rate.Sentence(): "These balls fit anything from 5 to 67 fewer mishits in 100.",
		ratioEffect(NameAreaRatio, 1, 4).Sentence(): "These balls fit anything from 2 times as wide to 50 % tighter.",
		serial:       "If each ball resembled the one before it a little (a correlation of 0.1, 0.2 or 0.3), these balls would fit anything from 5 yd shorter to 12 longer, from 6 yd shorter to 13 longer or from 7 yd shorter to 14 longer.",
		b.Sentence(): "Against the old swing at both ends these balls fit anything from 4 yd shorter to 11 longer; the old swing itself, from start to end, moved anything from 6 yd shorter to 6 longer.",
	} {
		if got != want {
			t.Errorf("got  %s\nwant %s", got, want)
		}
	}
}

// Every answer has its sentence and its line, without NaN and without words that
// claim more than shots can show.
func TestEveryAnswerIsSaid(t *testing.T) {
	forbidden := regexp.MustCompile(`(?i)significan|proven|proof|no change|unchanged|NaN|Inf\b|%!`)
	x, y := evidenceData(t, "data trt1", "x"), evidenceData(t, "data trt2", "x")
	b := bookended(t, x, y, x)
	drift, err := DriftOrStages("carry", "yd", runs(x, y), 0)
	check := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	check(err)
	r, err := SpeedAgainstAccuracy(ctx, []*dispersion.Group{group(t, sample(t, "setosa5")), group(t, sample(t, "versicolor12"))}, Options{})
	check(err)
	picked, err := PickedGain(ctx, NameCarryGain, "yd", x, y[:3], Picking{BestShots, 3, 10}, Options{Resamples: 99})
	check(err)
	plan, err := PlanCarry([][]float64{x, y}, 0.5, 0.8, 0.95)
	check(err)
	move, err := Manipulation(ctx, "weight", "", x, y, Options{})
	check(err)
	score := scored(t, 4, 3, 5)
	calibration, err := Calibrate([]Score{score, score, score})
	check(err)
	trend, err := Trend(ctx, "carry", [][]float64{x, y, {3, 5}})
	check(err)
	line := DriftCheck{LineShare: 1}
	wilder, truer := SpeedCheck{Supports: HarderWilder}, SpeedCheck{Supports: HarderTruer}
	said := map[string]bool{}
	for _, text := range []string{
		b.Sentence(), b.Line(), drift.Sentence(), drift.Line(), line.Sentence(), r.Sentence(), r.Line(), wilder.Sentence(), truer.Sentence(),
		picked.Sentence(), picked.Line(), plan.Sentence("yd"), plan.Line(), move.Sentence(), move.Line(),
		score.Sentence(), score.Line(), calibration.Sentence(), calibration.Line(),
		trend.Sentence(), trend.Line(),
		NoBookend.String(), WildBalls.String(), ThinBookend.String(), Drifted.String(), OneOfSeveral.String(),
	} {
		if forbidden.MatchString(text) || !strings.HasSuffix(text, ".") || said[text] {
			t.Errorf("said, or said twice: %q", text)
		}
		said[text] = true
	}
}
