package resample

import (
	"math/bits"
	"math/rand/v2"
)

// A Stream is one reproducible sequence of random 64-bit words. It belongs to
// one chunk of one method's work and is not safe for concurrent use.
//
// A Stream is a [rand.Source], so rand.New(stream) draws from the usual laws.
type Stream struct {
	source rand.PCG
}

// NewStream returns the stream of one chunk of one method's work under a seed.
// Any seed is as good as another, 0 and neighbours included, since seed, tag
// and chunk each pass through SplitMix64 before they start the generator:
//
//	s ← mix(seed);  s ← mix(s ⊕ byte) for each byte of tag;  s ← mix(s ⊕ chunk)
//	PCG(mix(s), mix(mix(s)))
//
// The tag keeps two methods that share a seed from sharing their draws.
//
// References: G. Steele, D. Lea, C. Flood, "Fast Splittable Pseudorandom Number
// Generators", OOPSLA 2014, pp. 453-472 (SplitMix64); M. O'Neill, "PCG: A Family
// of Simple Fast Space-Efficient Statistically Good Algorithms for Random Number
// Generation", Harvey Mudd College, 2014.
func NewStream(seed uint64, tag string, chunk int) *Stream {
	s := mix(seed)
	for i := range len(tag) {
		s = mix(s ^ uint64(tag[i]))
	}
	s = mix(s ^ uint64(chunk))
	first := mix(s)
	return &Stream{source: *rand.NewPCG(first, mix(first))}
}

// mix is one step of SplitMix64 from state s: add the golden gamma, then
// scramble. The constants are those of the paper's mix64variant13.
func mix(s uint64) uint64 {
	s += 0x9e3779b97f4a7c15
	s = (s ^ s>>30) * 0xbf58476d1ce4e5b9
	s = (s ^ s>>27) * 0x94d049bb133111eb
	return s ^ s>>31
}

// Uint64 returns the next word of the stream.
func (s *Stream) Uint64() uint64 { return s.source.Uint64() }

// Below returns a uniform integer in [0, n), 0 if n < 2. It multiplies a whole
// 64-bit word by n and keeps the high word; the few low words that would favour
// some results are drawn again, so the result is unbiased and, being integer
// arithmetic alone, the same on every machine.
//
// Reference: D. Lemire, "Fast Random Integer Generation in an Interval", ACM
// Transactions on Modeling and Computer Simulation 29(1), 2019, article 3.
func (s *Stream) Below(n int) int {
	if n < 2 {
		return 0
	}
	bound := uint64(n)
	high, low := bits.Mul64(s.Uint64(), bound)
	if low < bound {
		unfair := -bound % bound // 2⁶⁴ mod n words too many
		for low < unfair {
			high, low = bits.Mul64(s.Uint64(), bound)
		}
	}
	return int(high)
}
