package chart

import (
	"math"

	"gonum.org/v1/plot"

	"github.com/landfall-golf/landfall/dispersion"
)

// A span is the closed interval from low to high, empty if low is above high.
type span struct{ low, high float64 }

func (s span) size() float64        { return s.high - s.low }
func (s span) holds(v float64) bool { return s.low <= v && v <= s.high }
func (s span) cut(to span) span     { return span{max(s.low, to.low), min(s.high, to.high)} }
func (s span) join(o span) span     { return span{min(s.low, o.low), max(s.high, o.high)} }
func (s span) widened(to float64) span { // about its middle, if it is narrower
	more := max(0, (to-s.size())/2)
	return span{s.low - more, s.high + more}
}

// A box is a rectangle in the plane of side and carry.
type box struct{ side, carry span }

func emptyBox() box {
	none := span{math.Inf(1), math.Inf(-1)}
	return box{none, none}
}

func (b *box) add(p dispersion.Point) {
	b.side = b.side.join(span{p.X, p.X})
	b.carry = b.carry.join(span{p.Y, p.Y})
}

func (b *box) addBox(o box) { b.side, b.carry = b.side.join(o.side), b.carry.join(o.carry) }

func (b box) holds(p dispersion.Point) bool { return b.side.holds(p.X) && b.carry.holds(p.Y) }
func (b box) cut(to box) box                { return box{b.side.cut(to.side), b.carry.cut(to.carry)} }
func (b box) empty() bool                   { return b.side.size() < 0 || b.carry.size() < 0 }

// A frame is the part of the plane that a plan shows, with the one scale that
// side and carry have in common.
type frame struct {
	box
	scale         float64 // points per unit, across and up
	step          float64 // units between two lines of the grid
	width, height float64 // points
}

const (
	leastHeight = 84.0 // points: room for two names one above the other
	pad         = 13.0 // points between what must be seen and the rim
	gridGap     = 30.0 // points between two lines of the grid, at least
	leastSpan   = 0.06 // of the largest coordinate: no plan makes a yard look like a hill
)

// newFrame returns the frame of the given width that shows the box and the
// target line at one scale, as large as the width and the greatest height
// allow. It is widened about its middle to fill the width.
func newFrame(b box, width, greatestHeight float64) frame {
	b.side = b.side.join(span{0, 0})
	least := max(1e-6, leastSpan*max(math.Abs(b.carry.low), math.Abs(b.carry.high), math.Abs(b.side.low), math.Abs(b.side.high)))
	b.side, b.carry = b.side.widened(least), b.carry.widened(least)
	scale := min((width-2*pad)/b.side.size(), (greatestHeight-2*pad)/b.carry.size())
	height := max(leastHeight, b.carry.size()*scale+2*pad)
	b.side, b.carry = b.side.widened(width/scale), b.carry.widened(height/scale)
	return frame{box: b, scale: scale, step: niceStep(gridGap / scale), width: width, height: height}
}

// taller returns the frame with more room above and below, at the same scale.
func (f frame) taller(points float64) frame {
	f.height += points
	f.carry = f.carry.widened(f.height / f.scale)
	return f
}

// plot returns a plot whose axes are the frame; the canvas to use it with must
// have the frame's width and height.
func (f frame) plot() *plot.Plot {
	p := plot.New()
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = f.side.low, f.side.high, f.carry.low, f.carry.high
	return p
}

// niceStep returns the smallest of 1, 2 or 5 times a power of ten that is at
// least v.
func niceStep(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5} {
		if m*power >= v {
			return m * power
		}
	}
	return 10 * power
}

// ticks returns the multiples of the step in s.
func ticks(s span, step float64) []float64 {
	var at []float64
	first, last := math.Ceil(s.low/step), math.Floor(s.high/step)
	for i := 0; first+float64(i) <= last; i++ {
		at = append(at, (first+float64(i))*step)
	}
	return at
}

// decimalsOf returns how many decimals multiples of a nice step need.
func decimalsOf(step float64) int {
	return max(0, int(-math.Floor(math.Log10(step)+1e-9)))
}
