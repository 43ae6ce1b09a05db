package compare_test

import (
	"fmt"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// The wall goes onto one page, its key onto another.
func ExampleShuffleWall() {
	before, err := dispersion.NewGroup([]dispersion.Point{{X: 4, Y: 146}, {X: 9, Y: 151}, {X: -2, Y: 143}, {X: 6, Y: 148}})
	if err != nil {
		fmt.Println(err)
		return
	}
	after, err := dispersion.NewGroup([]dispersion.Point{{X: 1, Y: 158}, {X: -3, Y: 153}, {X: 5, Y: 155}, {X: 0, Y: 161}})
	if err != nil {
		fmt.Println(err)
		return
	}
	w, err := compare.ShuffleWall(before, after, compare.Options{Seed: 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(w.Sentence())
	fmt.Println(len(w.Deals), "pictures of", len(w.Deals[0].Before), "and", len(w.Deals[0].After), "balls")
	fmt.Println(w.Deals[w.Real].After)
	// Output:
	// One of these 12 pictures is the real before and after; the others are the same balls, dealt anew at random. Pick the one that stands out. If nobody can, these balls can't tell, and that needs no statistics; a lucky pick is right once in 12.
	// 12 pictures of 4 and 4 balls
	// [{1 158} {-3 153} {5 155} {0 161}]
}
