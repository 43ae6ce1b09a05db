package course

import (
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

func TestLongBalls(t *testing.T) {
	before := []dispersion.Point{{Y: 120}, {Y: 125}, {Y: 126}, {Y: 110}}
	after := []dispersion.Point{{Y: 130}, {Y: 124}}
	if got, err := LongBalls(125)(before, after); err != nil || got != 0.25 {
		t.Errorf("got %g, %v; want 1 of 2 less 1 of 4", got, err)
	}
}
