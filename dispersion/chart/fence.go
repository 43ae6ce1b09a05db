package chart

import (
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// fenceWidth is how many robust standard deviations from its stage's median a
// shot may be before it no longer decides the scale: wide enough for anything
// that normal shots do, so that only what would squash the picture is drawn at
// its edge.
const fenceWidth = 6

// mishitReach is how far a mishit may widen the picture: this share of the carry
// the clean shots take up.
const mishitReach = 0.25

// framed returns the box that a common frame of the given layers must show: the
// clean shots and the rings, as far as they lie within the fence around their
// stage, and the mishits near enough to keep the rest readable. What is left
// out lands at the edge of the plan with its distance beside it.
func framed(layers []layer) box {
	side, carry := pooledDeviation(layers, true), pooledDeviation(layers, false)
	b := emptyBox()
	for _, l := range layers {
		clean := l.clean()
		if len(clean) == 0 {
			continue
		}
		fence := box{fenceAlong(clean, true, side), fenceAlong(clean, false, carry)}
		for _, p := range clean {
			if fence.holds(p) {
				b.add(p)
			}
		}
		for _, r := range l.rings {
			b.addBox(boxAround(r).cut(fence))
		}
		for _, m := range l.marks {
			if fence.holds(m.Point) {
				b.add(m.Point)
			}
		}
	}
	if b.empty() { // nothing but mishits: they are all there is to see
		for _, l := range layers {
			for _, p := range l.shots.Points {
				b.add(p)
			}
		}
		return b
	}
	near := box{b.side, span{b.carry.low - mishitReach*b.carry.size(), b.carry.high}}
	for _, l := range layers {
		for i, p := range l.shots.Points {
			if l.shots.mishit(i) && near.holds(p) {
				b.add(p)
			}
		}
	}
	return b
}

func coordinate(p dispersion.Point, side bool) float64 {
	if side {
		return p.X
	}
	return p.Y
}

func middle(points []dispersion.Point, side bool) float64 {
	v := make([]float64, len(points))
	for i, p := range points {
		v[i] = coordinate(p, side)
	}
	m, err := dispersion.Median(v)
	if err != nil {
		return 0 // not for points that were checked, of which there are some
	}
	return m
}

// pooledDeviation returns the scaled MAD of the clean shots about the medians of
// their own stages.
func pooledDeviation(layers []layer, side bool) float64 {
	var away []float64
	for _, l := range layers {
		clean := l.clean()
		if len(clean) == 0 {
			continue
		}
		m := middle(clean, side)
		for _, p := range clean {
			away = append(away, math.Abs(coordinate(p, side)-m))
		}
	}
	m, err := dispersion.Median(away)
	if err != nil {
		return 0
	}
	return 1.4826 * m
}

// fenceAlong returns the fence along one axis; without a deviation to go by there
// is none.
func fenceAlong(points []dispersion.Point, side bool, deviation float64) span {
	if deviation == 0 {
		return span{math.Inf(-1), math.Inf(1)}
	}
	m := middle(points, side)
	return span{m - fenceWidth*deviation, m + fenceWidth*deviation}
}
