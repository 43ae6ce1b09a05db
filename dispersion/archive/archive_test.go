package archive_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/archive"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

var background = context.Background()

func TestWhatComesBackIsWhatWentIn(t *testing.T) {
	a, _ := filled(t, 0, 0, 0)
	stages := "from,to,stage,intent,cue,expect,void,why\n1,4,old,baseline,turn,longer,,\n5,8,new,full,,,,\n3,3,,,,,yes,a door\n"
	for name, l := range map[string]*lesson.Lesson{
		"plain":           read(t, file("Ann", "2024-05-01", 60, 1), lesson.ReadOptions{}),
		"long":            read(t, file("Ann", "2024-05-02", 30_000, 2), lesson.ReadOptions{}),
		"rejected rows":   read(t, "carry_yd,side_yd\n150,1\nno read,2\n160,-3\n", lesson.ReadOptions{}),
		"many decimals":   read(t, "carry_m,side_ft\n150.123456789,0.3\n0.1,1e-7\n", lesson.ReadOptions{}),
		"decimal comma":   read(t, "carry_yd;side_yd;apex_ft;note\n150,5;-1,25;90,50;<b>x</b>\n140;0;;\n", lesson.ReadOptions{}),
		"names of ours":   read(t, "carry_yd,side_yd,line,ball,day,mishit,numbers\n150,1,a,2,3,4,5\n", lesson.ReadOptions{}),
		"columns of one":  read(t, "carry_yd,side_yd,note,note\n150,1,a,b\n", lesson.ReadOptions{}),
		"void and cues":   read(t, "carry_yd,side_yd\n150,1\n151,2\n3,3\n150,1\n150,1\n151,2\n153,3\n150,1\n", lesson.ReadOptions{StagesFile: strings.NewReader(stages)}),
		"paths for names": read(t, "pupil,session,carry_yd,side_yd\n../../etc,/,150,1\n", lesson.ReadOptions{}),
	} {
		added := add(t, a, l)
		if !added.New {
			t.Errorf("%s: not new", name)
		}
		back, err := a.Load(added.File)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		t.Run(name, func(t *testing.T) { sameLesson(t, back, l) })
	}
}

// What is kept is a lesson as any other: its groups and pairs are those of the
// file it was read from.
func TestGroupsAreThoseOfTheLesson(t *testing.T) {
	a, _ := filled(t, 0, 0, 0)
	l := read(t, file("Ann", "2024-05-01", 200, 3), lesson.ReadOptions{})
	add(t, a, l)
	want := l.Groups()
	i := 0
	for g, err := range a.Groups(background, archive.Query{}) {
		if err != nil {
			t.Fatal(err)
		}
		w := want[i]
		if g.Stage != w.Stage || g.Club != w.Club || len(g.Shots) != len(w.Shots) || !slices.Equal(g.Mishit, w.Mishit) || !slices.Equal(g.Values("spin_rpm"), w.Values("spin_rpm")) {
			t.Errorf("group %d: %s %s, want %s %s", i, g.Stage.Name, g.Club, w.Stage.Name, w.Club)
		}
		if g.Pupil != "Ann" || g.Session != "2024-05-01" || g.Day != "2024-05-01" || g.Unit != lesson.Yards {
			t.Errorf("group %d is of %s, %s, %s, %s", i, g.Pupil, g.Session, g.Day, g.Unit)
		}
		i++
	}
	if i != len(want) || i != 6 {
		t.Errorf("%d groups, want %d", i, len(want))
	}
}

func TestAddingTwiceChangesNothing(t *testing.T) {
	a, dir := filled(t, 2, 3, 40)
	before := listing(t, dir)
	if len(before) != 1+6 {
		t.Fatalf("%d files, want 7", len(before))
	}
	for p := range 2 {
		for s := range 3 {
			pupil := []string{"pupil 0", "pupil 1"}[p]
			added := add(t, a, read(t, file(pupil, day(s), 40, uint64(100*p+s)), lesson.ReadOptions{}))
			if added.New || added.File == "" {
				t.Errorf("%s, session %d: %+v, want what is there", pupil, s, added)
			}
		}
	}
	if after := listing(t, dir); !slices.Equal(before, after) {
		t.Errorf("files %q, were %q", after, before)
	}
	// Another last digit is another session; of the same pupil and day, so it is told.
	l := read(t, file("pupil 0", day(1), 40, 1), lesson.ReadOptions{})
	l.Shots[7].Carry += 1e-9
	added := add(t, a, l)
	if !added.New || len(added.SameDay) != 1 {
		t.Errorf("%+v, want a new file and one of the same day", added)
	}
}

// Balls that all ended on the line are the same numbers in the mirror, and still
// another session; its groups say that they are mirrored.
func TestMirroredIsAnotherSession(t *testing.T) {
	a, _ := filled(t, 0, 0, 0)
	text := "pupil,session,carry_yd,side_yd\nP,2024-05-01,150,0\nP,2024-05-01,152,0\nP,2024-05-01,149,0\n"
	add(t, a, read(t, text, lesson.ReadOptions{}))
	if added := add(t, a, read(t, text, lesson.ReadOptions{Mirror: true})); !added.New || len(added.SameDay) != 1 {
		t.Errorf("%+v, want a new file and one of the same day", added)
	}
	mirrored := 0
	groups, err := collect(a.Groups(background, archive.Query{}))
	for _, g := range groups {
		if g.Mirrored {
			mirrored++
		}
	}
	if err != nil || len(groups) != 2 || mirrored != 1 {
		t.Errorf("%d of %d groups are mirrored, %v", mirrored, len(groups), err)
	}
}

func listing(t *testing.T, dir string) (files []string) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			info, err := d.Info()
			if err != nil {
				return err
			}
			files = append(files, path+" "+info.ModTime().String())
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// Every byte of a file is under the checksum: whichever is changed, the file is
// named, nothing of it is used, and the others are read.
func TestDamageIsNamed(t *testing.T) {
	a, dir := filled(t, 1, 3, 20)
	var files []string
	for _, f := range listing(t, dir) {
		if path, _, _ := strings.Cut(f, " "); strings.HasSuffix(path, ".parquet") {
			files = append(files, path)
		}
	}
	victim := files[1]
	whole, err := os.ReadFile(victim)
	if err != nil {
		t.Fatal(err)
	}
	for at := 0; at < len(whole); at += 7 {
		broken := slices.Clone(whole)
		broken[at] ^= 1 << (at % 8)
		damaged(t, a, dir, victim, broken)
	}
	damaged(t, a, dir, victim, whole[:len(whole)-1])
	damaged(t, a, dir, victim, nil)
	// Adding the session again heals it.
	add(t, a, read(t, file("pupil 0", day(1), 20, 1), lesson.ReadOptions{}))
	back, err := os.ReadFile(victim)
	if err != nil || !slices.Equal(back, whole) {
		t.Errorf("adding the session again wrote other bytes: %v", err)
	}
}

func damaged(t *testing.T, a *archive.Archive, dir, victim string, bytes []byte) {
	t.Helper()
	if err := os.WriteFile(victim, bytes, 0o644); err != nil {
		t.Fatal(err)
	}
	days := map[string]bool{}
	named := 0
	for s, err := range a.Summaries(background, archive.Query{}) {
		if err == nil {
			days[s.Day] = true
			continue
		}
		var at *archive.FileError
		if !errors.Is(err, archive.ErrDamaged) || !errors.As(err, &at) || filepath.Join(dir, at.File) != victim {
			t.Fatalf("error %v, want one that names %s", err, victim)
		}
		named++
	}
	if named != 1 || len(days) != 2 || days[day(1)] {
		t.Fatalf("named %d times, days read %v", named, days)
	}
}

func TestForeignFilesAreNamed(t *testing.T) {
	a, dir := filled(t, 1, 1, 20)
	pupil, _ := filepath.Glob(filepath.Join(dir, "p-*"))
	good, _ := filepath.Glob(filepath.Join(pupil[0], "*.parquet"))
	text, err := os.ReadFile(good[0])
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{filepath.Join(dir, "notes.txt"), filepath.Join(pupil[0], "copy of lesson.parquet")} {
		if err := os.WriteFile(path, text, 0o644); err != nil {
			t.Fatal(err)
		}
		_, err := collect(a.Groups(background, archive.Query{}))
		var at *archive.FileError
		if !errors.Is(err, archive.ErrForeign) || !errors.As(err, &at) || filepath.Join(dir, at.File) != path {
			t.Errorf("%s: %v, want an error that names it", path, err)
		}
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
	}
	// Bytes that match the checksum of their name but are no file of this format.
	path := filepath.Join(pupil[0], "2024-01-01.00000000000000000000000000000000.00000000.parquet")
	if err := os.WriteFile(path, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := collect(a.Groups(background, archive.Query{})); !errors.Is(err, archive.ErrForeign) {
		t.Errorf("an empty file with the checksum of one: %v", err)
	}
	if _, err := a.Load("../x"); !errors.Is(err, archive.ErrForeign) {
		t.Errorf("a path that leads out: %v", err)
	}
	if _, err := a.Load("../p-0000000000000000/" + filepath.Base(good[0])); !errors.Is(err, archive.ErrForeign) {
		t.Errorf("a path that leads out: %v", err)
	}
}

// collect returns all values and the first error.
func collect[T any](stream func(func(T, error) bool)) (all []T, first error) {
	for v, err := range stream {
		switch {
		case err == nil:
			all = append(all, v)
		case first == nil:
			first = err
		}
	}
	return all, first
}

func TestCreateAndOpen(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b")
	if _, err := archive.Open(dir); !errors.Is(err, archive.ErrNoArchive) {
		t.Errorf("open where there is nothing: %v", err)
	}
	for range 2 { // the second time it is there
		if _, err := archive.Create(dir); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := archive.Open(dir); err != nil {
		t.Error(err)
	}
	full := t.TempDir()
	if err := os.WriteFile(filepath.Join(full, "x"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := archive.Create(full); !errors.Is(err, archive.ErrForeign) {
		t.Errorf("create among other files: %v", err)
	}
	if err := os.WriteFile(filepath.Join(dir, "archive.json"), []byte(`{"format": 2}`), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := archive.Open(dir); !errors.Is(err, archive.ErrNoArchive) {
		t.Errorf("a later format: %v", err)
	}
}

func TestLessonsThatCannotBeKept(t *testing.T) {
	a, dir := filled(t, 0, 0, 0)
	shot := lesson.Shot{Line: 2, Ball: 1, Stage: "s", Intent: lesson.Full, Carry: 1}
	with := func(change func(s *lesson.Shot)) *lesson.Lesson {
		s := shot
		change(&s)
		return &lesson.Lesson{Unit: lesson.Yards, Rows: 1, Shots: []lesson.Shot{s}}
	}
	nan := 0.
	nan /= nan
	for name, l := range map[string]*lesson.Lesson{
		"no shots":    {Unit: lesson.Yards},
		"no unit":     {Shots: []lesson.Shot{shot}},
		"pupil":       {Unit: lesson.Yards, Pupil: "\xff", Shots: []lesson.Shot{shot}},
		"one ball":    {Unit: lesson.Yards, Shots: []lesson.Shot{shot, shot}},
		"NaN":         with(func(s *lesson.Shot) { s.Carry = nan }),
		"too far":     with(func(s *lesson.Shot) { s.Side = -1.1e6 }),
		"no UTF-8":    with(func(s *lesson.Shot) { s.Club = "\xff" }),
		"line number": with(func(s *lesson.Shot) { s.Line = 1 << 40 }),
	} {
		var e *archive.LessonError
		if _, err := a.Add(background, l); !errors.As(err, &e) {
			t.Errorf("%s: %v, want a *LessonError", name, err)
		}
	}
	if _, err := a.Add(background, nil); !errors.Is(err, archive.ErrMissing) {
		t.Error(err)
	}
	var none context.Context
	if _, err := a.Add(none, with(func(*lesson.Shot) {})); !errors.Is(err, archive.ErrMissing) {
		t.Error(err)
	}
	ended, cancel := context.WithCancel(background)
	cancel()
	if _, err := a.Add(ended, with(func(*lesson.Shot) {})); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	if n := len(listing(t, dir)); n != 1 {
		t.Errorf("%d files, want the marker alone", n)
	}
}
