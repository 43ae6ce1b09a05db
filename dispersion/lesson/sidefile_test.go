package lesson

import (
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"
)

func TestSideFile(t *testing.T) {
	side := "from shot;To Shot;stage;intent;cue;expect;void;why\r\n" +
		"1;2;old;baseline;;;;\r\n" +
		"3;4;new;drill;\"turn; then go\";10 yd longer;no;\r\n" +
		"5;6;new;full;;;;\r\n" +
		"2;2;;;;;Yes;phone rang\r\n"
	l := mustRead(t, rowsOf(6), ReadOptions{StagesFile: strings.NewReader("\uFEFF" + side)})
	if got, want := outline(l), "old/baseline: 1 2 | new/drill: 3 4 | new (full)/full: 5 6"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if s := l.Stages[1]; s.Cue != "turn; then go" || s.Expect != "10 yd longer" {
		t.Errorf("got %+v", s)
	}
	for _, s := range l.Shots {
		if want := map[int]string{2: "phone rang"}[s.Ball]; s.Void != want {
			t.Errorf("ball %d is void for %q, want %q", s.Ball, s.Void, want)
		}
	}
	if got := len(l.Groups()[0].Shots); got != 1 {
		t.Errorf("%d shots count in the first group, want 1", got)
	}
}

// Void rows alone leave the file's own stages as they are, and void balls
// need no stage.
func TestSideFileVoidOnly(t *testing.T) {
	file := "stage,carry_yd,side_yd\na,1,1\na,1,1\nb,1,1\n"
	l := mustRead(t, file, ReadOptions{StagesFile: strings.NewReader("from,to,void,why\n1,1,x,warm-up\n")})
	if got, want := outline(l), "a/full: 1 2 | b/full: 3"; got != want || len(l.Warnings) != 0 {
		t.Errorf("got %s, want %s; warnings %v", got, want, l.Warnings)
	}
	l = mustRead(t, rowsOf(4), ReadOptions{StagesFile: strings.NewReader("from,to,stage,void,why\n1,2,,x,warm-up\n3,4,old,,\n")})
	if got, want := outline(l), "old/full: 3 4"; got != want || l.Shots[0].Stage != "" || len(l.Groups()) != 1 {
		t.Errorf("got %s, want %s; ball 1 is in %q", got, want, l.Shots[0].Stage)
	}
}

func TestSideFileErrors(t *testing.T) {
	const header = "from,to,stage,intent,cue,expect,void,why\n"
	tests := []struct {
		name, file string
		line       int
		reason     string
	}{
		{"no intent of ours", header + "1,2,old,baseline,,,,\n3,4,new,drlil,,,,\n", 3, `"drlil" is no intent: write baseline, drill, full or check`},
		{"no number", header + "1,two,old,,,,,\n", 2, `"two" is no ball number`},
		{"no last ball", header + "1,,old,,,,,\n", 2, `"" is no ball number`},
		{"backwards", header + "4,1,old,,,,,\n", 2, "run backwards"},
		{"void without why", header + "1,2,,,,,yes,\n", 2, "reason under why"},
		{"why without void", header + "1,2,old,,,,,wind\n", 2, "a why but no void"},
		{"strange void", header + "1,2,old,,,,perhaps,wind\n", 2, `void is "perhaps": write yes`},
		{"does nothing", header + "1,2,,,,,,\n", 2, "does nothing"},
		{"intent alone", header + "1,2,,drill,,,yes,wind\n", 2, "an intent without a stage"},
		{"cue alone", header + "1,2,,,turn,,yes,wind\n", 2, "a cue or expect without a stage"},
		{"too few fields", header + "1,2\n", 2, "2 fields where the header has 8"},
		{"open quote", header + "1,2,\"old,,,,,\n", 2, "quote"},
		{"overlap", header + "1,3,old,,,,,\n3,4,new,,,,,\n", 3, "ball 3 is in 1-3 (old) and in 3-4 (new)"},
		{"void twice", header + "1,4,old,,,,yes,wind\n\n3,3,,,,,yes,rain\n", 4, "ball 3 is void twice"},
		{"past the end", header + "1,5,old,,,,,\n", 2, "balls 1 to 5, but the lesson has 4 rows"},
		{"in no range", header + "1,3,old,,,,,\n", 2, "ball 4 is in no range"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Read(strings.NewReader(rowsOf(4)), ReadOptions{StagesFile: strings.NewReader(tt.file)})
			var m *MarkupError
			if !errors.As(err, &m) {
				t.Fatalf("got %v, want a MarkupError", err)
			}
			if m.At != tt.line || m.File != "stages file" || !strings.Contains(err.Error(), tt.reason) {
				t.Errorf("got %q, want line %d and %q", err, tt.line, tt.reason)
			}
		})
	}
	for name, tt := range map[string]struct {
		file io.Reader
		want string
	}{
		"empty":       {strings.NewReader(""), "lesson: stages file: " + ErrEmpty.Error()},
		"header only": {strings.NewReader(header), "lesson: stages file: " + ErrNoRows.Error()},
		"no from":     {strings.NewReader("stage,to\nold,3\n"), "the header needs from and to"},
		"from twice":  {strings.NewReader("from,from_shot,to\n1,1,3\n"), "two columns of from"},
		"unreadable":  {iotest.ErrReader(io.ErrUnexpectedEOF), "reading the stages file: " + io.ErrUnexpectedEOF.Error()},
	} {
		if _, err := Read(strings.NewReader(rowsOf(4)), ReadOptions{StagesFile: tt.file}); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: got %v, want %q", name, err, tt.want)
		}
	}
}
