package course

import (
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// The mishits that the notebook lists are those that the demo lesson was made with.
func TestDemoMishitsAreTheTrueOnes(t *testing.T) {
	truth, err := datasets.DemoTruth()
	if err != nil {
		t.Fatal(err)
	}
	table, err := DemoMishits()
	if err != nil {
		t.Fatal(err)
	}
	row := 0
	for _, stage := range truth {
		for _, ball := range stage.Mishits {
			if row >= len(table.Rows) || table.Rows[row][0] != stage.Stage || int(cell(t, table, row, 1)) != ball {
				t.Fatalf("row %d is not ball %d of %q: %v", row+1, ball, stage.Stage, table.Rows)
			}
			row++
		}
	}
	if row != len(table.Rows) {
		t.Errorf("%d rows for %d mishits", len(table.Rows), row)
	}
}

func TestDemoNotesNameTheUnreadRow(t *testing.T) {
	notes, err := DemoNotes()
	if err != nil {
		t.Fatal(err)
	}
	if len(notes) != 2 || !strings.Contains(notes[0], "48 rows, 47 of them") || !strings.Contains(notes[1], "Line 25 ") {
		t.Errorf("%q", notes)
	}
}

// To leave out the k shortest of ten is to keep the best 10-k: the order
// statistics say how much longer those look.
//
// Source: normal order statistics, which the tests of compare hold against tables.
func TestDroppedTableAgainstOrderStatistics(t *testing.T) {
	const groups = 4000
	table, err := DroppedTable(10, []int{0, 2, 3}, groups, 1)
	if err != nil {
		t.Fatal(err)
	}
	for row, k := range []int{0, 2, 3} {
		looks := 0.0
		if k > 0 {
			if looks, err = compare.PickInflation(compare.Picking{Rule: compare.BestShots, Keep: 10 - k, Of: 10}); err != nil {
				t.Fatal(err)
			}
		}
		near(t, table.Rows[row][0]+" left out", cell(t, table, row, 1), OneSwing.Centre.Y+looks*OneSwing.SD.Y, 4*OneSwing.SD.Y/math.Sqrt(10*groups)+0.05)
	}
	near(t, "radius of all", cell(t, table, 0, 2), math.Sqrt(OneSwing.SD.X*OneSwing.SD.Y), 0.1)
	if !(cell(t, table, 2, 2) < cell(t, table, 0, 2)) {
		t.Error("what is left is no tighter")
	}
}

// A ball that keeps all of its carry is found as seldom as a good one is marked,
// and one that keeps half of it is found almost always.
func TestRuleTable(t *testing.T) {
	const lessons = 2000
	none, all := RuleTable([]int{20}, 1, lessons, 1), RuleTable([]int{20}, 0.5, lessons, 1)
	good := cell(t, none, 0, 2) / 10 // of 100
	near(t, "a good ball", cell(t, none, 0, 1), good, fourSDs(good, lessons, 0.1)+fourSDs(good, 19*lessons, 0.01))
	if good <= 0 || good > 1 || cell(t, all, 0, 1) < 99 {
		t.Errorf("good balls marked %g of 100, mishits found %s", good, all.Rows[0][1])
	}
}
