package lesson

import (
	"errors"
	"strings"
	"testing"
)

func TestStages(t *testing.T) {
	// Each row is stage/intent/club; what is left out is empty.
	tests := []struct{ name, rows, want string }{
		{"no intent is full", "a a b", "a/full: 1 2 | b/full: 3"},
		{"an intent said once holds", "a/drill a b/check", "a/drill: 1 2 | b/check: 3"},
		{"even when said late", "a a/baseline b", "a/baseline: 1 2 | b/full: 3"},
		{"a name that comes back is the same stage", "a b A", "a/full: 1 3 | b/full: 2"},
		{"two intents are two stages", "a/full a/drill b a/full a/check", "a/full: 1 4 | a (drill)/drill: 2 | b/full: 3 | a again/check/bookend: 5"},
		{"an ending that is taken", "a/full a/drill a_(drill)/full", "a/full: 1 | a (drill) (drill)/drill: 2 | a (drill)/full: 3"},
		{"a bookend of the first name", "old/baseline new old/baseline", "old/baseline: 1 | new/full: 2 | old again/baseline/bookend: 3"},
		{"a bookend of its own name", "old/baseline new last/check last/check", "old/baseline: 1 | new/full: 2 | last/check/bookend: 3 4"},
		{"a bookend whose name is taken twice", "old/baseline old_again old/check", "old/baseline: 1 | old again/full: 2 | old again again/check/bookend: 3"},
		{"another intent of the name in between", "old/baseline old/full old/check", "old/baseline: 1 | old (full)/full: 2 | old again/check/bookend: 3"},
		{"nothing in between", "old/baseline old/check", "old/baseline: 1 | old (check)/check: 2"},
		{"only a drill in between", "old/baseline swish/drill last/check", "old/baseline: 1 | swish/drill: 2 | last/check: 3"},
		{"a drill between the same name", "old/baseline swish/drill old/baseline", "old/baseline: 1 3 | swish/drill: 2"},
		{"a full stage at the end is no bookend", "old/baseline new old/full", "old/baseline: 1 | new/full: 2 | old (full)/full: 3"},
		{"in between with another club", "old/baseline/7i new/full/pw last/check/7i", "old/baseline: 1 | new/full: 2 | last/check: 3"},
		{"in between with the same club in other case", "old/baseline/7i new/full/7I last/check/7i", "old/baseline: 1 | new/full: 2 | last/check/bookend: 3"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var b strings.Builder
			b.WriteString("stage,intent,club,carry_yd,side_yd\n")
			for row := range strings.FieldsSeq(tt.rows) {
				cells := strings.Split(row+"//", "/")
				b.WriteString(strings.ReplaceAll(cells[0], "_", " ") + "," + cells[1] + "," + cells[2] + ",150,1\n")
			}
			if got := outline(mustRead(t, b.String(), ReadOptions{})); got != tt.want {
				t.Errorf("got  %s\nwant %s", got, tt.want)
			}
		})
	}
}

func TestStagesWithoutStageColumn(t *testing.T) {
	l := mustRead(t, "carry_yd,side_yd\n1,1\n1,1\n", ReadOptions{})
	if got, want := outline(l), "all shots/full: 1 2"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	l = mustRead(t, "intent,expect,carry_yd,side_yd\nBaseline,5 more,1,1\n,,1,1\ndrill,,1,1\n", ReadOptions{})
	if got, want := outline(l), "baseline/baseline: 1 | full/full: 2 | drill/drill: 3"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if got := l.Stages[0].Expect; got != "5 more" {
		t.Errorf("expect is %q", got)
	}
}

// A void shot at the very end does not hide the bookend, and one alone does
// not make it.
func TestBookendAndVoidShots(t *testing.T) {
	read := func(side string) string {
		return outline(mustRead(t, rowsOf(6), ReadOptions{StagesFile: strings.NewReader("from,to,stage,intent,void,why\n" + side)}))
	}
	if got, want := read("1,2,old,baseline,,\n3,4,new,,,\n5,5,old,baseline,,\n6,6,,,x,rain\n"), "old/baseline: 1 2 | new/full: 3 4 | old again/baseline/bookend: 5"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if got, want := read("1,1,old,baseline,,\n2,3,new,,,\n4,4,old,baseline,,\n5,5,,,x,rain\n6,6,old,baseline,,\n"), "old/baseline: 1 | new/full: 2 3 | old again/baseline/bookend: 4 6"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if got, want := read("1,2,old,baseline,,\n3,4,new,,x,rain\n5,6,last,check,,\n"), "old/baseline: 1 2 | new/full: 3 4 | last/check: 5 6"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func TestUnknownIntent(t *testing.T) {
	_, err := Read(strings.NewReader("Intent,carry_yd,side_yd\nfull,1,1\nfll,1,1\n"), ReadOptions{})
	var m *MarkupError
	if !errors.As(err, &m) || m.At != 3 || err.Error() != `lesson: lesson file, line 3: "fll" under "Intent" is no intent: write baseline, drill, full or check` {
		t.Errorf("got %v", err)
	}
}

// A name that is made up is none of the file's, in any case, so that it is still
// its own when what was written is read.
func TestMadeUpNamesAreFree(t *testing.T) {
	l := mustRead(t, "stage,intent,carry_yd,side_yd\nA,full,1,0\nA,drill,2,0\na (Drill),full,3,0\n", ReadOptions{})
	if len(l.Stages) != 3 || l.Stages[1].Name != "A (drill) (drill)" {
		t.Errorf("%+v", l.Stages)
	}
}
