package lesson

import (
	"errors"
	"strings"
	"testing"
)

// outline writes stages and the balls of each: "old/full:1,2 new/drill:3".
func outline(l *Lesson) string {
	var b strings.Builder
	for i, s := range l.Stages {
		if i > 0 {
			b.WriteString(" | ")
		}
		b.WriteString(s.Name + "/" + string(s.Intent))
		if s.Bookend {
			b.WriteString("/bookend")
		}
		b.WriteString(":")
		for _, shot := range l.Shots {
			if shot.Stage == s.Name {
				b.WriteString(" " + string(rune('0'+shot.Ball)))
			}
		}
	}
	return b.String()
}

func rowsOf(n int) string { return lines(strings.Split(strings.Repeat("150,1 ", n), " ")[:n]...) }

func TestSpec(t *testing.T) {
	tests := []struct{ spec, want string }{
		{"1-3:old,4-6:new/drill", "old/full: 1 2 3 | new/drill: 4 5 6"},
		{" 4 - 6 : new / Drill , 1-3 : old ", "old/full: 1 2 3 | new/drill: 4 5 6"},
		{"1:a,2:b,3-6:c", "a/full: 1 | b/full: 2 | c/full: 3 4 5 6"},
		{"1-2:old,3-4:new,5-6:Old", "old/full: 1 2 5 6 | new/full: 3 4"},
		{"1-2:left/right/drill,3-6:a:b", "left/right/drill: 1 2 | a:b/full: 3 4 5 6"},
		{"1-2:old/baseline,3-4:new,5-6:old", "old/baseline: 1 2 | new/full: 3 4 | old again/baseline/bookend: 5 6"},
	}
	for _, tt := range tests {
		if got := outline(mustRead(t, rowsOf(6), ReadOptions{Stages: tt.spec})); got != tt.want {
			t.Errorf("%q\ngot  %s\nwant %s", tt.spec, got, tt.want)
		}
	}
}

func TestSpecErrors(t *testing.T) {
	tests := []struct {
		spec   string
		at     int
		reason string
	}{
		{"1-6", 1, `"1-6" has no colon`},
		{"1-3:old,", 9, `"" has no colon`},
		{"1-3:old, 4-x:new", 10, `"x" is no ball number`},
		{"0-6:old", 1, `"0" is no ball number`},
		{"1-99999999999999999999:old", 1, "is no ball number"},
		{"-6:old", 1, `"" is no ball number`},
		{"6-1:old", 1, "balls 6 to 1 run backwards"},
		{"1-3:,4-6:new", 5, "a stage needs a name"},
		{"1-3:ö,4-6:new/drlil", 15, `"drlil" is no intent: write baseline, drill, full or check`},
		{"1-6:new/", 9, `"" is no intent`},
		{"1-3:old,3-6:new", 9, "ball 3 is in 1-3 (old) and in 3-6 (new)"},
		{"1-3:old,4-7:new", 9, "balls 4 to 7, but the lesson has 6 rows"},
		{"1-2:old,5-6:new", 9, "balls 3, 4 are in no range"},
		{"1-5:old", 1, "ball 6 is in no range"},
	}
	for _, tt := range tests {
		_, err := Read(strings.NewReader(rowsOf(6)), ReadOptions{Stages: tt.spec})
		var m *MarkupError
		if !errors.As(err, &m) {
			t.Errorf("%q: got %v, want a MarkupError", tt.spec, err)
			continue
		}
		if m.At != tt.at || m.Spec != tt.spec || !strings.Contains(m.Reason, tt.reason) {
			t.Errorf("%q: got place %d and %q, want %d and %q", tt.spec, m.At, m.Reason, tt.at, tt.reason)
		}
	}
	_, err := Read(strings.NewReader(rowsOf(30)), ReadOptions{Stages: "1:old"})
	if err == nil || !strings.Contains(err.Error(), "balls 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, and 19 more are in no range") {
		t.Errorf("got %v", err)
	}
}

// A rejected row has a number like any other, and needs no stage.
func TestSpecCountsRejectedRows(t *testing.T) {
	l := mustRead(t, lines("150,1", "", "x,1", "151,1", "y,1"), ReadOptions{Stages: "1:a,3:b"})
	if got, want := outline(l), "a/full: 1 | b/full: 3"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}
