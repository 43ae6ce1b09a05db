package review

import (
	"fmt"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// What is said after so many balls of an invented lesson: the old swing, a drill,
// the new swing.
func TestNow(t *testing.T) {
	var rows []string
	for i, carry := range []int{148, 151, 146, 150, 149, 147, 101, 99, 160, 158, 163, 159, 161, 120} {
		stage := "old swing,baseline"
		switch {
		case i >= 8:
			stage = "new swing,full"
		case i >= 6:
			stage = "feet together,drill"
		}
		rows = append(rows, fmt.Sprintf("%s,7i,%d,%d", stage, carry, i%5-2))
	}
	for _, c := range []struct {
		balls  int
		before string
		says   []string
	}{
		{1, "", []string{"“old swing”, 1 ball: 148 yd on average."}},
		{6, "", []string{"“old swing”, 6 balls: 148 yd"}},
		{8, "", []string{"“feet together”, 2 balls: 100 yd"}},
		{9, "old swing", []string{"“new swing”, 1 ball: 160 yd", "a few more"}},
		{13, "old swing", []string{"“new swing”, 5 balls: 160 yd", "longer", "however often you look"}},
		{14, "old swing", []string{"“new swing”, 6 balls, 1 mishit: 160 yd"}},
	} {
		l, err := lesson.Read(strings.NewReader("stage,intent,club,carry_yd,side_yd\n"+strings.Join(rows[:c.balls], "\n")), lesson.ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		r, err := New(l, compare.Options{})
		if err != nil {
			t.Fatal(err)
		}
		m, err := r.Now(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		before := ""
		if m.Before != nil {
			before = m.Before.Stage.Name
		}
		if before != c.before {
			t.Errorf("after %d balls held against %q", c.balls, before)
		}
		for _, want := range c.says {
			if !strings.Contains(m.Says, want) {
				t.Errorf("after %d balls: %q lacks %q", c.balls, m.Says, want)
			}
		}
	}
}
