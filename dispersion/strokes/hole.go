package strokes

import (
	"fmt"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
)

// A Hole is a plan of one hole: areas of one ground each, where play starts and
// where the flag stands, in metres east and north of the tee, or in the axes of
// a plan that was drawn in metres. [ReadHole] makes one. It never changes, and
// what it returns are copies.
type Hole struct {
	name      string
	areas     []Area // from the lowest ground to the one on top
	tee, flag dispersion.Point
}

// Name returns the name in the plan, "" if it has none.
func (h *Hole) Name() string { return h.name }

// Tee returns where play starts.
func (h *Hole) Tee() dispersion.Point { return h.tee }

// Flag returns where the hole is cut.
func (h *Hole) Flag() dispersion.Point { return h.flag }

// Length returns the straight distance from the tee to the flag in metres.
func (h *Hole) Length() float64 { return distance(h.tee, h.flag) }

// Areas returns the areas from the lowest to the one on top.
func (h *Hole) Areas() []Area {
	areas := make([]Area, len(h.areas))
	for i, a := range h.areas {
		areas[i] = a.moved(func(p dispersion.Point) dispersion.Point { return p })
	}
	return areas
}

// Ground returns what a ball finds at a point of the plan: that of the topmost
// area there, edges included, and rough outside all of them. From the lowest to
// the topmost: rough, fairway, recovery, green, bunker, water, out of bounds.
func (h *Hole) Ground(p dispersion.Point) Ground { return groundAt(h.areas, p) }

func groundAt(areas []Area, p dispersion.Point) Ground {
	for _, a := range slices.Backward(areas) {
		if a.Contains(p) {
			return a.Ground
		}
	}
	return outside
}

// A HoleError names the feature of a plan that can't be used. It is always
// returned as *HoleError, wrapped.
type HoleError struct {
	Feature int    // its place in the file, from 1; 0 if the trouble is with the file as a whole
	Name    string // of the feature, "" if it has none
	Reason  string // what is wrong and what to do
}

func (e *HoleError) Error() string {
	switch {
	case e.Feature == 0:
		return e.Reason
	case e.Name == "":
		return fmt.Sprintf("feature %d: %s", e.Feature, e.Reason)
	}
	return fmt.Sprintf("feature %d, %q: %s", e.Feature, e.Name, e.Reason)
}
