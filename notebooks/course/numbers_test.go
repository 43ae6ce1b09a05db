package course

import (
	"math"
	"strconv"
	"testing"

	"github.com/landfall-golf/landfall/notebooks/show"
)

// cell returns a number of a table: what a reader of the notebook sees.
func cell(t *testing.T, table show.TableData, row, column int) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(table.Rows[row][column], 64)
	if err != nil {
		t.Fatalf("row %d, column %q: %v", row, table.Header[column], err)
	}
	return v
}

// near fails unless got is within the stated distance of want.
func near(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s: %g, want %g within %.3g", what, got, want, by)
	}
}

// fourSDs is four standard deviations of a percentage counted in n trials, and
// what rounding it to the last digit shown adds.
func fourSDs(percent float64, n int, rounding float64) float64 {
	return 4*math.Sqrt(percent*(100-percent)/float64(n)) + rounding/2
}

func TestTenthsHaveNoNegativeZero(t *testing.T) {
	for v, want := range map[float64]string{-0.04: "0.0", 0.04: "0.0", -0.06: "-0.1", 3.25: "3.2"} {
		if got := tenths(v); got != want {
			t.Errorf("%g: %s, want %s", v, got, want)
		}
	}
}
