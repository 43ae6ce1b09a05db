package resample

import "math/bits"

// CountSplits returns C(n1+n2, n1), the number of ways to deal n1+n2 things
// into a first part of n1 and a second of n2. It returns limit+1 as soon as the
// count is known to exceed limit, so it can't overflow.
func CountSplits(n1, n2, limit int) int {
	if n1 < 0 || n2 < 0 {
		return 0
	}
	few := min(n1, n2)
	count := uint64(1)
	for i := 1; i <= few; i++ {
		// C(m+i, i) = C(m+i-1, i-1)·(m+i)/i is a whole number at every step
		// and never falls, so the first one beyond the limit decides.
		high, low := bits.Mul64(count, uint64(max(n1, n2)+i))
		if high >= uint64(i) {
			return limit + 1
		}
		count, _ = bits.Div64(high, low, uint64(i))
		if count > uint64(limit) {
			return limit + 1
		}
	}
	return int(count)
}

// A Split is one way to deal the indices 0 … n-1 into two parts. Order holds
// all of them: the first part is Order[:First], the second Order[First:].
type Split struct {
	Order []int
	First int
}

// NthSplit returns the split with the given rank, in [0, C(n1+n2, n1)), when
// all splits stand in lexicographic order of their sorted first parts: rank 0
// has the first part 0 … n1-1. Both parts are sorted.
func NthSplit(n1, n2, rank int) Split {
	s := Split{Order: make([]int, n1+n2), First: n1}
	left := rank
	value := 0
	for i := range n1 {
		for {
			// So many splits keep the first part so far and continue with value.
			with := CountSplits(n1-i-1, n1+n2-value-1-(n1-i-1), left)
			if left < with {
				break
			}
			left -= with
			value++
		}
		s.Order[i] = value
		value++
	}
	s.fillSecond()
	return s
}

// Next steps to the split of the next rank, in place, and reports false at the
// last one, which it leaves as it is.
func (s *Split) Next() bool {
	first, n := s.Order[:s.First], len(s.Order)
	i := s.First - 1
	for i >= 0 && first[i] == n-s.First+i {
		i--
	}
	if i < 0 {
		return false
	}
	if i == s.First-1 {
		// By far the most steps: the last index of the first part changes places
		// with the one above it, which has all of the first part below it and so
		// stands at its own value.
		value := first[i]
		first[i], s.Order[value+1] = value+1, value
		return true
	}
	first[i]++
	for j := i + 1; j < s.First; j++ {
		first[j] = first[j-1] + 1
	}
	s.fillSecond()
	return true
}

// fillSecond writes the indices missing from the first part, in order.
func (s *Split) fillSecond() {
	first, second := s.Order[:s.First], s.Order[s.First:]
	value := 0
	for _, taken := range first {
		for ; value < taken; value++ {
			second[0] = value
			second = second[1:]
		}
		value++
	}
	for i := range second {
		second[i] = value + i
	}
}

// NewSplit returns the split of rank 0, a start for [Split.Shuffle].
func NewSplit(n1, n2 int) Split { return NthSplit(n1, n2, 0) }

// Shuffle turns s, in place, into a split drawn at random, every split equally
// likely whatever s was before. Within the parts the order is arbitrary.
//
// It is the part of the Fisher-Yates shuffle that settles the first part (R.
// Durstenfeld, "Algorithm 235: Random permutation", CACM 7(7), 1964, p. 420).
func (s *Split) Shuffle(stream *Stream) {
	for i := range s.First {
		j := i + stream.Below(len(s.Order)-i)
		s.Order[i], s.Order[j] = s.Order[j], s.Order[i]
	}
}
