package lesson

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"
)

func testKey() []byte {
	key := make([]byte, 32)
	for i := range key {
		key[i] = byte(i)
	}
	return key
}

// Source: testdata/ref/writing.py under Python 3.11.7: hmac, hashlib, base64
// and datetime, given the rule in the comment on Anonymise.
func TestAnonymiseAgainstPython(t *testing.T) {
	p := python(t)
	if len(p.Pseudonyms) != 4 {
		t.Fatalf("%d names, want 4", len(p.Pseudonyms))
	}
	for name, want := range p.Pseudonyms {
		l := mustRead(t, "pupil,session,time,carry_yd,side_yd\n"+name+",2024-02-28,2024-02-28T10:15:00+05:00,150,1\n", ReadOptions{})
		a, err := l.Anonymise(testKey())
		if err != nil {
			t.Fatal(err)
		}
		clock, _ := a.Shots[0].Text("time")
		if a.Pupil != want || a.Session != p.Moved[name] || clock != p.Moved[name]+"T10:15:00" {
			t.Errorf("%q is %q on %q at %q, want %q on %q", name, a.Pupil, a.Session, clock, want, p.Moved[name])
		}
		if got := (anonymiser{testKey(), name}).shift(); got != p.Shifts[name] {
			t.Errorf("%q: shift %d, want %d", name, got, p.Shifts[name])
		}
	}
}

// Nothing of the pupil is left in what is written, while the numbers stay.
func TestAnonymiseLeavesNothingBehind(t *testing.T) {
	file := "pupil,session,time,place,surface,ball,stage,intent,club,expect,feel,note,bay,phone,email,spin_rpm,carry_yd,side_yd\n" +
		"Nila Varga,2024-02-28,2024-02-28 10:15,North hill,mat,range,Nila's old swing,baseline,7i,+8,good,SECRET1,7,5550100,nila@example.com,6500,150,1\n" +
		"Nila Varga,2024-02-28,SECRET2,North hill,mat,NILA'S ball,new,full,Varga special,,SECRET3,SECRET4,7,5550100,x,6600,155,-2\n" +
		"Nila Varga,2024-02-28,2024-02-28 10:17,North hill,mat,range,new,full,7i,,,SECRET5,7,5550100,x,6600,SECRET6,-2\n"
	l := mustRead(t, file, ReadOptions{StagesFile: strings.NewReader("from,to,void,why\n2,2,yes,SECRET7\n")})
	l.Stages[0].Cue = "SECRET8"
	before := l.Shots[0].Point()
	a, err := l.Anonymise(testKey())
	if err != nil {
		t.Fatal(err)
	}
	csv, descriptor := written(t, a)
	all := csv + descriptor
	for _, w := range a.Warnings {
		all += w.Error()
	}
	for _, r := range a.Rejected {
		all += r.Column + r.Reason
	}
	for _, s := range a.Stages {
		all += s.Name + s.Cue + s.Expect
	}
	for _, bad := range []string{"nila ", "varga ", "secret", "2024-02-28", "north", "555", "example.com", "good"} {
		if strings.Contains(strings.ToLower(all), bad) {
			t.Errorf("%q is left in\n%s", bad, all)
		}
	}
	// With the names of columns that were left out set aside, no part of the
	// pupil's name either.
	if low := strings.ToLower(csv); strings.Contains(low, "nila") || strings.Contains(low, "varga") {
		t.Errorf("the name is left in\n%s", csv)
	}
	if len(a.Shots) != 2 || a.Shots[0].Carry != 150 || a.Shots[1].Side != -2 || a.Shots[1].Void == "" || a.Rows != 3 || len(a.Rejected) != 1 {
		t.Errorf("the shots changed: %+v", a.Shots)
	}
	if v, ok := a.Shots[1].Value("spin_rpm"); v != 6600 || !ok {
		t.Errorf("spin %v, %v", v, ok)
	}
	kinds := 0
	for _, w := range a.Warnings {
		if errors.Is(w, ErrDropped) || errors.Is(w, ErrKept) {
			kinds++
		}
	}
	if kinds != 3 || len(a.Warnings) != 3 {
		t.Errorf("warnings %v", a.Warnings)
	}
	if l.Pupil != "Nila Varga" || l.Shots[0].Point() != before || l.Stages[0].Cue != "SECRET8" || len(l.Rejected[0].Reason) < 10 {
		t.Error("the lesson itself was changed")
	}
	// It reads back as a lesson like any other.
	back := readBack(t, csv, descriptor)
	sameShots(t, back, a)
}

// One pupil stays one pupil and keeps the days between lessons; two pupils and
// two keys share nothing.
func TestAnonymiseIsStable(t *testing.T) {
	day := func(pupil, session string, key []byte) (string, time.Time) {
		l := mustRead(t, "pupil,session,carry_yd,side_yd\n"+pupil+","+session+",150,1\n", ReadOptions{})
		a, err := l.Anonymise(key)
		if err != nil {
			t.Fatal(err)
		}
		d, err := time.Parse(time.DateOnly, a.Session)
		if err != nil {
			t.Fatal(err)
		}
		return a.Pupil, d
	}
	key, other := testKey(), bytes.Repeat([]byte{7}, 16)
	a1, d1 := day("Mira", "2024-12-28", key)
	a2, d2 := day("Mira", "2025-01-04", key)
	b1, _ := day("Tom", "2024-12-28", key)
	c1, _ := day("Mira", "2024-12-28", other)
	if a1 != a2 || d2.Sub(d1) != 7*24*time.Hour || d1.Format(time.DateOnly) == "2024-12-28" {
		t.Errorf("%s on %v, then %s on %v", a1, d1, a2, d2)
	}
	if a1 == b1 || a1 == c1 {
		t.Errorf("pseudonyms %s, %s, %s: two are the same", a1, b1, c1)
	}
	l := mustRead(t, "pupil,session,carry_yd,side_yd\nMira,Mira's third,150,1\n", ReadOptions{})
	if _, err := l.Anonymise(make([]byte, minKey-1)); err == nil || !strings.Contains(err.Error(), "can be guessed") {
		t.Errorf("a short key: %v", err)
	}
	a, err := l.Anonymise(key)
	if err != nil || !strings.HasPrefix(a.Session, "session-") {
		t.Errorf("a session in words became %q, %v", a.Session, err)
	}
	// No pupil, no pseudonym; and a warning that the shift is shared.
	a, err = mustRead(t, lines("150,1"), ReadOptions{Mirror: true}).Anonymise(key)
	if err != nil || a.Pupil != "" || a.Session != "" || !a.Mirrored || !errors.Is(errors.Join(a.Warnings...), ErrKept) || !errors.Is(errors.Join(a.Warnings...), ErrMirrored) {
		t.Errorf("nobody became %q, %q, %v, %v", a.Pupil, a.Session, err, a.Warnings)
	}
}

// What holds the name gets a name of its own, so that two clubs stay two and no
// stage takes another's.
func TestAnonymiseKeepsGroupsApart(t *testing.T) {
	file := "pupil,session,stage,club,carry_yd,side_yd\n" +
		"Mark Wood,9999-12-31,mark old,3 wood,210,1\nMark Wood,9999-12-31,mark old,3 wood,212,1\n" +
		"Mark Wood,9999-12-31,mark old,5 wood,190,1\nMark Wood,9999-12-31,stage 1,5 wood,191,1\n" +
		"Mark Wood,9999-12-31,Club 1,7i,150,1\nMark Wood,9999-12-31,Club 1,Club 1,140,1\n"
	l := mustRead(t, file, ReadOptions{})
	a, err := l.Anonymise(testKey())
	if err != nil {
		t.Fatal(err)
	}
	before, after := l.Groups(), a.Groups()
	if len(before) != 5 || len(after) != len(before) || len(a.Stages) != 3 {
		t.Fatalf("%d groups became %d, in %d stages", len(before), len(after), len(a.Stages))
	}
	for i, g := range after {
		if len(g.Shots) != len(before[i].Shots) || g.Shots[0].Carry != before[i].Shots[0].Carry {
			t.Errorf("group %d: %d shots, want %d", i, len(g.Shots), len(before[i].Shots))
		}
	}
	names := []string{after[0].Stage.Name, after[2].Stage.Name, after[0].Club, after[1].Club, after[3].Club, after[4].Club}
	if want := []string{"stage 2", "stage 1", "club 2", "club 3", "7i", "Club 1"}; !slices.Equal(names, want) {
		t.Errorf("they are called %q, want %q", names, want)
	}
	if day, err := time.Parse(time.DateOnly, a.Session); err != nil || day.Year() > 9999 {
		t.Errorf("the session is %q: no date any more", a.Session)
	}
}

func TestAnonymiseFindsTheName(t *testing.T) {
	for _, c := range []struct {
		pupil, text string
		hidden      bool
	}{
		{"Bo Li", "Bo Li new grip", true},
		{"Bo Li", "boli new grip", true},
		{"Bo Li", "elbow in, lift", false},
		{"Smith, Anna", "smith drill", true},
		{"Smith, Anna", "Annas drill", true},
		{"Anna-Lena Berg", "anna drill", true},
		{"Zoë Müller", "Zoe new", true},
		{"Zoe Muller", "MÜLLER", true},
		{"Zoe\u0308 M", "zoë's new", true},
		{"Jo", "jo's old swing", true},
		{"Jo", "jos old swing", true},
		{"Jo", "join the hands", false},
		{"Max", "max speed", true},
		{"", "old swing", false},
	} {
		if got := newPupilName(c.pupil).in(c.text); got != c.hidden {
			t.Errorf("%q in %q: %v, want %v", c.pupil, c.text, got, c.hidden)
		}
	}
}
