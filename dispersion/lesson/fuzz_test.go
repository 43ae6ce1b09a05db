package lesson

import (
	"math"
	"strings"
	"testing"
)

// FuzzRead looks for a file or mark-up that makes Read or what follows panic,
// lose a row or count one twice.
func FuzzRead(f *testing.F) {
	const side = "from,to,stage,intent,cue,expect,void,why\n"
	for _, seed := range [][3]string{
		{"carry_yd,side_yd\n150,1\n151,-2\n", "1:a,2:b/drill", ""},
		{"carry,side_ft\n1e200,1e-200\n0,0\n1e-300,1e6\n1000000,-1000000\n1e6,1e999\nNaN,Inf\n", "", ""},
		{"\uFEFFStage;Intent;Club;Carry (m);Side (m);note\r\nold;baseline;7i;150,5;-2;\"a\r\nb\"\r\nold;;;1.5;2;\r\n", "", ""},
		{"stage\tintent\tcarry_m\tside_yd\r\told\tdrill\t1\t1\rold\tcheck\t5\t5\r", "", side + "1,1,x,full,c,e,,\n2,2,,,,,yes,w\n"},
		{"carry_yd,side_yd,a,a,,\n\"150,1\n151,\"2\n152,\"3\"x\n\"\"\"\",1\n", "1-4:a", ""},
		{"time,surface,carry_yd,side_yd\n10:00,mat,1,1\n9:00,grass,1,1\nx,,5e2,5e3\n", "", ""},
		{"pupil,session,carry_yd,side_yd\na,1,1,1\n,,,\nx\n", "", ""},
		{"stage,intent,club,carry_yd,side_yd\na,baseline,7,1,1\nb,,7,1,1\na,baseline,7,1,1\n", "", ""},
		{"carry_yd,side_yd,n\xE4me\n1,1,\xFF\xFE\n1,1,\x00\n", "1-2:\xE4/\xF6", side + "\xE4,1,,,,,,\n"},
		{"", "", ""},
		{"\r\n \r", "-:/,", "from,to\n"},
	} {
		f.Add(seed[0], seed[1], seed[2])
	}
	f.Fuzz(func(t *testing.T, file, spec, side string) {
		o := ReadOptions{Stages: spec}
		if side != "" {
			o.StagesFile = strings.NewReader(side)
		}
		l, err := Read(strings.NewReader(file), o)
		if err != nil {
			if l != nil || err.Error() == "" {
				t.Fatal("an error without a text, or with a lesson")
			}
			return
		}
		checkRows(t, l)
		checkGroups(t, l)
		for _, p := range l.Pairs() {
			if p.Before.Club != p.After.Club || p.Before.Stage.Name == p.After.Stage.Name || p.Before.Stage.Intent == Drill || p.After.Stage.Intent == Drill {
				t.Fatalf("a pair of %v and %v", p.Before.Stage, p.After.Stage)
			}
		}
		for _, w := range l.Warnings {
			if w.Error() == "" {
				t.Fatal("a warning without a text")
			}
		}
	})
}

// checkRows: every data row is a shot or a rejection, once, in order, and
// every number can be reckoned with.
func checkRows(t *testing.T, l *Lesson) {
	if l.Rows != len(l.Shots)+len(l.Rejected) {
		t.Fatalf("%d rows, but %d shots and %d rejected", l.Rows, len(l.Shots), len(l.Rejected))
	}
	shots, rejected := l.Shots, l.Rejected
	line := 1
	for ball := 1; ball <= l.Rows; ball++ {
		next := 0
		switch {
		case len(shots) > 0 && shots[0].Ball == ball:
			next, shots = shots[0].Line, shots[1:]
		case len(rejected) > 0 && rejected[0].Reason != "":
			next, rejected = rejected[0].Line, rejected[1:]
		}
		if next <= line {
			t.Fatalf("ball %d is on line %d, after line %d", ball, next, line)
		}
		line = next
	}
	for _, s := range l.Shots {
		if !(s.Carry >= 0 && s.Carry <= maxLength) || !(math.Abs(s.Side) <= 4*maxLength) {
			t.Fatalf("carry %v, side %v", s.Carry, s.Side)
		}
		for _, c := range l.Columns {
			v, number := s.Value(c.Name)
			_, text := s.Text(c.Name)
			if number != (c.Numeric && text) || math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("column %+v: value %v, %v, text %v", c, v, number, text)
			}
		}
	}
}

// checkGroups: the groups hold each shot that counts once, and no other.
func checkGroups(t *testing.T, l *Lesson) {
	seen := map[int]bool{}
	for _, g := range l.Groups() {
		if _, err := g.All(); err != nil {
			t.Fatalf("a group without landing points: %v", err)
		}
		if _, err := g.Clean(); err != nil {
			t.Fatalf("nothing but mishits: %v", err)
		}
		if len(g.Mishit) != len(g.Shots) {
			t.Fatalf("%d shots, %d marks", len(g.Shots), len(g.Mishit))
		}
		for _, s := range g.Shots {
			if s.Stage != g.Stage.Name || s.Club != g.Club || s.Intent != g.Stage.Intent || s.Void != "" || seen[s.Ball] {
				t.Fatalf("ball %d does not belong into %v", s.Ball, g.Stage)
			}
			seen[s.Ball] = true
		}
	}
	names := map[string]bool{}
	for _, s := range l.Stages {
		if names[s.Name] || s.Name == "" {
			t.Fatalf("two stages are called %q, or one has no name", s.Name)
		}
		names[s.Name] = true
	}
	for _, s := range l.Shots {
		if s.Void == "" && (!seen[s.Ball] || !names[s.Stage]) {
			t.Fatalf("ball %d is in no group", s.Ball)
		}
	}
}
