package course

import (
	"context"
	"strings"
	"testing"
)

// Every way to deal nine and nine balls is tried, and the balls as they were hit
// are one of them; no difference is larger than all of it.
func TestDealTable(t *testing.T) {
	table, err := DealTable(context.Background(), "as she came", "slow takeaway", []float64{0, 1, 100})
	if err != nil {
		t.Fatal(err)
	}
	const ways = 48620 // 18!/(9!)²
	for row, want := range []float64{ways, 0, 0} {
		got := cell(t, table, row, 1)
		if row == 1 && !(got > 0 && got < ways) || row != 1 && got != want {
			t.Errorf("%v", table.Rows[row])
		}
	}
	if seen := cell(t, table, 3, 1); !(seen > cell(t, table, 1, 1) && seen < ways) {
		t.Errorf("%v", table.Rows)
	}
}

// F(2, 2) has the quantile q/(1-q), which is 39 at 0.975.
//
// Source: the quantile of F(2, 2) in closed form.
func TestAreaLawTable(t *testing.T) {
	const pairs = 1000
	table, err := AreaLawTable(context.Background(), []int{3, 10}, 0.1, pairs, 5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "factor for three balls", cell(t, table, 0, 1), 39, 0.05)
	for row := range table.Rows {
		near(t, "the area interval of normal groups", cell(t, table, row, 2), 95, fourSDs(95, pairs, 1))
	}
	if area, spread := cell(t, table, 1, 4), cell(t, table, 1, 5); area > 80 || spread < 85 {
		t.Errorf("with mishits: area %g, spread %g", area, spread)
	}
}

func TestVerdictSaysWhatIsWorthHaving(t *testing.T) {
	says, err := Verdict(context.Background(), "as she came", "room for the arms", "old swing again")
	if err != nil {
		t.Fatal(err)
	}
	if len(says) != 5 || !strings.Contains(says[1], "Worth having") || !strings.Contains(says[2], "probably") || !strings.Contains(says[4], "Worth having") {
		t.Errorf("%q", says)
	}
}

// Two numbers that the library's own tests hold against tables: F(0.975; 16, 16) is
// 2.76, and 45 % less area takes 47 balls a side.
func TestAreaPlan(t *testing.T) {
	says, err := AreaPlan(10, 0.55, 0.8)
	if err != nil {
		t.Fatal(err)
	}
	if len(says) != 2 || !strings.Contains(says[0], "2.8 in area is one of 1.7") || !strings.Contains(says[1], "takes 47 balls") {
		t.Errorf("%q", says)
	}
	if _, err := AreaPlan(2, 0.55, 0.8); err == nil {
		t.Error("two balls were taken")
	}
}
