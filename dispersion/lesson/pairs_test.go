package lesson

import (
	"slices"
	"strings"
	"testing"
)

func pairList(l *Lesson) (list []string) {
	for _, p := range l.Pairs() {
		s := p.Before.Club + " " + p.Before.Stage.Name + ">" + p.After.Stage.Name
		if p.Headline {
			s += " headline"
		}
		if p.Bookend != nil {
			s += " with " + p.Bookend.Stage.Name
		}
		list = append(list, s)
	}
	return list
}

func TestPairs(t *testing.T) {
	tests := []struct {
		name   string
		stages []string
		want   []string
	}{
		{"one stage", []string{"a: 1"}, nil},
		{"one stage and a drill", []string{"a: 1", "d/drill: 1"}, nil},
		{"two stages", []string{"a: 1", "b: 1"}, []string{"7i a>b headline"}},
		{"a drill between", []string{"a: 1", "d/drill: 1", "b: 1"}, []string{"7i a>b headline"}},
		{"three stages", []string{"a: 1", "b: 1", "c: 1"}, []string{"7i a>c headline", "7i a>b", "7i b>c"}},
		{"baseline, full, bookend", []string{"a/baseline: 1", "b: 1", "a/baseline: 1"},
			[]string{"7i a>b headline with a again", "7i b>a again"}},
		{"baseline, drill, full, full, bookend", []string{"a/baseline: 1", "d/drill: 1", "b: 1", "c: 1", "z/check: 1"},
			[]string{"7i a>c headline with z", "7i a>b with z", "7i b>c with z", "7i c>z"}},
		{"a check with nothing between", []string{"a/baseline: 1", "d/drill: 1", "z/check: 1"}, []string{"7i a>z headline"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := pairList(carries(t, tt.stages...)); !slices.Equal(got, tt.want) {
				t.Errorf("got  %q\nwant %q", got, tt.want)
			}
		})
	}
}

// Headlines of all clubs come first. With the wedge nothing was hit between
// the old swing and the last stage, so there it is no bookend.
func TestPairsOfTwoClubs(t *testing.T) {
	const file = "stage,intent,club,carry_yd,side_yd\n" +
		"a,baseline,7i,1,1\nb,full,7i,1,1\nc,full,7i,1,1\n" +
		"a,baseline,pw,1,1\n" +
		"z,check,7i,1,1\nz,check,pw,1,1\n"
	got := pairList(mustRead(t, file, ReadOptions{}))
	want := []string{"7i a>c headline with z", "pw a>z headline", "7i a>b with z", "7i b>c with z", "7i c>z"}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

// A row of averages at the end of an export belongs to no stage: it is neither
// the headline's after nor the end of the lesson.
func TestRowsOfNoStageAreComparedWithNothing(t *testing.T) {
	l, err := Read(strings.NewReader("stage,intent,carry_yd,side_yd\nold,baseline,150,1\nnew,full,160,2\nold,baseline,151,3\n,,153.7,2\n"), ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	pairs := l.Pairs()
	if len(pairs) != 2 || pairs[0].After.Stage.Name != "new" || pairs[0].Bookend == nil || !pairs[1].After.Stage.Bookend {
		t.Errorf("pairs %+v", pairs)
	}
	if len(l.Shots) != 4 || len(l.Warnings) == 0 {
		t.Errorf("%d shots, warnings %v", len(l.Shots), l.Warnings)
	}
}

// Rows without a stage are compared with nothing, whatever their intents.
func TestPairsLeaveUnnamedOut(t *testing.T) {
	l := mustRead(t, "stage,intent,carry_yd,side_yd\na,baseline,150,1\na,baseline,151,1\n,full,150,1\n,full,152,1\n,baseline,150,1\n,baseline,153,1\n", ReadOptions{})
	if len(l.Stages) != 3 || l.Stages[2].Name != "unnamed (baseline)" {
		t.Fatalf("%+v", l.Stages)
	}
	if pairs := l.Pairs(); len(pairs) != 0 {
		t.Errorf("%q is compared with %q", pairs[0].Before.Stage.Name, pairs[0].After.Stage.Name)
	}
}
