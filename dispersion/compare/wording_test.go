package compare

import (
	"regexp"
	"strings"
	"testing"
)

func TestSentences(t *testing.T) {
	speed := carryEffect(3, 1, 18)
	speed.Name, speed.Unit = "ball_speed", "mph"
	rate, _ := MishitRateChange(6, 12, 1, 12, Options{})
	for _, c := range []struct {
		e        Effect
		smallest float64
		want     string
	}{
		{carryEffect(3.5, 7.5, 18), 5, "Can't tell: these balls fit anything from 4 yd shorter to 11 longer; 14 more of each would settle it."},
		{carryEffect(9, 3, 18), 5, "Worth having: these balls fit anything from 6 to 12 yd longer."},
		{carryEffect(8, 6, 18), 5, "Probably worth having: these balls fit anything from 2 to 14 yd longer; 14 more of each would settle it."},
		{carryEffect(-1, 3, 18), 5, "No gain worth having: these balls fit anything from 4 yd shorter to 2 longer, and it takes 5 yd to matter."},
		{carryEffect(-12, 4, 18), 5, "Worse: these balls fit anything from 16 to 8 yd shorter."},
		{carryEffect(5, 1, 18), 5, "Can't tell: these balls fit anything from 4 to 6 yd longer; the change lies so close to what matters that more balls may not settle it."},
		{carryEffect(3, 3.2, 18), 5, "Can't tell: these balls fit anything from 0 to 6 yd longer; the change lies so close to what matters that more balls may not settle it."},
		{speed, 0.5, "Worth having: these balls fit anything from 2.0 to 4.0 mph higher."},
		{ratioEffect(NameSpreadRatio, 0.9, 1.5), 0.2, "Can't tell: these balls fit anything from 35 % wider to 40 % tighter; 14 more of each would settle it."},
		{ratioEffect(NameAreaRatio, 1, 16), 0.2, "Can't tell: these balls fit anything from 4 times as wide to 75 % tighter; 14 more of each would settle it."},
		{ratioEffect(NameSpreadRatio, 0.5, 1.2), 0.2, "Worth having: these balls fit anything from 40 to 58 % tighter."},
		{rate, 0.1, "Probably worth having: these balls fit anything from 5 to 67 fewer mishits in 100; 14 more of each would settle it."},
	} {
		v := judge(t, c.e, c.smallest)
		if v.MoreBalls > 0 {
			v.MoreBalls = 14 // the number is TestMoreBalls' business
		}
		if got := v.Sentence(); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
	v := judge(t, carryEffect(9, 3, 18), 5).WithoutBookend()
	if got := v.Sentence(); !strings.HasPrefix(got, "Probably worth having: these balls fit anything from 6 to 12 yd longer. There was no return to the old swing") {
		t.Errorf("without a bookend: %s", got)
	}
	w, err := JudgeSpread(ratioEffect(NameSpreadRatio, 0.7, 1.5), ratioEffect(NameAreaRatio, 0.3, 1.7), 0.2)
	if err != nil || !strings.Contains(w.Sentence(), "may rest on one or two wild balls") {
		t.Errorf("%v: %s", err, w.Sentence())
	}
}

// The confidences are R's: pt(-1.5/7.5·qt(.975, 18), 18) and with 8.5 for 1.5.
func TestLines(t *testing.T) {
	e := carryEffect(3.5, 7.5, 18)
	e.Method, e.HasP, e.P, e.PFloor = "Welch", true, 0.34, 2.0/252
	want := "carry_gain 3.5 yd, 95 % CI -4.0 to 11.0, n = 10 and 10, t on 18 df, two-sided p = 0.340 (floor 0.0079); " +
		"confidence in a gain beyond 5 yd: 34 %, in a loss beyond it: 1.4 % (Welch)."
	got := judge(t, e, 5).Line()
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	e.P = 1e-9
	if got := judge(t, e, 5).Line(); !strings.Contains(got, "p < 0.001") {
		t.Errorf("a tiny p: %s", got)
	}
	if got := judge(t, ratioEffect(NameSpreadRatio, 0.9, 1.5), 0.2).Line(); !strings.HasPrefix(got, "spread_ratio 0.9, 95 % CI 0.6 to 1.35, n = 10 and 10; confidence in a gain beyond 20 % of the radius: ") {
		t.Errorf("a ratio: %s", got)
	}
}

// Words that claim more than shots can show are never printed.
func TestNoForbiddenWords(t *testing.T) {
	forbidden := regexp.MustCompile(`(?i)significan|proven|proof|no change|unchanged`)
	for _, estimate := range []float64{-20, -8, -2, 0, 2, 8, 20} {
		for _, half := range []float64{1, 4, 12} {
			v := judge(t, carryEffect(estimate, half, 18), 5).WithoutBookend().withCaveat(WildBalls)
			for _, text := range []string{v.Kind.String(), v.Sentence(), v.Line()} {
				if text == "" || forbidden.MatchString(text) {
					t.Errorf("%g ± %g: %q", estimate, half, text)
				}
			}
		}
	}
}

func TestKinds(t *testing.T) {
	for kind, want := range map[VerdictKind]string{
		WorthHaving: "worth having", Probably: "probably", NoGainWorth: "no gain worth having", Worse: "worse", CantTell: "can't tell",
	} {
		if kind.String() != want {
			t.Errorf("got %q, want %q", kind, want)
		}
	}
}
