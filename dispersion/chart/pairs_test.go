package chart

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

func somePairs(n int) []Pair {
	pairs := make([]Pair, n)
	for i := range pairs {
		x := float64(i)
		pairs[i] = Pair{
			Before: []dispersion.Point{{X: -3, Y: 140 + x}, {X: 4, Y: 146}, {X: 1, Y: 133}},
			After:  []dispersion.Point{{X: 2, Y: 150 - x}, {X: 6, Y: 141}, {X: -5, Y: 144}},
		}
	}
	return pairs
}

// Every pair is on the picture with its number, and each shot as a mark of its
// own, at the same scale in every plan.
func TestPairsAreAllThere(t *testing.T) {
	for _, n := range []int{1, 3, 20, 24} {
		f, err := Pairs(PairsInput{Unit: "yd", Pairs: somePairs(n)})
		if err != nil {
			t.Fatal(err)
		}
		svg := read(t, f)
		checkTexts(t, f, svg)
		if words := f.Alt(); strings.Count(words, "Pair ") != n || strings.Count(words, "3 shots") != 2*n {
			t.Errorf("%d pairs: %s", n, words)
		}
	}
}

func TestPairsThatCannotBe(t *testing.T) {
	if _, err := Pairs(PairsInput{}); !errors.Is(err, ErrEmpty) {
		t.Error(err)
	}
	none, bad := somePairs(3), somePairs(3)
	none[1].After = nil
	bad[2].Before[1].Y = math.NaN()
	for where, pairs := range map[string][]Pair{"25 pairs": somePairs(25), "pair 2, after": none, "pair 3, before, shot 2": bad} {
		var input *InputError
		if _, err := Pairs(PairsInput{Pairs: pairs}); !errors.As(err, &input) || input.Where != where {
			t.Errorf("%v, want an *InputError for %q", err, where)
		}
	}
}
