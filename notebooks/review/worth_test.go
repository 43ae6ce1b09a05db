package review

import (
	"context"
	"errors"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

func TestDemoLessonOnTheCourse(t *testing.T) {
	r, err := Open(Source{})
	if err != nil {
		t.Fatal(err)
	}
	c, err := DemoCourse()
	if err != nil {
		t.Fatal(err)
	}
	all, err := r.OnCourse(context.Background(), c)
	if err != nil || len(all) != 1 {
		t.Fatalf("%d headlines, %v", len(all), err)
	}
	w := all[0]
	if len(w.Worth) != 5 || len(w.Says) != 2 {
		t.Fatalf("%d distances, sentences %q", len(w.Worth), w.Says)
	}
	if !strings.HasPrefix(w.Says[0], "“room for the arms” after “as she came”, 7 iron: from 140 yd") || !strings.Contains(w.Says[1], "costs least aimed") {
		t.Errorf("%q", w.Says)
	}
	table := w.WorthTable(c)
	if len(table.Rows) != 5 || len(table.Rows[0]) != len(table.Header) || table.Rows[2][0] != "140" || table.Rows[2][1] != "10, 12" {
		t.Errorf("%+v", table)
	}
	for i, x := range w.Worth {
		if got := table.Rows[i][2]; got != gained(x.Change.Estimate) {
			t.Errorf("row %d prints %s for %g", i, got, x.Change.Estimate)
		}
	}
	for _, s := range append(w.Says, table.Caption) {
		for _, banned := range []string{"significant", "proven", "no change", "NaN"} {
			if strings.Contains(s, banned) {
				t.Errorf("%q says %q", s, banned)
			}
		}
	}
	done, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := r.OnCourse(done, c); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

// Too few balls: said, not failed.
func TestTooFewBallsForTheCourse(t *testing.T) {
	l, err := lesson.Read(strings.NewReader("stage,intent,club,carry_yd,side_yd\nold,full,7 iron,120,1\nnew,full,7 iron,130,2\nnew,full,7 iron,131,1\nnew,full,7 iron,129,1"), lesson.ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	r, err := New(l, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	c, err := DemoCourse()
	if err != nil {
		t.Fatal(err)
	}
	all, err := r.OnCourse(context.Background(), c)
	if err != nil || len(all) != 1 || all[0].Worth != nil || !strings.Contains(all[0].Says[0], "can't be told") {
		t.Errorf("%+v, %v", all, err)
	}
}
