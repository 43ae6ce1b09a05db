package review

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// reviewOf reviews the lesson in a text of comma separated values.
func reviewOf(t *testing.T, csv string, o lesson.ReadOptions) *Review {
	t.Helper()
	l, err := lesson.Read(strings.NewReader(csv), o)
	if err != nil {
		t.Fatal(err)
	}
	r, err := New(l, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// stage writes n rows of a stage around a carry; the offsets repeat, have mean
// 0 over any six and are no line.
func stage(name, intent string, n int, carry float64) string {
	var b strings.Builder
	for i := range n {
		d := []float64{-3, 2, -1, 4, -2, 0}[i%6]
		s := []float64{2, -4, 5, 1, -3, -1}[i%6]
		fmt.Fprintf(&b, "%s,%s,%.1f,%.1f\n", name, intent, carry+d, s)
	}
	return b.String()
}

const header = "stage,intent,carry_yd,side_yd\n"

func find(t *testing.T, r *Review, p lesson.Pair, name string) Finding {
	t.Helper()
	f, err := r.Find(context.Background(), p, name)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// The demo lesson was drawn with one real gain and one stage without any: the
// review must find the one and not the other. What was drawn is in
// datasets/demo-lesson/truth.json.
func TestDemoReviewFindsTheGain(t *testing.T) {
	r, err := Open(Source{})
	if err != nil {
		t.Fatal(err)
	}
	truth, err := datasets.DemoTruth()
	if err != nil {
		t.Fatal(err)
	}
	carry := map[string]float64{}
	for _, s := range truth {
		carry[s.Stage] = s.Carry
	}
	for _, want := range []struct {
		before, after string
		headline      bool
		kind          compare.VerdictKind
	}{
		{"as she came", "room for the arms", true, compare.WorthHaving},
		{"as she came", "slow takeaway", false, compare.CantTell},
		{"slow takeaway", "room for the arms", false, compare.WorthHaving},
		{"room for the arms", "old swing again", false, compare.Worse},
	} {
		i := slices.IndexFunc(r.Pairs, func(p lesson.Pair) bool {
			return p.Before.Stage.Name == want.before && p.After.Stage.Name == want.after
		})
		if i < 0 {
			t.Errorf("%q is not compared with %q", want.after, want.before)
			continue
		}
		f := find(t, r, r.Pairs[i], compare.NameCarryGain)
		if f.Pair.Headline != want.headline || f.Verdict == nil || f.Verdict.Kind != want.kind {
			t.Errorf("%q after %q: headline %v, verdict %v; want %v, %v", want.after, want.before, f.Pair.Headline, f.Verdict, want.headline, want.kind)
			continue
		}
		drawn := carry[want.after] - carry[want.before]
		if f.Effect.Interval.Low > drawn || f.Effect.Interval.High < drawn {
			t.Errorf("%q after %q: the interval %v misses the gain drawn, %g", want.after, want.before, f.Effect.Interval, drawn)
		}
	}
	if len(r.Pairs) != 4 {
		t.Errorf("%d pairs, want 4", len(r.Pairs))
	}
}

// With the old swing hit again at the end and as long as the new one, the gain
// was no gain of the new swing.
func TestBookendTemperstheGain(t *testing.T) {
	file := header + stage("old", "baseline", 12, 150) + stage("new", "full", 12, 165)
	none := reviewOf(t, file, lesson.ReadOptions{})
	firm := reviewOf(t, file+stage("end", "check", 12, 150), lesson.ReadOptions{})
	drift := reviewOf(t, file+stage("end", "check", 12, 164), lesson.ReadOptions{})
	for _, c := range []struct {
		what string
		r    *Review
		want compare.VerdictKind
	}{
		{"without a bookend", none, compare.Probably},
		{"with the old swing as short as before", firm, compare.WorthHaving},
		{"with the old swing as long as the new", drift, compare.CantTell},
	} {
		f := find(t, c.r, c.r.Headlines()[0], compare.NameCarryGain)
		if f.Verdict == nil || f.Verdict.Kind != c.want {
			t.Errorf("%s: verdict %v, want %v", c.what, f.Verdict, c.want)
		}
	}
	if s := find(t, none, none.Headlines()[0], compare.NameCarryGain).Sentence(); !strings.Contains(s, "no return to the old swing") {
		t.Errorf("the sentence does not say what is missing: %s", s)
	}
}

// The shape that other programs rely on.
func TestJSON(t *testing.T) {
	r, err := Open(Source{})
	if err != nil {
		t.Fatal(err)
	}
	text, err := r.JSON(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Unit        string
		Level       float64
		Rows, Shots int
		Rejected    []struct {
			Line           int
			Column, Reason string
		}
		Stages []struct {
			Name, Intent, Club string
			N, Mishits         int
			Carry, Side        struct{ Mean, SD *float64 }
			Radius             *float64
		}
		Effects, Drift []struct {
			Name, Club, Before, After     string
			Headline                      bool
			BeforeValue                   *float64 `json:"before_value"`
			AfterValue                    *float64 `json:"after_value"`
			NBefore                       *int     `json:"n_before"`
			NAfter                        *int     `json:"n_after"`
			Estimate, Low, High, Level, P *float64
			Method, Verdict               *string
			Warnings                      []string
			BothEnds                      *struct{ Estimate, Low, High float64 } `json:"both_ends"`
		}
	}
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	if got.Unit != "yd" || got.Level != .95 || got.Rows != 48 || got.Shots != 47 || len(got.Rejected) != 1 || got.Rejected[0].Line != 25 || got.Rejected[0].Column != "carry_yd" || got.Rejected[0].Reason == "" {
		t.Errorf("head %+v", got)
	}
	if len(got.Stages) != 5 || got.Stages[0].N != 10 || got.Stages[0].Mishits != 1 || got.Stages[0].Radius == nil {
		t.Errorf("stages %+v", got.Stages)
	}
	if len(got.Effects) != 4*len(Names) || len(got.Drift) != 1 {
		t.Fatalf("%d effects and %d drifts, want %d and 1", len(got.Effects), len(got.Drift), 4*len(Names))
	}
	// By hand from the stage table: 120.1 - 118.5.
	drift := got.Drift[0]
	if want := *got.Stages[4].Carry.Mean - *got.Stages[0].Carry.Mean; drift.Name != "drift" || drift.Before != "as she came" || drift.After != "old swing again" ||
		drift.Headline || drift.Verdict != nil || len(drift.Warnings) == 0 || math.Abs(*drift.Estimate-want) > 1e-9 {
		t.Errorf("drift %+v, want %g", drift, want)
	}
	for i, e := range got.Effects {
		if e.Name != Names[i%len(Names)] || e.Headline != (i < len(Names)) || e.Club != "7 iron" {
			t.Errorf("effect %d is %s, headline %v", i, e.Name, e.Headline)
		}
		if e.Estimate == nil || e.Low == nil || e.High == nil || e.Method == nil || e.NBefore == nil || *e.Low > *e.Estimate || *e.Estimate > *e.High {
			t.Errorf("effect %d, %s: not complete", i, e.Name)
			continue
		}
		if (e.Verdict == nil) != (e.Name == compare.NameSideShift) || e.Verdict == nil && len(e.Warnings) == 0 {
			t.Errorf("effect %d, %s: verdict %v, warnings %v", i, e.Name, e.Verdict, e.Warnings)
		}
	}
	// The carry gain by hand from the stage table: 133.0 - 118.5.
	e := got.Effects[1]
	// The verdict is about this: 133.0 less the mean of 118.5 and 120.1.
	old := (*got.Stages[0].Carry.Mean + *got.Stages[4].Carry.Mean) / 2
	if b := e.BothEnds; b == nil || math.Abs(b.Estimate-(*got.Stages[3].Carry.Mean-old)) > 1e-9 || !(b.Low < b.Estimate && b.Estimate < b.High) {
		t.Errorf("against both ends: %+v", b)
	}
	for _, other := range got.Effects {
		gain := other.Name == compare.NameCarryGain || other.Name == NameCarryGainAll
		if want := gain && other.Before == "as she came" && other.After != "old swing again"; (other.BothEnds != nil) != want {
			t.Errorf("%s, %s after %s: both ends %+v", other.Name, other.After, other.Before, other.BothEnds)
		}
	}
	if want := *got.Stages[3].Carry.Mean - *got.Stages[0].Carry.Mean; math.Abs(*e.Estimate-want) > 1e-9 || math.Abs(*e.AfterValue-*e.BeforeValue-want) > 1e-9 {
		t.Errorf("carry gain %v, want %v", *e.Estimate, want)
	}
	again, err := r.JSON(context.Background(), nil)
	if err != nil || !bytes.Equal(text, again) {
		t.Errorf("the same lesson gives other bytes: %v", err)
	}
}

// What can't be computed is null, with a warning, and nothing fails.
func TestSmallAndOddLessons(t *testing.T) {
	for name, file := range map[string]string{
		"one shot":            header + "a,full,150,1\n",
		"one stage":           header + stage("a", "full", 8, 150),
		"one shot a stage":    header + "a,full,150,1\nb,full,160,2\n",
		"three a stage":       header + stage("a", "full", 3, 150) + stage("b", "full", 3, 170),
		"the same every time": header + strings.Repeat("a,full,150,1\n", 6) + strings.Repeat("b,full,160,1\n", 6),
		"carries of nothing":  header + strings.Repeat("a,full,0,0\n", 6) + stage("b", "full", 6, 150),
		"drills only":         header + stage("a", "drill", 6, 100) + stage("b", "drill", 6, 120),
	} {
		t.Run(name, func(t *testing.T) {
			r := reviewOf(t, file, lesson.ReadOptions{})
			text, err := r.JSON(context.Background(), nil)
			if err != nil {
				t.Fatal(err)
			}
			var got struct {
				Effects []struct {
					Name     string
					Estimate *float64
					Verdict  *string
					Warnings []string
				}
			}
			if err := json.Unmarshal(text, &got); err != nil {
				t.Fatal(err)
			}
			for _, e := range got.Effects {
				if (e.Estimate == nil || e.Verdict == nil) && len(e.Warnings) == 0 {
					t.Errorf("%s is not there and no warning says why", e.Name)
				}
				if name == "three a stage" && e.Verdict != nil && e.Name != compare.NameMishitRateChange {
					t.Errorf("%s: a verdict on three balls: %s", e.Name, *e.Verdict)
				}
			}
			ctx := context.Background()
			for _, f := range []func() ([]string, error){
				func() ([]string, error) { return r.Opening(), nil },
				func() ([]string, error) { return r.Headline(ctx) },
				func() ([]string, error) { return r.SpreadSentences(ctx) },
				func() ([]string, error) { return r.Evidence(ctx) },
				func() ([]string, error) { return r.WorkedOn(ctx) },
				func() ([]string, error) { return r.Sentences(ctx, r.StageToStage(), compare.NameCarryGain) },
			} {
				sentences, err := f()
				if err != nil || len(sentences) == 0 {
					t.Errorf("sentences %v, %v", sentences, err)
				}
				for _, s := range sentences {
					if strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
						t.Errorf("a number that is none: %s", s)
					}
				}
			}
		})
	}
}

// Text from a file stays what it is, however hostile.
func TestHostileStageNames(t *testing.T) {
	long := strings.Repeat("x", 1<<20-3)
	for _, name := range []string{"<script>alert(1)</script>", "=HYPERLINK(1)", "a\x1b[31m\x07b", "“" + long} {
		file := header + stage(name, "full", 6, 150) + stage("new", "full", 6, 160)
		r := reviewOf(t, file, lesson.ReadOptions{})
		text, err := r.JSON(context.Background(), nil)
		if err != nil {
			t.Fatal(err)
		}
		var got struct{ Stages []struct{ Name string } }
		if err := json.Unmarshal(text, &got); err != nil {
			t.Fatal(err)
		}
		if got.Stages[0].Name != name {
			t.Errorf("the name %.40q came back as %.40q", name, got.Stages[0].Name)
		}
		if bytes.Contains(text, []byte("<script")) || bytes.ContainsAny(text, "\x1b\x07") {
			t.Errorf("%.40q is not escaped in the JSON", name)
		}
	}
}

func TestOpenSaysWhatIsWrong(t *testing.T) {
	dir := t.TempDir()
	write := func(name, content string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	for _, c := range []struct {
		source Source
		want   string
	}{
		{Source{File: filepath.Join(dir, "none.csv")}, "none.csv"},
		{Source{File: write("empty.csv", "")}, "empty"},
		{Source{File: write("bad.csv", "a,b\n1,2\n")}, "carry"},
		{Source{File: write("lost.csv", header+"a,full,,\n")}, "nothing to review"},
		{Source{Stages: "1-3"}, "1-3"},
	} {
		if _, err := Open(c.source); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: error %v, want one about %q", c.source, err, c.want)
		}
	}
}

// A stages.csv beside the lesson marks it up, and the review says so; mark-up
// given by hand comes before it.
func TestStagesBesideTheLesson(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "shots.csv")
	rows := "carry_yd,side_yd\n" + strings.Repeat("150,1\n152,-2\n149,3\n", 4)
	if err := os.WriteFile(file, []byte(rows), 0o644); err != nil {
		t.Fatal(err)
	}
	marks := "from shot,to shot,stage,intent\n1,6,old,baseline\n7,12,new,full\n"
	if err := os.WriteFile(filepath.Join(dir, StagesFile), []byte(marks), 0o644); err != nil {
		t.Fatal(err)
	}
	r, err := Open(Source{File: file})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Stages) != 2 || r.Stages[0].Stage.Name != "old" || !strings.Contains(strings.Join(r.Opening(), " "), StagesFile) {
		t.Errorf("stages %+v, opening %v", r.Stages, r.Opening())
	}
	r, err = Open(Source{File: file, Stages: "1-4:a,5-12:b"})
	if err != nil {
		t.Fatal(err)
	}
	if r.Stages[0].Stage.Name != "a" {
		t.Errorf("the mark-up given by hand was not taken: %+v", r.Stages[0].Stage)
	}
}

// A mapping beside the lesson is used, and the review says so; one that was given
// comes before it.
func TestColumnsBesideTheLesson(t *testing.T) {
	dir := t.TempDir()
	write := func(name, content string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	file := write("shots.csv", "Weite,Seite\n"+strings.Repeat("150,1\n152,-2\n149,3\n", 4))
	mapping := func(unit string) string {
		return `{"fields":[{"name":"Weite","measure":"carry","unit":"` + unit + `"},{"name":"Seite","measure":"side","unit":"` + unit + `"}]}`
	}
	write(ColumnsFile, mapping("m"))
	r, err := Open(Source{File: file})
	if err != nil {
		t.Fatal(err)
	}
	if r.Lesson.Unit != lesson.Metres || !strings.Contains(strings.Join(r.Opening(), " "), "what the columns are comes from a mapping") {
		t.Errorf("unit %s, opening %v", r.Lesson.Unit, r.Opening())
	}
	if r, err = Open(Source{File: file, Columns: write("other.json", mapping("yd"))}); err != nil || r.Lesson.Unit != lesson.Yards {
		t.Errorf("the mapping that was given was not taken: %v", err)
	}
	for _, c := range []struct {
		source Source
		want   string
	}{
		{Source{File: file, Columns: filepath.Join(dir, "none.json")}, "none.json"},
		{Source{File: file, Columns: write("bad.json", "{")}, "no JSON"},
		{Source{File: dir}, "is a folder: give the file in it, such as " + file},
	} {
		if _, err := Open(c.source); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: error %v, want one about %q", c.source, err, c.want)
		}
	}
}

// Whoever reads a side of a mirrored lesson is told, on the page and in the
// numbers; nothing else changes.
func TestMirroredReviewSaysSo(t *testing.T) {
	file := header + stage("old", "baseline", 8, 150) + stage("new", "full", 8, 155)
	plain, turned := reviewOf(t, file, lesson.ReadOptions{}), reviewOf(t, file, lesson.ReadOptions{Mirror: true})
	ctx := context.Background()
	texts := func(r *Review) map[string]string {
		shift, err := r.Sentences(ctx, r.Headlines(), compare.NameSideShift)
		if err != nil {
			t.Fatal(err)
		}
		effects, err := r.EffectTable(ctx, r.Headlines(), compare.NameSideShift)
		if err != nil {
			t.Fatal(err)
		}
		columns, err := r.ColumnTable(ctx, r.Headlines())
		if err != nil {
			t.Fatal(err)
		}
		numbers, err := r.JSON(ctx, nil)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := r.CSV(ctx)
		if err != nil {
			t.Fatal(err)
		}
		fronts, err := r.Fronts(ctx)
		if err != nil {
			t.Fatal(err)
		}
		now, err := r.Now(ctx)
		if err != nil {
			t.Fatal(err)
		}
		return map[string]string{
			"table of effects": string(rows), "front": fronts[0].Says, "now": now.Says, "opening": strings.Join(r.Opening(), " "), "shift": strings.Join(shift, " "), "stages": r.StageTable().Caption, "effects": effects.Caption,
			"title": r.Title("x"), "numbers": strings.ReplaceAll(string(numbers), `"mirrored": true`, mirrored), "columns": columns.Caption,
		}
	}
	before, after := texts(plain), texts(turned)
	for what := range before {
		if what == "columns" { // nothing else was measured, and its caption says that
			continue
		}
		if strings.Contains(before[what], "exchanged") || !strings.Contains(after[what], "ight and left are exchanged") {
			t.Errorf("%s: %q, mirrored %q", what, before[what], after[what])
		}
	}
	a, b := find(t, plain, plain.Headlines()[0], compare.NameSideShift), find(t, turned, turned.Headlines()[0], compare.NameSideShift)
	if math.Abs(a.Effect.Estimate+b.Effect.Estimate) > 1e-12 {
		t.Errorf("a shift of %v is %v in the mirror", a.Effect.Estimate, b.Effect.Estimate)
	}
}
