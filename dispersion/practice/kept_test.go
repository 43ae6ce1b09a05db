package practice

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

func demoSeason(t testing.TB) *Season {
	t.Helper()
	s, err := ReadSeason(bytes.NewReader(datasets.DemoSeasonFile()), SeasonOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Source: datasets/demo-season/truth.json: the carry is kept, 117 to 131 yards, and
// the start line is lost, 4 degrees at both ends.
func TestKeptFindsTheKeptAndTheLostGain(t *testing.T) {
	truth, err := datasets.DemoSeasonTruth()
	if err != nil {
		t.Fatal(err)
	}
	s := demoSeason(t)
	first, last := truth.Stages[0], truth.Stages[len(truth.Stages)-2]
	end := truth.Stages[2]
	if first.Phase != "baseline" || end.Phase != "immediate" || last.Phase != "retention" {
		t.Fatal("the truth has other stages")
	}
	for _, c := range []struct {
		column            string
		before, at, after float64
		day               float64
		want              Outcome
	}{
		{"carry", first.Carry, end.Carry, last.Carry, truth.CarryDaySD, GainKept},
		{"start_line_deg", first.StartLine, end.StartLine, last.StartLine, truth.StartLineDaySD, GainLost},
	} {
		for _, day := range []float64{0, c.day} {
			k, err := Kept(context.Background(), s, Question{Club: "7 iron", Column: c.column, DaySD: day}, compare.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if k.Outcome != c.want || !k.HasShare || math.Round(k.Days) != 69 {
				t.Errorf("%s, days differ by %g: %s, share %v, after %.1f days", c.column, day, k.Outcome, k.HasShare, k.Days)
			}
			holds := func(what string, i dispersion.Interval, v float64) {
				if v < i.Low || v > i.High {
					t.Errorf("%s, %s: %+v, drawn from %g", c.column, what, i, v)
				}
			}
			holds("first gain", k.First.Interval, c.at-c.before)
			holds("kept gain", k.Kept.Interval, c.after-c.before)
			holds("share", k.ShareInterval, (c.after-c.before)/(c.at-c.before))
			if hasWarning(k.Warnings, ErrDays) != (day == 0) || k.Kept.HasP != (day == 0) || !k.Kept.NoBetter {
				t.Errorf("%s, days differ by %g: %v", c.column, day, k.Warnings)
			}
			if !strings.Contains(k.Sentence(), RegressionAtIntake) {
				t.Errorf("nothing of the intake: %s", k.Sentence())
			}
		}
	}
}

// Source: datasets/demo-season/truth.json: phases are those that the truth states.
func TestPhasesOfTheDemoSeason(t *testing.T) {
	truth, err := datasets.DemoSeasonTruth()
	if err != nil {
		t.Fatal(err)
	}
	s := demoSeason(t)
	var stages []string
	for _, session := range s.Sessions {
		for _, stage := range session.Stages {
			stages = append(stages, fmt.Sprint(session.Name, stage.Group.Stage.Name, stage.Phase, stage.Club, len(stage.Shots)))
		}
	}
	if len(stages) != len(truth.Stages) || len(s.Sessions) != 12 || len(s.Warnings) != 0 {
		t.Fatalf("%d sessions, %d stages, %v", len(s.Sessions), len(stages), s.Warnings)
	}
	for i, want := range truth.Stages {
		if w := fmt.Sprint(want.Session, want.Stage, want.Phase, want.Club, want.Shots); stages[i] != w {
			t.Errorf("stage %d is %s, want %s", i, stages[i], w)
		}
	}
}

// three writes a season of a baseline, an immediate stage and a later first stage
// with one carry for each ball.
func three(baseline, immediate, retention []float64) string {
	out := "session,stage,intent,carry_yd,side_yd\n"
	add := func(session, stage, intent string, carries []float64) {
		for _, c := range carries {
			out += fmt.Sprintf("%s,%s,%s,%g,0\n", session, stage, intent, c)
		}
	}
	add("2026-05-01", "old", "baseline", baseline)
	add("2026-05-01", "new", "full", immediate)
	add("2026-05-08", "first", "check", retention)
	return out
}

func around(mean float64, n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = mean + 2*float64(i%5-2)
	}
	return x
}

func TestOutcomes(t *testing.T) {
	for _, c := range []struct {
		name             string
		before, at, then float64
		n                int
		want             Outcome
		share            bool
	}{
		{"kept", 100, 110, 110, 10, GainKept, true},
		{"partly", 100, 120, 110, 10, GainPartly, true},
		{"lost", 100, 110, 100, 10, GainLost, true},
		{"lost and more", 100, 110, 90, 10, GainLost, true},
		{"a fall is a gain where less is better", 100, 90, 90, 10, GainKept, true},
		{"later", 100, 101, 110, 10, GainLater, false},
		{"never", 100, 101, 101, 10, GainNone, false},
		{"unclear", 100, 105, 102.4, 7, GainUnclear, true},
	} {
		s := mustSeason(t, three(around(c.before, c.n), around(c.at, c.n), around(c.then, c.n)), SeasonOptions{})
		k, err := Kept(context.Background(), s, Question{}, compare.Options{Resamples: 99})
		if err != nil {
			t.Fatal(err)
		}
		if k.Outcome != c.want || k.HasShare != c.share {
			t.Errorf("%s: %s, share %v; %s", c.name, k.Outcome, k.HasShare, k.Line())
		}
		word := map[Outcome]string{GainKept: "Kept:", GainPartly: "Partly kept:", GainLost: "Lost:", GainLater: "Came later:", GainNone: "None sure:", GainUnclear: "Can't tell:"}[c.want]
		if !strings.HasPrefix(k.Sentence(), word) {
			t.Errorf("%s: %s", c.name, k.Sentence())
		}
		// By hand: both gains against the baseline, in full numbers.
		near(t, "kept", k.Kept.Estimate, meanOf(around(c.then, c.n))-meanOf(around(c.before, c.n)), 1e-9)
		near(t, "since", k.Since.Estimate, meanOf(around(c.then, c.n))-meanOf(around(c.at, c.n)), 1e-9)
		if hasWarning(k.Warnings, ErrSession) != (c.n < 10) {
			t.Errorf("%s: %v", c.name, k.Warnings)
		}
	}
}

// By hand: half an interval of 3 on t(18) at 95 % has se = 3/2.100922; with days
// that differ by 2 it is 2.100922·√(2.0390+8) = 6.6567.
func TestBetweenDays(t *testing.T) {
	e := compare.Effect{Estimate: 10, Interval: dispersion.Interval{Low: 7, High: 13, Level: 0.95}, DF: 18, HasP: true, P: 0.01}
	got := betweenDays(e, dayWeights{variance: 4, squares: 1, shared: 1}.kept())
	near(t, "low", got.Interval.Low, 10-6.6567, 1e-4)
	near(t, "high", got.Interval.High, 10+6.6567, 1e-4)
	if got.HasP || got.P != 0 {
		t.Error("a p that knows nothing of days")
	}
}

// A season with fewer balls than a question needs says so, and where there are
// some.
func TestKeptWithoutBalls(t *testing.T) {
	ctx := context.Background()
	ok := mustSeason(t, three(around(100, 10), around(110, 10), around(105, 10)), SeasonOptions{})
	changed := mustSeason(t, strings.Join([]string{"session,club,stage,carry_yd,side_yd", "2026-05-01,7i,old,100,0", "2026-05-01,7i,new,105,0", "2026-05-08,5i,first,120,0", ""}, "\n"), SeasonOptions{})
	var phase *PhaseError
	for name, c := range map[string]struct {
		s     *Season
		q     Question
		phase Phase
		want  string
	}{
		"no such club":    {ok, Question{Club: "9i"}, Baseline, `no baseline balls with club "9i" and a carry; there are some with [""]`},
		"no such session": {ok, Question{Session: "2026-05-09"}, Retention, `no retention balls with club "" and a carry in session "2026-05-09"; there are some with [""]`},
		"no such column":  {ok, Question{Column: "spin_rpm"}, Baseline, `no baseline balls with club "" and a spin_rpm: it takes`},
		"club changed":    {changed, Question{Club: "7i"}, Retention, `no retention balls with club "7i" and a carry: it takes`},
		"new club":        {changed, Question{Club: "5i"}, Baseline, `no baseline balls with club "5i" and a carry; there are some with ["7i"]`},
	} {
		_, err := Kept(ctx, c.s, c.q, compare.Options{})
		if !errors.As(err, &phase) || phase.Phase != c.phase || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	var few *dispersion.TooFewError
	single := mustSeason(t, three(around(100, 10), around(110, 10), around(105, 1)), SeasonOptions{})
	if _, err := Kept(ctx, single, Question{}, compare.Options{}); !errors.As(err, &few) {
		t.Errorf("a session of one ball: %v", err)
	}
	var none context.Context
	if _, err := Kept(none, ok, Question{}, compare.Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("nil context: %v", err)
	}
	if _, err := Kept(ctx, nil, Question{}, compare.Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("nil season: %v", err)
	}
	if _, err := Kept(ctx, ok, Question{}, compare.Options{Level: 95}); !errors.Is(err, dispersion.ErrLevel) {
		t.Errorf("level: %v", err)
	}
	if _, err := Kept(ctx, ok, Question{}, compare.Options{Resamples: -1}); !errors.Is(err, compare.ErrResamples) {
		t.Errorf("resamples: %v", err)
	}
	var value *ValueError
	for _, day := range []float64{-1, math.NaN(), math.Inf(1), 1e200} {
		if _, err := Kept(ctx, ok, Question{DaySD: day}, compare.Options{}); !errors.As(err, &value) {
			t.Errorf("days of %g: %v", day, err)
		}
	}
}

// How often the ball is mishit is another question, and a change of it is said.
func TestKeptSaysThatMishitsChanged(t *testing.T) {
	then := around(110, 10)
	for i := range 4 {
		then[i] = 40
	}
	s := mustSeason(t, three(around(100, 10), around(110, 10), then), SeasonOptions{})
	k, err := Kept(context.Background(), s, Question{}, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if k.Retention.Mishits != 4 || k.Retention.N != 6 || !hasWarning(k.Warnings, ErrMishits) {
		t.Errorf("%+v, %v", k.Retention, k.Warnings)
	}
}

// rows are stages of sessions with one carry for each ball, in the order hit.
type rows []row

type row struct {
	session, stage, intent string
	carries                []float64
}

func (r rows) season(t testing.TB) *Season {
	t.Helper()
	out := "session,stage,intent,carry_yd,side_yd\n"
	for _, x := range r {
		for _, c := range x.carries {
			out += fmt.Sprintf("%s,%s,%s,%g,0\n", x.session, x.stage, x.intent, c)
		}
	}
	return mustSeason(t, out, SeasonOptions{})
}

func mustKept(t testing.TB, s *Season, q Question) Keeping {
	t.Helper()
	k, err := Kept(context.Background(), s, q, compare.Options{Resamples: 99})
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// What a session shows after its first balls can't be what they have kept: neither
// its own end nor that of a later session is the first gain.
func TestTheFirstGainComesBeforeItsRetention(t *testing.T) {
	s := rows{
		{"2026-05-01", "old", "baseline", around(100, 10)},
		{"2026-05-01", "feet", "drill", around(90, 8)},
		{"2026-05-08", "first", "check", around(104, 10)},
		{"2026-05-08", "new", "full", around(115, 10)},
		{"2026-05-15", "first", "check", around(108, 10)},
		{"2026-05-15", "new", "full", around(116, 10)},
	}.season(t)
	k := mustKept(t, s, Question{Session: "2026-05-08"})
	if k.HasFirst || k.Immediate.N != 0 || k.Days != 7 {
		t.Errorf("the end of the session itself, or of a later one: %+v, %g days", k.Immediate, k.Days)
	}
	k = mustKept(t, s, Question{})
	if !k.HasFirst || fmt.Sprint(k.Immediate.Sessions) != "[2026-05-08]" || k.Days != 7 {
		t.Errorf("the end of the session before: %+v, %g days", k.Immediate, k.Days)
	}
}

// Each side of the comparison says its phase, and so do the warnings of it.
func TestBallsSayTheirPhase(t *testing.T) {
	k := mustKept(t, mustSeason(t, three(around(100, 10), around(110, 10), around(108, 6)), SeasonOptions{}), Question{})
	if k.Baseline.Phase != Baseline || k.Immediate.Phase != Immediate || k.Retention.Phase != Retention {
		t.Errorf("%q, %q, %q", k.Baseline.Phase, k.Immediate.Phase, k.Retention.Phase)
	}
	if want := "session: retention has 6 first balls that count, and not 10"; !strings.Contains(fmt.Sprint(k.Warnings), want) {
		t.Errorf("%v, want %q", k.Warnings, want)
	}
}

// By hand: with 10 and 5 balls of two days before the lesson, the second the
// lesson's own, w = 1/3 and Σw² = 5/9. Days of 3 yards then put 9·(1-2/3+5/9) = 8
// into the first gain, 9·(1+5/9) = 14 into the kept one and 18 into the change
// since; half an interval is t·√(se²+that).
func TestDaysInEachGain(t *testing.T) {
	s := rows{
		{"2026-04-30", "old", "baseline", around(100, 10)},
		{"2026-05-01", "old", "baseline", around(100, 5)},
		{"2026-05-01", "new", "full", around(130, 10)},
		{"2026-05-08", "first", "check", around(120, 10)},
	}.season(t)
	plain, days := mustKept(t, s, Question{}), mustKept(t, s, Question{DaySD: 3})
	for _, c := range []struct {
		plain, days compare.Effect
		want        float64
	}{{plain.First, days.First, 8}, {plain.Kept, days.Kept, 14}, {plain.Since, days.Since, 18}} {
		q := tQuantile(0.95, c.plain.DF)
		se, wide := (c.plain.Interval.High-c.plain.Estimate)/q, (c.days.Interval.High-c.days.Estimate)/q
		near(t, c.plain.Name, wide*wide-se*se, c.want, 1e-9)
	}
	if days.First.HasP || !plain.First.HasP {
		t.Error("a p of the first gain that knows nothing of days")
	}
}

// By hand: 10 balls about 100 and 110 with the standard deviation √(80/9) = 2.981:
// the gain of 10 has the half width 2.1009·2.981·√(2/10) = 2.80. A pupil for whom
// less is better loses as much.
func TestSentencesStateTheirIntervals(t *testing.T) {
	for _, c := range []struct {
		at, then float64
		want     []string
	}{
		{110, 110, []string{"ended 10.0 yd above the baseline (95 %: 7.2 to 12.8 yd above)", "still 10.0 yd above it (95 %: 7.2 to 12.8 yd above)"}},
		{120, 110, []string{"ended 20.0 yd above the baseline (95 %: 17.2 to 22.8 yd above)", "were 10.0 yd above it (95 %: 7.2 to 12.8 yd above)"}},
		{90, 90, []string{"ended 10.0 yd below the baseline (95 %: 7.2 to 12.8 yd below)", "still 10.0 yd below it (95 %: 7.2 to 12.8 yd below)"}},
		{110, 101, []string{"ended 10.0 yd above the baseline (95 %: 7.2 to 12.8 yd above)", "were 1.0 yd above it (95 %: 1.8 yd below to 3.8 above)"}},
		{101, 110, []string{"ended 1.0 yd above the baseline (95 %: 1.8 yd below to 3.8 above)", "were 10.0 yd above the baseline (95 %: 7.2 to 12.8 yd above)"}},
		{101, 101, []string{"ended 1.0 yd above the baseline (95 %: 1.8 yd below to 3.8 above)", "were 1.0 yd above it (95 %: 1.8 yd below to 3.8 above)"}},
		{105, 102.5, []string{"ended 5.0 yd above the baseline (95 %: 2.2 to 7.8 yd above)", "were 2.5 yd above it (95 %: 0.3 yd below to 5.3 above)"}},
	} {
		says := mustKept(t, mustSeason(t, three(around(100, 10), around(c.at, 10), around(c.then, 10)), SeasonOptions{}), Question{}).Sentence()
		for _, want := range c.want {
			if !strings.Contains(says, want) {
				t.Errorf("100, %g, %g: no %q in: %s", c.at, c.then, want, says)
			}
		}
	}
}

// Where nobody looked at the end of a session, or at one ball of it, nothing is
// said of what showed there.
func TestKeptWhereNobodyLookedAtTheEnd(t *testing.T) {
	for _, c := range []struct {
		end  row
		want string
		n    int
	}{
		{row{"2026-05-01", "feet", "drill", around(90, 8)}, "Nobody looked at the end of the session", 0},
		{row{"2026-05-01", "new", "full", []float64{130}}, "One ball is no look at the end of the session", 1},
	} {
		for _, then := range []float64{100, 110} {
			k := mustKept(t, rows{{"2026-05-01", "old", "baseline", around(100, 10)}, c.end, {"2026-05-08", "first", "check", around(then, 10)}}.season(t), Question{})
			says := k.Sentence()
			if k.Outcome != GainUnseen || k.HasFirst || k.HasShare || k.Immediate.N != c.n || k.Immediate.Phase != Immediate || hasWarning(k.Warnings, ErrSession) != (c.n == 1) {
				t.Errorf("%s: %+v, %v", k.Outcome, k.Immediate, k.Warnings)
			}
			gain := fmt.Sprintf("were %.1f yd above the baseline (95 %%: %s)", then-100, map[float64]string{100: "2.8 yd below to 2.8 above", 110: "7.2 to 12.8 yd above"}[then])
			if !strings.HasPrefix(says, c.want) || !strings.Contains(says, gain) || strings.Contains(says, "sure showed") {
				t.Errorf("no %q in: %s", gain, says)
			}
		}
	}
}

// A loss has to be shown. By hand, 6 balls a side with the standard deviation
// √(630/5) = 11.2 give the half width 2.228·11.2·√(2/6) = 14.4: a kept gain of 12 is
// 40 % of a first one of 30, and fits anything from nothing to nearly all.
func TestLostHasToBeShown(t *testing.T) {
	wide := func(mean float64) []float64 {
		return []float64{mean - 15, mean - 9, mean - 3, mean + 3, mean + 9, mean + 15}
	}
	k := mustKept(t, mustSeason(t, three(wide(100), wide(130), wide(112)), SeasonOptions{}), Question{})
	near(t, "half width", k.Kept.Interval.High-12, 14.4, 0.05)
	if !(k.Kept.Interval.Low < 0 && k.Since.Interval.High < 0 && k.ShareInterval.High > 0.5) {
		t.Fatalf("not the case meant: %s", k.Line())
	}
	if k.Outcome != GainUnclear || k.ShareAtMost < 0.5 || k.ShareAtMost > k.ShareInterval.High {
		t.Errorf("%s, at most %g; %s", k.Outcome, k.ShareAtMost, k.Line())
	}
	// Truth: 126 of 117 to 132 yards, 60 %, on that day of the demo season.
	k, err := Kept(context.Background(), demoSeason(t), Question{Club: "7 iron", Session: "2026-04-11"}, compare.Options{})
	if err != nil || k.Outcome != GainUnclear {
		t.Errorf("a gain of which 60 %% is there: %s, %v", k.Outcome, err)
	}
}

// A verdict takes what is worth having and which way is better; without them no
// way is better in any of the three effects. By hand: a kept gain of 10 with the
// half width 2.8 is worth having from 5 on, and worse where less is better.
func TestVerdictOnWhatWasKept(t *testing.T) {
	up := mustSeason(t, three(around(100, 10), around(110, 10), around(110, 10)), SeasonOptions{})
	down := mustSeason(t, three(around(100, 10), around(90, 10), around(90, 10)), SeasonOptions{})
	for _, c := range []struct {
		s    *Season
		less bool
		want compare.VerdictKind
	}{{up, false, compare.WorthHaving}, {up, true, compare.Worse}, {down, false, compare.Worse}, {down, true, compare.WorthHaving}} {
		k := mustKept(t, c.s, Question{Smallest: 5, LessIsBetter: c.less})
		if !k.HasVerdict || k.Verdict.Kind != c.want || k.First.NoBetter || k.Kept.NoBetter || k.Since.NoBetter || k.First.LessIsBetter != c.less || k.Since.LessIsBetter != c.less {
			t.Errorf("less is better %v: %v, want %v", c.less, k.Verdict.Kind, c.want)
		}
		if !strings.Contains(k.Sentence(), "5 yd, the verdict is: "+c.want.String()) {
			t.Error(k.Sentence())
		}
	}
	k := mustKept(t, up, Question{LessIsBetter: true})
	if k.HasVerdict || !k.First.NoBetter || !k.Kept.NoBetter || !k.Since.NoBetter || strings.Contains(k.Sentence(), "verdict") {
		t.Errorf("judged unasked: %v; %s", k.Verdict, k.Sentence())
	}
	// Days that differ are in the verdict too: 10 ± 2.1·√(1.33²+2·4²) is 10 ± 12.2.
	if k := mustKept(t, up, Question{Smallest: 5, DaySD: 4}); k.Verdict.Kind != compare.CantTell && k.Verdict.Kind != compare.Probably || k.Verdict.MoreBalls != 0 {
		t.Errorf("days that differ by 4: %v, %d more balls", k.Verdict.Kind, k.Verdict.MoreBalls)
	}
	for _, wrong := range []float64{-5, math.NaN(), math.Inf(1)} {
		if _, err := Kept(context.Background(), up, Question{Smallest: wrong}, compare.Options{Resamples: 9}); !errors.Is(err, compare.ErrSmallest) {
			t.Errorf("smallest %g: %v", wrong, err)
		}
	}
	var few *dispersion.TooFewError
	if _, err := Kept(context.Background(), mustSeason(t, three(around(100, 10), around(110, 10), around(105, 3)), SeasonOptions{}), Question{Smallest: 5}, compare.Options{Resamples: 9}); !errors.As(err, &few) {
		t.Errorf("a verdict on 3 balls: %v", err)
	}
}

// A gain that was lost and taught again is not one that was kept: the teaching in
// between is said, and nothing is "still" there.
func TestTeachingInBetweenIsSaid(t *testing.T) {
	s := rows{
		{"2026-05-01", "old", "baseline", around(100, 10)},
		{"2026-05-01", "new", "full", around(110, 10)},
		{"2026-05-08", "first", "check", around(100, 10)},
		{"2026-05-08", "new", "full", around(112, 10)},
		{"2026-05-15", "first", "check", around(111, 10)},
	}.season(t)
	k := mustKept(t, s, Question{})
	if k.Outcome != GainKept || k.Taught != 1 || !hasWarning(k.Warnings, ErrTaught) {
		t.Errorf("%s, %d sessions between, %v", k.Outcome, k.Taught, k.Warnings)
	}
	if says := k.Sentence(); strings.Contains(says, "still") || !strings.Contains(says, "14 days and 1 session with teaching later") || !strings.Contains(says, "with all that was taught since") {
		t.Error(says)
	}
	k = mustKept(t, s, Question{Session: "2026-05-08"})
	if k.Outcome != GainLost || k.Taught != 0 || hasWarning(k.Warnings, ErrTaught) || strings.Contains(k.Sentence(), "with teaching") {
		t.Errorf("the next session: %s, %d; %s", k.Outcome, k.Taught, k.Sentence())
	}
}

// Full swings, a drill and the same full swings again are a lesson with an end,
// whether or not the end has a name of its own; one long stage has none.
func TestTheOpeningStageHitAgainIsTheEnd(t *testing.T) {
	later := row{"2026-05-08", "swing", "full", around(108, 10)}
	s := rows{
		{"2026-05-01", "swing", "full", around(100, 10)},
		{"2026-05-01", "towel", "drill", around(90, 10)},
		{"2026-05-01", "swing", "full", around(110, 10)},
		later,
	}.season(t)
	if got, want := phases(s.Sessions[0]), "baseline* swing/ 10; practice towel/ 10; immediate swing/ 10"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if k := mustKept(t, s, Question{}); !k.HasFirst || k.Outcome != GainKept {
		t.Errorf("%s, %+v", k.Outcome, k.Immediate)
	}
	s = rows{{"2026-05-01", "swing", "full", around(100, 25)}, later}.season(t)
	if got, want := phases(s.Sessions[0]), "baseline* swing/ 10; practice swing/ 15"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
