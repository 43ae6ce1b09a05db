package resample

import "math/bits"

// Draws deals out a fixed number of uniform whole numbers below a bound,
// several from each 64-bit word: with bound b and a word r,
//
//	xᵢ, r ← high and low half of r·b
//
// gives one number after the other. They are unbiased once the few words are
// drawn again that end with r below 2⁶⁴ mod bᵏ, k being the numbers taken from
// the word. It is integer arithmetic alone, so the same on every machine.
//
// Reference: N. Brackett-Rozinsky, D. Lemire, "Batched Ranged Random Integer
// Generation", Software: Practice and Experience 55(1), 2025 (from memory).
type Draws struct {
	bound  uint64
	count  int
	batch  int    // numbers from one word
	unfair uint64 // 2⁶⁴ mod boundᵇᵃᵗᶜʰ
	rest   uint64 // the same for the last word, if it gives fewer numbers
}

// maxProduct bounds bᵏ, so that fewer than one word in sixteen is drawn again.
const maxProduct = 1 << 60

// NewDraws returns the draws of count numbers in [0, bound). A bound below 1
// stands for 1, one above 2³² for 2³².
func NewDraws(bound, count int) Draws {
	d := Draws{bound: min(uint64(max(bound, 1)), 1<<32), count: max(count, 0), batch: 1}
	product := d.bound
	for d.batch < d.count && product <= maxProduct/d.bound {
		product *= d.bound
		d.batch++
	}
	d.unfair = -product % product
	product = 1
	for range d.count % d.batch {
		product *= d.bound
	}
	d.rest = -product % product
	return d
}

// Fill writes the numbers to into, which must hold as many as were asked for.
func (d *Draws) Fill(into []uint32, s *Stream) {
	into = into[:d.count]
	for len(into) > 0 {
		n, unfair := d.batch, d.unfair
		if len(into) < n {
			n, unfair = len(into), d.rest
		}
		word := into[:n]
		for {
			low := s.source.Uint64()
			for i := range word {
				var high uint64
				high, low = bits.Mul64(low, d.bound)
				word[i] = uint32(high)
			}
			if low >= unfair {
				break
			}
		}
		into = into[n:]
	}
}
