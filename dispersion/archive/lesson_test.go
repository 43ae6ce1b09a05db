package archive_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/archive"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// file writes the file of an invented session: two clubs, three stages, a
// mishit now and then, numbers and texts beside carry and side.
func file(pupil, session string, shots int, seed uint64) string {
	rng := rand.New(rand.NewPCG(seed, 1))
	var b strings.Builder
	b.WriteString("pupil,session,time,stage,intent,club,carry_yd,side_yd,spin_rpm,note,feel\n")
	for i := range shots {
		stage := []string{"old swing,baseline", "towel drill,drill", "new swing,full"}[i*3/shots]
		club := []string{"7i", "D"}[i%7/5]
		carry := 150 + 5*rng.NormFloat64()
		if rng.IntN(15) == 0 {
			carry -= 40
		}
		spin := ""
		if rng.IntN(4) > 0 {
			spin = fmt.Sprint(5000 + rng.IntN(2000))
		}
		note := ""
		if rng.IntN(5) == 0 {
			note = `"ball in, the mud"`
		}
		fmt.Fprintf(&b, "%s,%s,%sT10:%02d:%02d,%s,%s,%.1f,%.1f,%s,%s,\n", pupil, session, session, i/60%60, i%60, stage, club, carry, 8*rng.NormFloat64(), spin, note)
	}
	return b.String()
}

func read(t testing.TB, text string, o lesson.ReadOptions) *lesson.Lesson {
	t.Helper()
	l, err := lesson.Read(strings.NewReader(text), o)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// day returns the n-th day of an invented year.
func day(n int) string { return fmt.Sprintf("2023-%02d-%02d", 1+n/28%12, 1+n%28) }

// filled returns an archive of so many pupils and sessions of each.
func filled(t testing.TB, pupils, sessions, shots int) (*archive.Archive, string) {
	t.Helper()
	dir := t.TempDir()
	a, err := archive.Create(dir)
	if err != nil {
		t.Fatal(err)
	}
	for p := range pupils {
		for s := range sessions {
			add(t, a, read(t, file(fmt.Sprintf("pupil %d", p), day(s), shots, uint64(100*p+s)), lesson.ReadOptions{}))
		}
	}
	return a, dir
}

func add(t testing.TB, a *archive.Archive, l *lesson.Lesson) archive.Added {
	t.Helper()
	added, err := a.Add(context.Background(), l)
	if err != nil {
		t.Fatal(err)
	}
	return added
}

// sameLesson fails unless two lessons hold the same, to the last bit.
func sameLesson(t *testing.T, got, want *lesson.Lesson) {
	t.Helper()
	for _, f := range []struct {
		name      string
		got, want any
	}{
		{"pupil", got.Pupil, want.Pupil}, {"session", got.Session, want.Session}, {"unit", got.Unit, want.Unit},
		{"rows", got.Rows, want.Rows}, {"stages", got.Stages, want.Stages}, {"columns", got.Columns, want.Columns},
		{"rejected", got.Rejected, want.Rejected}, {"warnings", texts(got.Warnings), texts(want.Warnings)}, {"shots", len(got.Shots), len(want.Shots)},
	} {
		if !reflect.DeepEqual(f.got, f.want) {
			t.Fatalf("%s: %#v, want %#v", f.name, f.got, f.want)
		}
	}
	for i, g := range got.Shots {
		w := want.Shots[i]
		if g.Line != w.Line || g.Ball != w.Ball || g.Stage != w.Stage || g.Intent != w.Intent || g.Club != w.Club || g.Void != w.Void ||
			math.Float64bits(g.Carry) != math.Float64bits(w.Carry) || math.Float64bits(g.Side) != math.Float64bits(w.Side) {
			t.Fatalf("shot %d: %+v, want %+v", i, g, w)
		}
		for _, c := range want.Columns {
			gv, gok := g.Value(c.Name)
			wv, wok := w.Value(c.Name)
			if gok != wok || math.Float64bits(gv) != math.Float64bits(wv) {
				t.Fatalf("shot %d, %s: %v %v, want %v %v", i, c.Name, gv, gok, wv, wok)
			}
			gt, gok := g.Text(c.Name)
			wt, wok := w.Text(c.Name)
			if gok != wok || !c.Numeric && gt != wt {
				t.Fatalf("shot %d, %s: %q %v, want %q %v", i, c.Name, gt, gok, wt, wok)
			}
		}
	}
}

func texts(errs []error) (texts []string) {
	for _, err := range errs {
		texts = append(texts, err.Error())
	}
	return texts
}
