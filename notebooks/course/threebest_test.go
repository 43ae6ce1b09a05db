package course

import (
	"context"
	"math"
	"strings"
	"testing"
)

// Source: E X(3:3) = 3/(2√π) for three normal values, in closed form; the others
// are held against the simulated groups.
func TestPickTableAgainstTheory(t *testing.T) {
	const groups = 4000
	picks := [][2]int{{1, 3}, {3, 10}, {3, 20}}
	table, err := PickTable(picks, groups, 6)
	if err != nil {
		t.Fatal(err)
	}
	for row, pick := range picks {
		near(t, table.Rows[row][0], cell(t, table, row, 3), cell(t, table, row, 1)*OneSwing.SD.Y, 4*OneSwing.SD.Y/math.Sqrt(groups)+0.05)
		if pick[0] > pick[1] || cell(t, table, row, 1) <= 0 {
			t.Errorf("%v", table.Rows[row])
		}
	}
	near(t, "best of three, σ", cell(t, table, 0, 1), 1.5/math.Sqrt(math.Pi), 0.0005)
}

// What is kept of a lead is the share of the variance of means that is between
// pupils: regression to the mean.
//
// Source: the regression of one mean on another with the same truth, for normal
// pupils and balls.
func TestReturnTableAgainstTheory(t *testing.T) {
	for _, s := range []Squad{{6, 8}, {3, 12}, {0, 8}} {
		const pupils, picked, balls, squads = 20, 5, 10, 4000
		table := ReturnTable(pupils, picked, balls, s, squads, 6)
		within := s.Within * s.Within / balls
		kept := s.Between * s.Between / (s.Between*s.Between + within)
		for row := range table.Rows {
			first := cell(t, table, row, 1)
			near(t, table.Rows[row][0], cell(t, table, row, 2), kept*first, 4*math.Sqrt((within+kept*within)/(squads*picked))+0.1)
		}
		if !strings.Contains(table.Caption, "by theory") {
			t.Error(table.Caption)
		}
	}
}

// In the demo lesson the slow takeaway changed nothing: the best three look
// longer, and the correction takes that away.
func TestThreeBestTable(t *testing.T) {
	table, err := ThreeBestTable(context.Background(), "as she came", "slow takeaway", 3)
	if err != nil {
		t.Fatal(err)
	}
	if shown := cell(t, table, 0, 2); shown < 4 {
		t.Errorf("shown %g", shown)
	}
	for _, row := range []int{2, 3} {
		if low, high := cell(t, table, row, 3), cell(t, table, row, 4); low > 0 || high < 0 {
			t.Errorf("%v leaves out the truth, which is 0", table.Rows[row])
		}
	}
	for _, keep := range []int{0, 10} {
		if _, err := ThreeBestTable(context.Background(), "as she came", "slow takeaway", keep); err == nil {
			t.Errorf("the best %d of 9 were picked", keep)
		}
		if _, err := ThreeBest("as she came", "slow takeaway", keep); err == nil {
			t.Errorf("the best %d of 9 were drawn", keep)
		}
	}
	if _, err := ThreeBest("as she came", "no such stage", 3); err == nil || !strings.Contains(err.Error(), "slow takeaway") {
		t.Errorf("%v does not name the stages", err)
	}
}
