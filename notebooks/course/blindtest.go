package course

import (
	"fmt"

	"github.com/landfall-golf/landfall/dispersion/chart"
)

// A change is what happened between the two patterns of a pair of the blind test.
type change int

const (
	unchanged change = iota
	longer           // by BlindGain
	tighter          // to BlindRadius of the old spread
)

func (c change) String() string { return [...]string{"same swing", "longer", "tighter"}[c] }

// What changes in the blind test, where something does.
const (
	BlindGain   = 6.0 // yards of carry
	BlindRadius = 0.6 // of the old spread radius
)

// A blindPair is a pair of patterns whose truth is known.
type blindPair struct {
	chart.Pair
	truth change
}

// blindPairs draws twenty pairs: ten of one swing twice, five that became longer
// and five that became tighter, in an order that the seed decides.
func blindPairs(balls int, seed uint64) ([]blindPair, error) {
	if balls < 3 {
		return nil, fmt.Errorf("course: a pattern of the blind test needs 3 balls or more, not %d", balls)
	}
	r := random(seed, 120)
	truths := make([]change, 20)
	for i := 10; i < 20; i++ {
		truths[i] = longer + change(i%2)
	}
	r.Shuffle(len(truths), func(i, j int) { truths[i], truths[j] = truths[j], truths[i] })
	pairs := make([]blindPair, len(truths))
	for i, c := range truths {
		pairs[i] = blindPair{chart.Pair{Before: OneSwing.Draw(r, balls), After: c.after().Draw(r, balls)}, c}
	}
	return pairs, nil
}

// after is the swing that the second pattern comes from.
func (c change) after() Swing {
	s := OneSwing
	switch c {
	case longer:
		s.Centre.Y += BlindGain
	case tighter:
		s.SD.X *= BlindRadius
		s.SD.Y *= BlindRadius
	}
	return s
}

// BlindTest draws the twenty pairs without a word about their truth.
func BlindTest(balls int, seed uint64) (chart.Figure, error) {
	pairs, err := blindPairs(balls, seed)
	if err != nil {
		return chart.Figure{}, err
	}
	in := chart.PairsInput{Title: "Twenty pairs of patterns: which of them changed?", Unit: "yd"}
	for _, p := range pairs {
		in.Pairs = append(in.Pairs, p.Pair)
	}
	return chart.Pairs(in)
}
