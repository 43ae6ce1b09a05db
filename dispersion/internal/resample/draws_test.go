package resample

import (
	"math"
	"slices"
	"testing"
)

// Every number equally often, at every place: 20,000 fills of 7 draws below 5.
// Each count has mean 4000 and SD √(20000·4/25) = 56.6; 4 SD = 226. Pairs of
// neighbours, which come from one word, have mean 800 and SD 27.7; 4 SD = 111.
func TestDrawsAreUniformAndIndependent(t *testing.T) {
	d := NewDraws(5, 7)
	s := NewStream(1, "draws", 0)
	var single [7][5]int
	var pairs [5][5]int
	into := make([]uint32, 7)
	for range 20000 {
		d.Fill(into, s)
		for place, v := range into {
			single[place][v]++
		}
		pairs[into[2]][into[3]]++
	}
	for place, counts := range single {
		for v, count := range counts {
			if math.Abs(float64(count-4000)) > 226 {
				t.Errorf("place %d: %d came %d times, want 4000 ± 226", place, v, count)
			}
		}
	}
	for a, counts := range pairs {
		for b, count := range counts {
			if math.Abs(float64(count-800)) > 111 {
				t.Errorf("%d before %d came %d times, want 800 ± 111", a, b, count)
			}
		}
	}
}

// By arithmetic: of 400 below 2⁶⁰ six numbers fit a word (400⁶ = 4.1e15, 400⁷ =
// 1.6e18 is above 1.15e18), so 10 draws are 6 and 4. 2⁶⁴ mod 400⁶ and mod 400⁴ by
// Python's integers.
func TestDrawsSplitWords(t *testing.T) {
	d := NewDraws(400, 10)
	if d.batch != 6 || d.unfair != 2456073709551616 || d.rest != 9709551616 {
		t.Errorf("%+v", d)
	}
	for _, c := range []struct{ bound, count, batch int }{{1, 3, 3}, {0, 3, 3}, {1 << 40, 3, 1}, {1 << 20, 9, 3}, {2, 100, 60}, {7, 1, 1}, {7, 0, 1}} {
		if got := NewDraws(c.bound, c.count); got.batch != c.batch || got.count != c.count {
			t.Errorf("%d draws below %d: %d from a word, want %d", c.count, c.bound, got.batch, c.batch)
		}
	}
	// A word's numbers are the digits of the fraction r/2⁶⁴ in base b: those of the
	// first word of this stream, done with the plain definition.
	word := NewStream(3, "digits", 0).Uint64()
	into := make([]uint32, 3)
	digits := NewDraws(10, 3)
	digits.Fill(into, NewStream(3, "digits", 0))
	fraction := float64(word) / (1 << 64)
	if want := uint32(fraction * 1000); into[0]*100+into[1]*10+into[2] != want {
		t.Errorf("digits %v of the fraction %.6f", into, fraction)
	}
}

// Two draws below b = 3·2³⁰ from one word have b² = 9·2⁶⁰ outcomes for 16·2⁶⁰ words:
// kept as they come, seven outcomes in nine would have two words each and two only
// one. Outcome q has the remainder (3·first + second) mod 9. Counts of 30,000: mean
// 3333, 4 SD = 4·√(30000·8/81) = 218. (The limit of 2⁶⁰ leaves such a bound one draw
// a word, so the draws are put together by hand.)
func TestDrawsRejectTheUnfairWords(t *testing.T) {
	d := Draws{bound: 3 << 30, count: 2, batch: 2}
	product := d.bound * d.bound
	d.unfair = -product % product
	s := NewStream(2, "unfair", 0)
	var counts [9]int
	into := make([]uint32, 2)
	for range 30000 {
		d.Fill(into, s)
		counts[(3*uint64(into[0])+uint64(into[1]))%9]++
	}
	for remainder, count := range counts {
		if math.Abs(float64(count)-30000.0/9) > 218 {
			t.Errorf("remainder %d came %d times, want 3333 ± 218", remainder, count)
		}
	}
}

func TestPlansOfTuples(t *testing.T) {
	for _, c := range []struct{ n, length, units, count, short int }{
		{1, 1, 1, 1, 0}, {2, 2, 4, 1, 0}, {3, 3, 27, 1, 0}, {5, 4, 625, 2, 5}, {7, 3, 343, 3, 7}, {10, 3, 1000, 4, 10},
		{20, 2, 400, 10, 0}, {31, 2, 961, 16, 31}, {33, 1, 33, 33, 0}, {0, 0, 0, 0, 0},
	} {
		p := NewPlan(c.n, 1)
		shots, length := p.Whole()
		short, _ := p.Short()
		if length != c.length || p.Count() != c.count || length > 0 && len(shots)/length != c.units || c.short == 0 != (len(short) == 0) {
			t.Errorf("n = %d: tuples of %d, %d drawn, %d in all", c.n, length, p.Count(), len(shots))
		}
		if c.n == 0 {
			continue
		}
		for u := range c.units { // unit u is the number u written in base n
			digits := 0
			for _, shot := range shots[u*length : (u+1)*length] {
				digits = digits*c.n + shot
			}
			if digits != u {
				t.Fatalf("n = %d: unit %d holds %v", c.n, u, shots[u*length:(u+1)*length])
			}
		}
	}
}

// By hand: of 5 shots in blocks of 2 there are the units 01 12 23 34 40 and one
// single shot to end with.
func TestPlanOfBlocks(t *testing.T) {
	p := NewPlan(5, 2)
	whole, length := p.Whole()
	short, one := p.Short()
	if !slices.Equal(whole, []int{0, 1, 1, 2, 2, 3, 3, 4, 4, 0}) || length != 2 || !slices.Equal(short, []int{0, 1, 2, 3, 4}) || one != 1 || p.Count() != 3 {
		t.Errorf("whole %v, short %v, %d units", whole, short, p.Count())
	}
	shots := make([]int, 5)
	p.Shots(shots, []uint32{4, 1, 3})
	if !slices.Equal(shots, []int{4, 0, 1, 2, 3}) {
		t.Errorf("units 4 1 3 are shots %v", shots)
	}
	if q := NewPlan(5, 9); q.Count() != 1 {
		t.Errorf("blocks longer than the stage: %d units", q.Count())
	}
}

// Each shot is drawn once a resample on average, and left out of as many as it should
// be: of 8 shots (tuples of three, and one of two left over) the count of shot 3 is
// binomial, mean 1, variance 7/8. 20,000 resamples: 4 SD of the mean are .0265, and
// of the share of none, (7/8)⁸ = .3436, .0134.
func TestPlanResamplesUniformly(t *testing.T) {
	p := NewPlan(8, 1)
	s := NewStream(4, "plan", 0)
	units := make([]uint32, p.Count())
	shots := make([]int, 8)
	total, none := 0, 0
	for range 20000 {
		p.Draw(units, s)
		p.Shots(shots, units)
		count := 0
		for _, shot := range shots {
			if shot == 3 {
				count++
			}
		}
		total += count
		if count == 0 {
			none++
		}
	}
	if mean := float64(total) / 20000; math.Abs(mean-1) > .0265 {
		t.Errorf("shot 3 is drawn %.4f times, want 1 ± .0265", mean)
	}
	if share := float64(none) / 20000; math.Abs(share-math.Pow(7.0/8, 8)) > .0134 {
		t.Errorf("shot 3 is left out in %.4f, want %.4f ± .0134", share, math.Pow(7.0/8, 8))
	}
}
