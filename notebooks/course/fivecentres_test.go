package course

import (
	"math"
	"testing"
)

// The mean of n normal balls lies σ/√n from the truth on each axis, and one ball
// short by s moves it by s/n; a centre that resists stays closer.
//
// Source: the variance of a mean of independent shots.
func TestPriceTable(t *testing.T) {
	const n, groups, short = 12, 1000, 60.0
	table, err := PriceTable(n, groups, short, 2)
	if err != nil {
		t.Fatal(err)
	}
	clean := math.Sqrt((OneSwing.SD.X*OneSwing.SD.X + OneSwing.SD.Y*OneSwing.SD.Y) / n)
	by := 4 * clean / math.Sqrt(2*groups) // the squared distance has about 2 degrees of freedom a group
	near(t, "mean, all good", cell(t, table, 0, 1), clean, by)
	near(t, "mean, one wild", cell(t, table, 0, 2), math.Hypot(clean, short/n), by)
	for row := 1; row < len(fiveCentres); row++ {
		if good, wild := cell(t, table, row, 1), cell(t, table, row, 2); good <= clean || wild > 1.2*good {
			t.Errorf("%s: %g and %g", table.Rows[row][0], good, wild)
		}
	}
}

// The mean follows a wild ball all the way, a twelfth of a yard for each; the
// others stop.
func TestPullTable(t *testing.T) {
	table, err := PullTable(12, []float64{0, 40, 80}, 2)
	if err != nil {
		t.Fatal(err)
	}
	for row, short := range []float64{0, 40, 80} {
		near(t, "mean", cell(t, table, row, 1), short/12, 0.05)
	}
	for column := 2; column <= len(fiveCentres); column++ {
		near(t, table.Header[column], cell(t, table, 2, column), cell(t, table, 1, column), 0.05)
	}
}

// Of twelve balls the mean follows each wild one by a twelfth of its way; two wild
// ones move no median by more than the balls between them, and six move them all.
func TestBreakTable(t *testing.T) {
	table, err := BreakTable(12, 60, 2)
	if err != nil {
		t.Fatal(err)
	}
	for row := range table.Rows {
		near(t, "mean", cell(t, table, row, 1), 5*float64(row+1), 0.05)
	}
	for column := 2; column <= len(fiveCentres); column++ {
		if two, six := cell(t, table, 1, column), cell(t, table, 5, column); two > 5 || six < 10 {
			t.Errorf("%s moves %g yd for two wild balls, %g for six", table.Header[column], two, six)
		}
	}
}
