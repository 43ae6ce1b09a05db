package review

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

func evidenceOf(t *testing.T, r *Review) string {
	t.Helper()
	s, err := r.Evidence(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(s, "\n")
}

// A return to the old swing of too few balls is told from none at all.
func TestThinBookendIsNotCalledNone(t *testing.T) {
	file := header + stage("old", "baseline", 12, 150) + stage("new", "full", 12, 165)
	for n := 1; n <= 3; n++ {
		r := reviewOf(t, file+stage("end", "check", n, 150), lesson.ReadOptions{})
		for _, name := range []string{compare.NameCarryGain, compare.NameSpreadRatio} {
			f := find(t, r, r.Headlines()[0], name)
			if f.Verdict == nil || f.Verdict.Kind == compare.WorthHaving || !strings.Contains(f.Sentence(), "with too few balls") || strings.Contains(f.Sentence(), "no return") {
				t.Errorf("%d balls, %s: %s", n, name, f.Sentence())
			}
		}
	}
}

// A drift that carries the old swing along is told as such.
func TestDriftIsTold(t *testing.T) {
	file := header + stage("old", "baseline", 12, 150) + stage("new", "full", 12, 165) + stage("end", "check", 12, 164)
	r := reviewOf(t, file, lesson.ReadOptions{})
	f := find(t, r, r.Headlines()[0], compare.NameCarryGain)
	if s := f.Sentence(); f.Ends == nil || !strings.Contains(s, "The old swing itself moved") {
		t.Error(s)
	}
	var b strings.Builder
	b.WriteString(header)
	for i := range 24 {
		name := "old"
		if i >= 12 {
			name = "new"
		}
		fmt.Fprintf(&b, "%s,full,%.1f,%d\n", name, 150+float64(i)+[]float64{.4, -.6, .2}[i%3], i%5-2)
	}
	if s := evidenceOf(t, reviewOf(t, b.String(), lesson.ReadOptions{})); !strings.Contains(s, "One steady drift through the whole lesson explains these balls as well") {
		t.Error(s)
	}
	if s := evidenceOf(t, r); !strings.Contains(s, "The stages explain these balls better") {
		t.Error(s)
	}
}

// With mishits before or after alone, all balls are the headline.
func TestMishitsMakeTheMixtureTheHeadline(t *testing.T) {
	clean := header + stage("old", "baseline", 12, 150) + stage("new", "full", 12, 165)
	mishit := clean + "new,full,90,1\nnew,full,85,-3\n"
	for file, all := range map[string]bool{clean: false, mishit: true} {
		r := reviewOf(t, file, lesson.ReadOptions{})
		s, err := r.Headline(context.Background())
		if err != nil || strings.Contains(s[0], "all balls count here") != all {
			t.Errorf("%v: %s", err, s)
		}
		f, mixture, err := r.headline(context.Background(), r.Headlines()[0])
		if err != nil || mixture != all || (f.Name == NameCarryGainAll) != all {
			t.Errorf("%v: %s, %v", err, f.Name, mixture)
		}
	}
}

// A gain that is just worth having alone has to be surer among the other pairs of
// the lesson; the headline, chosen beforehand, has not.
func TestWhatWasAlsoSeenHasToBeSurer(t *testing.T) {
	file := header + stage("a", "baseline", 12, 150) + stage("b", "full", 12, 157.8) + stage("c", "full", 12, 157.8) + stage("d", "full", 12, 157.8) + stage("a end", "check", 12, 150)
	r := reviewOf(t, file, lesson.ReadOptions{})
	p := r.StageToStage()[0]
	alone, seen := r.alone(context.Background(), p, compare.NameCarryGain), find(t, r, p, compare.NameCarryGain)
	if alone.err != nil || seen.Verdict == nil || seen.Verdict.Confidence >= alone.verdict.Confidence {
		t.Fatalf("alone %+v, among others %+v", alone, seen)
	}
	if alone.verdict.Kind != compare.WorthHaving || seen.Verdict.Kind != compare.Probably || !strings.Contains(seen.Sentence(), "Several comparisons") {
		t.Errorf("alone %v (C %g), among others %v (C %g)", alone.verdict.Kind, alone.verdict.Confidence, seen.Verdict.Kind, seen.Verdict.Confidence)
	}
	head := find(t, r, r.Headlines()[0], compare.NameCarryGain)
	if raw := r.alone(context.Background(), r.Headlines()[0], compare.NameCarryGain); head.Verdict.Confidence != raw.verdict.Confidence {
		t.Errorf("the headline was made to be surer: %g, %g", head.Verdict.Confidence, raw.verdict.Confidence)
	}
}

func TestReadExpectation(t *testing.T) {
	for _, c := range []struct {
		text string
		unit lesson.Unit
		want float64
		ok   bool
	}{
		{"8", "yd", 8, true}, {" +8 yd ", "yd", 8, true}, {"8 yards longer.", "yd", 8, true}, {"3,5 shorter", "yd", -3.5, true}, {"-4", "yd", -4, true},
		{"−4 yd", "yd", -4, true}, {"-4 less", "yd", -4, true}, {"10 m", "yd", 10 / 0.9144, true}, {"30 feet more", "yd", 10, true}, {"5 yd", "m", 4.572, true},
		{"", "yd", 0, false}, {"straighter", "yd", 0, false}, {"-8 longer", "yd", 0, false}, {"8 % tighter", "yd", 0, false}, {"1e9", "yd", 0, false}, {"8 or 9", "yd", 0, false},
	} {
		got, ok := readExpectation(c.text, c.unit)
		if ok != c.ok || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%q in %s: %g, %v; want %g, %v", c.text, c.unit, got, ok, c.want, c.ok)
		}
	}
}

func TestExpectationIsScored(t *testing.T) {
	with := func(expect string) *Review {
		rows := strings.Split(strings.TrimSpace(stage("old", "baseline", 12, 150)+stage("new", "full", 12, 165)), "\n")
		for i := range rows {
			rows[i] += ","
			if i >= 12 {
				rows[i] += expect
			}
		}
		return reviewOf(t, "stage,intent,carry_yd,side_yd,expect\n"+strings.Join(rows, "\n")+"\n", lesson.ReadOptions{})
	}
	if s := evidenceOf(t, with("25 yd longer")); !strings.Contains(s, "Expected was 25.0 yd longer: these balls don't fit that. Measured was 15.0 yd longer, so 10.0 yd less than expected.") {
		t.Error(s)
	}
	if s := evidenceOf(t, with("straighter")); !strings.Contains(s, "“straighter”, can't be held against the gain") {
		t.Error(s)
	}
	if s := evidenceOf(t, with("")); strings.Contains(s, "xpected") {
		t.Error(s)
	}
	text, err := with("15").JSON(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Expectations []struct {
			Before, After string
			Expected, Off float64
			Held          bool
		}
	}
	if err := json.Unmarshal(text, &got); err != nil || len(got.Expectations) != 1 {
		t.Fatalf("%+v, %v", got, err)
	}
	if e := got.Expectations[0]; e.Before != "old" || e.After != "new" || e.Expected != 15 || math.Abs(e.Off) > 1e-9 || !e.Held {
		t.Errorf("%+v", e)
	}
}

// The check on what was worked on: the columns that moved are named, and where
// none did that is said.
func TestWorkedOn(t *testing.T) {
	lessonWith := func(shift float64) *Review {
		var b strings.Builder
		b.WriteString("stage,carry_yd,side_yd,path_deg,club_speed_mph\n")
		for i := range 24 {
			name, path := "old", -4+float64(i%3)
			if i >= 12 {
				name, path = "new", path+shift
			}
			fmt.Fprintf(&b, "%s,%d,%d,%.1f,%d\n", name, 150+i%4, i%5-2, path, 80+i%2)
		}
		return reviewOf(t, b.String(), lesson.ReadOptions{})
	}
	for shift, want := range map[float64]string{5: "path_deg changed: these balls fit anything from", 0: "of 2 things measured none can be seen to have changed"} {
		s, err := lessonWith(shift).WorkedOn(context.Background())
		if err != nil || len(s) != 1 || !strings.Contains(s[0], want) {
			t.Errorf("%g: %q, %v", shift, s, err)
		}
	}
	s, err := reviewOf(t, header+stage("a", "full", 6, 150)+stage("b", "full", 6, 160), lesson.ReadOptions{}).WorkedOn(context.Background())
	if err != nil || len(s) != 1 || !strings.Contains(s[0], "Nothing else was measured") {
		t.Errorf("%q, %v", s, err)
	}
}
