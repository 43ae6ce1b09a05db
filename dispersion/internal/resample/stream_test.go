package resample

import (
	"math"
	"math/rand/v2"
	"testing"
)

var _ rand.Source = (*Stream)(nil)

// Source: the first outputs of SplitMix64 from state 0 and from 1234567, as
// published beside the reference implementations (S. Vigna, splitmix64.c; the
// second list is the one of Rosetta Code's task "Pseudo-random numbers/Splitmix64").
func TestMixIsSplitMix64(t *testing.T) {
	const gamma = 0x9e3779b97f4a7c15
	for _, c := range []struct {
		state uint64
		want  []uint64
	}{
		{0, []uint64{0xe220a8397b1dcdaf, 0x6e789e6aa1b965f4, 0x06c45d188009454f}},
		{1234567, []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821}},
	} {
		for i, want := range c.want {
			if got := mix(c.state + uint64(i)*gamma); got != want {
				t.Errorf("state %d, output %d: got %d, want %d", c.state, i, got, want)
			}
		}
	}
}

// Seed, tag and chunk must each change the stream, and nothing else may.
func TestStreamsAreDistinctAndRepeatable(t *testing.T) {
	seen := map[uint64]bool{}
	for seed := range uint64(20) {
		for _, tag := range []string{"", "a", "b", "ab", "ba"} {
			for chunk := range 20 {
				word := NewStream(seed, tag, chunk).Uint64()
				if seen[word] {
					t.Fatalf("seed %d, tag %q, chunk %d starts like another stream", seed, tag, chunk)
				}
				seen[word] = true
				if again := NewStream(seed, tag, chunk).Uint64(); again != word {
					t.Fatalf("seed %d, tag %q, chunk %d: %d, then %d", seed, tag, chunk, word, again)
				}
			}
		}
	}
}

// Every value equally often: with 70,000 draws over 7 values each count has
// mean 10,000 and SD √(70000·6/49) = 92.6; 4 SD = 370.
func TestBelowIsUniform(t *testing.T) {
	s := NewStream(1, "below", 0)
	var counts [7]int
	for range 70000 {
		counts[s.Below(7)]++
	}
	for value, count := range counts {
		if math.Abs(float64(count-10000)) > 370 {
			t.Errorf("%d came %d times in 70000, want 10000 ± 370", value, count)
		}
	}
}

// A bound of 3·2⁶¹ turns away a quarter of all words. By plain multiply-and-shift
// 3 of 8 words, and not 1 of 3, would give a multiple of 3. 4 SD of 30000 draws at 1/3: 4·√(30000·2/9) = 327.
func TestBelowRejectsTheUnfairWords(t *testing.T) {
	s := NewStream(2, "below", 0)
	multiples := 0
	for range 30000 {
		if s.Below(3<<61)%3 == 0 {
			multiples++
		}
	}
	if math.Abs(float64(multiples-10000)) > 327 {
		t.Errorf("%d of 30000 are multiples of 3, want 10000 ± 327", multiples)
	}
	if s.Below(1) != 0 || s.Below(0) != 0 || s.Below(-3) != 0 {
		t.Error("a bound below 2 must give 0")
	}
}
