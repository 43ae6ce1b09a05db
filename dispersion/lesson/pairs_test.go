package lesson

import (
	"slices"
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
