package main

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/practice"
)

// Source: a geometric law: against a known pattern the median run is ln ½ over
// ln(1-p), here with a pattern of 10,000 shots; and the table in the docs, of
// which every median run is within 3 % of the 150 balls that it was made for.
func TestRunLengths(t *testing.T) {
	limit, err := practice.LimitRunLength(10_000, 20)
	if err != nil {
		t.Fatal(err)
	}
	// Of 400 runs the median is off by 4·½/√400/(ln2/2/20) = 5.8 at most, and whole.
	if run := medianRun(10_000, limit, 400, 0, 0, 3); math.Abs(float64(run)-20) > 6.5 {
		t.Errorf("median run %d, want 20", run)
	}
	page, err := os.ReadFile(filepath.Join("..", "..", "..", "docs", "methods", "practice.md"))
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for _, line := range strings.Split(string(page), "\n") {
		cells := strings.Split(line, "|")
		if len(cells) != 11 {
			continue
		}
		n, err := strconv.Atoi(strings.TrimSpace(cells[1]))
		if err != nil {
			continue
		}
		rows++
		limit, err1 := practice.LimitRunLength(n, chartBalls)
		written, err2 := strconv.ParseFloat(strings.TrimSpace(cells[2]), 64)
		ratio, err3 := strconv.ParseFloat(strings.TrimSpace(cells[4]), 64)
		if err1 != nil || err2 != nil || err3 != nil {
			t.Fatal(err1, err2, err3)
		}
		if math.Abs(limit-written) > 0.005+1e-9 || math.Abs(ratio-1) > 0.03 {
			t.Errorf("pattern of %d: limit %.3f, written %.2f; ratio %.3f", n, limit, written, ratio)
		}
	}
	if rows != 5 {
		t.Errorf("%d rows of run lengths, want 5", rows)
	}
}

// Source: seasons drawn from a stated truth: the kept and the lost gain are found
// in most, and hardly ever taken for each other. A loss has to be shown: it is
// found in 74 % of 1,000 seasons, and 0.60 is four standard deviations of 150 below.
func TestKeptShares(t *testing.T) {
	for _, c := range []struct {
		truth       keptCase
		right, not  practice.Outcome
		least, most float64
	}{
		{keptCases[0], practice.GainKept, practice.GainLost, 0.85, 0.05},
		{keptCases[2], practice.GainLost, practice.GainKept, 0.60, 0.04},
	} {
		shares, held, err := keptShares(c.truth, 1.5, 150, 9)
		if err != nil {
			t.Fatal(err)
		}
		if shares[c.right] < c.least || shares[c.not] > c.most || held < 0.95-4*math.Sqrt(.95*.05/150) {
			t.Errorf("%s: %v, held %.3f", c.truth.name, shares, held)
		}
	}
}
