package archive_test

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/archive"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// Summaries are those of the groups' own points, bit for bit, group by group;
// the sums are those of the recorded tenths.
func TestSummariesAreThoseOfTheGroups(t *testing.T) {
	a, _ := filled(t, 3, 2, 90)
	stages := "from,to,stage,intent,void,why\n1,4,old,baseline,,\n5,8,new,full,,\n1,2,,,yes,a door\n"
	add(t, a, read(t, "session,carry_yd,side_yd\nx,5,1\nx,6,2\nx,150.04,3\nx,150.06,1\nx,151.15,1\nx,155,-2.25\nx,156,3\nx,90,1\n", lesson.ReadOptions{StagesFile: strings.NewReader(stages)}))
	groups, err := collect(a.Groups(background, archive.Query{}))
	if err != nil {
		t.Fatal(err)
	}
	summaries, err := collect(a.Summaries(background, archive.Query{}))
	if err != nil {
		t.Fatal(err)
	}
	if len(groups) != len(summaries) || len(groups) != 3*2*6+2 {
		t.Fatalf("%d groups, %d summaries, want 38", len(groups), len(summaries))
	}
	mishits := 0
	for i, g := range groups {
		s := summaries[i]
		if s.File != g.File || s.Pupil != g.Pupil || s.Session != g.Session || s.Day != g.Day || s.Unit != g.Unit || s.Stage != g.Stage.Name || s.Intent != g.Stage.Intent || s.Club != g.Club {
			t.Errorf("summary %d is of %+v, the group of %s, %s", i, s, g.Stage.Name, g.Club)
		}
		if s.Mishits() != int64(g.Mishits()) {
			t.Errorf("%d mishits, want %d", s.Mishits(), g.Mishits())
		}
		mishits += g.Mishits()
		for _, c := range []struct {
			got  archive.AddedUp
			want func() (*dispersion.Group, error)
		}{{s.All, g.All}, {s.Clean, g.Clean}} {
			want, err := c.want()
			if errors.As(err, new(*dispersion.TooFewError)) {
				if c.got != (archive.AddedUp{}) {
					t.Errorf("%+v of no shots", c.got)
				}
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			if c.got.Moments != want.Moments() {
				t.Errorf("%+v, want %+v", c.got.Moments, want.Moments())
			}
			// Recorded with a decimal, so tenths lose nothing but in the last session.
			m, err := c.got.Sums.Moments()
			if err != nil {
				t.Fatal(err)
			}
			if g.Pupil != "" && (!near(m.Mean.Y, want.Moments().Mean.Y, 1e-13) || !near(m.SXX, want.Moments().SXX, 1e-10) || !near(m.SXY, want.Moments().SXY, 1e-8)) {
				t.Errorf("from tenths %+v, want %+v", m, want.Moments())
			}
		}
	}
	if mishits == 0 {
		t.Error("no mishits, so this test does not show that they are told apart")
	}
}

func near(got, want, relative float64) bool {
	d := got - want
	return d <= relative*max(want, -want) && -d <= relative*max(want, -want)
}

// By hand: two sessions of three and two shots with one club, y 100, 101, 102
// and 103, 104 and x 0: the mean is 102 and SYY = 4+1+0+1+4.
func TestTotalsByHand(t *testing.T) {
	a, _ := filled(t, 0, 0, 0)
	for _, text := range []string{
		"pupil,session,club,carry_yd,side_yd\nAnn,2024-01-01,7i,100,0\nAnn,2024-01-01,7i,101,0\nAnn,2024-01-01,D,200,0\nAnn,2024-01-01,7i,102,0\n",
		"pupil,session,club,carry_yd,side_yd\nAnn,2024-01-02,7i,103,0\nAnn,2024-01-02,7i,104,0\n",
	} {
		add(t, a, read(t, text, lesson.ReadOptions{}))
	}
	totals, err := collect(a.Totals(background, archive.Query{}))
	if err != nil || len(totals) != 2 {
		t.Fatalf("%+v, %v", totals, err)
	}
	seven, driver := totals[0], totals[1]
	want := dispersion.Moments{N: 5, Mean: dispersion.Point{Y: 102}, SYY: 10}
	if seven.Club != "7i" || seven.Groups != 2 || seven.All.Moments != want || driver.Club != "D" || driver.All.Moments.N != 1 {
		t.Errorf("%+v", totals)
	}
	if m, err := seven.All.Sums.Moments(); err != nil || m != want {
		t.Errorf("from the sums %+v, %v, want %+v", m, err, want)
	}
}

// The same bits on one core and on several, in the same order.
func TestWorkersChangeNoBit(t *testing.T) {
	a, _ := filled(t, 7, 4, 40)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	var totals []archive.Total
	var summaries []archive.Summary
	for _, workers := range []int{1, 2, 5, 16} {
		runtime.GOMAXPROCS(workers)
		ts, err := collect(a.Totals(background, archive.Query{}))
		if err != nil {
			t.Fatal(err)
		}
		ss, err := collect(a.Summaries(background, archive.Query{}))
		if err != nil {
			t.Fatal(err)
		}
		if totals == nil {
			totals, summaries = ts, ss
		}
		if len(ts) != 14 || !reflect.DeepEqual(ts, totals) || !reflect.DeepEqual(ss, summaries) {
			t.Errorf("%d workers: other totals or summaries", workers)
		}
	}
}

func TestQueries(t *testing.T) {
	a, _ := filled(t, 3, 4, 42)
	add(t, a, read(t, "pupil,club,carry_m,side_m\nBob,7i,140,2\n", lesson.ReadOptions{}))
	for name, c := range map[string]struct {
		q      archive.Query
		groups int
		errs   int
	}{
		"all":         {archive.Query{}, 3*4*6 + 1, 0},
		"pupil":       {archive.Query{Pupil: "pupil 1"}, 24, 0},
		"nobody":      {archive.Query{Pupil: "pupil"}, 0, 0},
		"club":        {archive.Query{Club: "d"}, 36, 0},
		"stage":       {archive.Query{Stage: "New Swing"}, 24, 0},
		"intent":      {archive.Query{Intent: lesson.Drill}, 24, 0},
		"unit":        {archive.Query{Unit: lesson.Metres}, 1, 0},
		"from":        {archive.Query{From: day(2)}, 36, 1},
		"to":          {archive.Query{To: day(2)}, 54, 1},
		"between":     {archive.Query{From: day(1), To: day(2), Pupil: "pupil 0"}, 12, 0},
		"all at once": {archive.Query{Pupil: "pupil 2", Club: "7I", Stage: "old swing", Intent: lesson.Baseline, Unit: lesson.Yards, From: day(3), To: day(3)}, 1, 0},
	} {
		for _, kind := range []string{"groups", "summaries"} {
			n, errs := 0, 0
			count := func(err error) {
				switch {
				case err == nil:
					n++
				case errors.Is(err, archive.ErrUndated):
					errs++
				default:
					t.Fatal(err)
				}
			}
			if kind == "groups" {
				for _, err := range a.Groups(background, c.q) {
					count(err)
				}
			} else {
				for _, err := range a.Summaries(background, c.q) {
					count(err)
				}
			}
			if n != c.groups || errs != c.errs {
				t.Errorf("%s: %d %s and %d undated, want %d and %d", name, n, kind, errs, c.groups, c.errs)
			}
		}
	}
	for _, q := range []archive.Query{{From: "May"}, {To: "2024-13-01"}, {From: "2024-02-01", To: "2024-01-31"}, {Unit: "mi"}, {Intent: "fun"},
		{Part: archive.Part{Index: 2, Of: 2}}, {Part: archive.Part{Index: -1, Of: 2}}, {Part: archive.Part{Index: 1}}} {
		if _, err := collect(a.Groups(background, q)); !errors.As(err, new(*archive.QueryError)) {
			t.Errorf("%+v: %v, want a *QueryError", q, err)
		}
	}
	var none context.Context
	if _, err := collect(a.Groups(none, archive.Query{})); !errors.Is(err, archive.ErrMissing) {
		t.Error(err)
	}
}

// A stream ends with the context, a loop may end before the stream, and neither
// leaves goroutines behind.
func TestStreamsEnd(t *testing.T) {
	a, _ := filled(t, 5, 4, 12)
	before := runtime.NumGoroutine()
	ctx, cancel := context.WithCancel(background)
	defer cancel()
	n := 0
	var last error
	for _, err := range a.Totals(ctx, archive.Query{}) {
		if last = err; err == nil {
			n++
			cancel()
		}
	}
	// The pupil at hand has two clubs, and both totals are there already.
	if n > 2 || !errors.Is(last, context.Canceled) {
		t.Errorf("%d totals after the context has ended, the last error %v", n, last)
	}
	for range a.Groups(background, archive.Query{}) {
		break
	}
	if err := a.ForEachGroup(ctx, archive.Query{}, func(archive.Group) error { return nil }); !errors.Is(err, context.Canceled) {
		t.Errorf("ForEachGroup after the end: %v", err)
	}
	boom := errors.New("boom")
	if err := a.ForEachGroup(background, archive.Query{}, func(archive.Group) error { return boom }); !errors.Is(err, boom) {
		t.Errorf("what f says: %v", err)
	}
	if err := a.ForEachGroup(background, archive.Query{}, nil); !errors.Is(err, archive.ErrMissing) {
		t.Errorf("no f: %v", err)
	}
	// A worker that has said it is done may still be leaving, for as long as the
	// machine's other work keeps it from its core; one that is stuck stays.
	for range 5000 {
		if runtime.NumGoroutine() <= before {
			return
		}
		time.Sleep(time.Millisecond)
	}
	stacks := make([]byte, 1<<16)
	t.Errorf("%d goroutines, %d before:\n%s", runtime.NumGoroutine(), before, stacks[:runtime.Stack(stacks, true)])
}

// A session whose every shot has a stage and a club of its own needs memory for
// its shots, not for every pair of the two: 25 million at 8 bytes are 200 MB.
func TestSummariesOfManyStagesAndClubs(t *testing.T) {
	const n = 5_000
	var text strings.Builder
	text.WriteString("pupil,session,stage,club,carry_yd,side_yd\n")
	for i := range n {
		fmt.Fprintf(&text, "Ann,2024-01-01,s%d,c%d,150,1\n", i, i)
	}
	a, _ := filled(t, 0, 0, 0)
	add(t, a, read(t, text.String(), lesson.ReadOptions{}))
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	summaries, err := collect(a.Summaries(background, archive.Query{}))
	runtime.ReadMemStats(&after)
	if err != nil || len(summaries) != n || summaries[1].Stage != "s1" || summaries[n-1].Club != fmt.Sprint("c", n-1) {
		t.Fatalf("%d summaries, %v", len(summaries), err)
	}
	if mb := (after.TotalAlloc - before.TotalAlloc) >> 20; mb > 50 {
		t.Errorf("%d MB were allocated", mb)
	}
}
