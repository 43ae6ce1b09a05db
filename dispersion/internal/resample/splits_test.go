package resample

import (
	"math"
	"slices"
	"testing"
)

// Source: Pascal's triangle; 10 v 10 = 184756 and 7 v 9 = 11440 are in every
// table of binomial coefficients (Abramowitz & Stegun, table 24.1).
func TestCountSplits(t *testing.T) {
	const limit = 200000
	for _, c := range []struct{ n1, n2, want int }{
		{0, 0, 1}, {0, 5, 1}, {1, 1, 2}, {3, 3, 20}, {4, 4, 70}, {5, 5, 252}, {6, 6, 924}, {8, 8, 12870},
		{7, 9, 11440}, {9, 7, 11440}, {10, 10, 184756}, {1, 199999, 200000}, {1, 200000, limit + 1},
		{10, 11, limit + 1}, {5000, 5000, limit + 1}, {math.MaxInt / 4, math.MaxInt / 4, limit + 1}, {-1, 3, 0},
	} {
		if got := CountSplits(c.n1, c.n2, limit); got != c.want {
			t.Errorf("%d against %d: got %d, want %d", c.n1, c.n2, got, c.want)
		}
	}
	if got := CountSplits(30, 30, math.MaxInt-1); got != 118264581564861424 {
		t.Errorf("30 against 30: got %d, want 118264581564861424", got) // C(60,30), OEIS A000984
	}
}

// All splits of 2 v 3 by hand: the ten pairs from 0 … 4 in lexicographic order.
func TestSplitsInOrderByHand(t *testing.T) {
	want := [][]int{
		{0, 1, 2, 3, 4}, {0, 2, 1, 3, 4}, {0, 3, 1, 2, 4}, {0, 4, 1, 2, 3}, {1, 2, 0, 3, 4},
		{1, 3, 0, 2, 4}, {1, 4, 0, 2, 3}, {2, 3, 0, 1, 4}, {2, 4, 0, 1, 3}, {3, 4, 0, 1, 2},
	}
	s := NewSplit(2, 3)
	for rank, order := range want {
		if !slices.Equal(s.Order, order) {
			t.Errorf("by steps, rank %d: got %v, want %v", rank, s.Order, order)
		}
		if nth := NthSplit(2, 3, rank); !slices.Equal(nth.Order, order) {
			t.Errorf("directly, rank %d: got %v, want %v", rank, nth.Order, order)
		}
		if more := s.Next(); more != (rank < len(want)-1) {
			t.Errorf("rank %d: Next reports %v", rank, more)
		}
	}
}

// A chunk starts in the middle: rank by rank must equal step by step.
func TestNthSplitAgreesWithNext(t *testing.T) {
	for _, size := range [][2]int{{0, 4}, {4, 0}, {1, 6}, {6, 1}, {4, 5}, {7, 3}} {
		s := NewSplit(size[0], size[1])
		rank := 0
		for more := true; more; more = s.Next() {
			if nth := NthSplit(size[0], size[1], rank); !slices.Equal(nth.Order, s.Order) {
				t.Fatalf("%v rank %d: %v directly, %v by steps", size, rank, nth.Order, s.Order)
			}
			rank++
		}
		if want := CountSplits(size[0], size[1], 1000); rank != want {
			t.Errorf("%v: %d splits, want %d", size, rank, want)
		}
	}
}

// 20 splits of 3 v 3, 40,000 shuffles: mean 2000, SD √(40000·.05·.95) = 43.6; 4 SD = 174.
func TestShuffleIsUniform(t *testing.T) {
	stream := NewStream(3, "shuffle", 0)
	s := NewSplit(3, 3)
	counts := map[[3]int]int{}
	for range 40000 {
		s.Shuffle(stream)
		first := [3]int(s.Order[:3])
		slices.Sort(first[:])
		counts[first]++
	}
	if len(counts) != 20 {
		t.Errorf("%d different splits, want 20", len(counts))
	}
	for split, count := range counts {
		if math.Abs(float64(count-2000)) > 174 {
			t.Errorf("split %v came %d times, want 2000 ± 174", split, count)
		}
	}
}
