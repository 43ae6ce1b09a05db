package chart

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// ShiftInput is what Shift draws. The zero value of Title stands for one made
// from the numbers.
type ShiftInput struct {
	Title    string
	Unit     string // of side and carry
	Shift    compare.PlaneShift
	Smallest float64 // the smallest gain in carry worth having; 0: not drawn
}

// Shift returns a figure of how the centre of a group moved, seen from above: an
// arrow from where it was to where it went, and around its tip the region that
// holds the true shift. Where the region holds the start of the arrow the balls
// fit a centre that stayed where it was. The dotted line is the smallest gain in
// carry worth having.
//
// Errors: *[InputError] for a shift or a smallest gain that is not finite, too
// large or below 0, or a region that is none.
func Shift(in ShiftInput) (Figure, error) {
	s := in.Shift
	for _, v := range []struct {
		value float64
		what  string
	}{{s.Shift.X, "side"}, {s.Shift.Y, "carry"}, {in.Smallest, "smallest gain worth having"}} {
		if err := checkNumber(v.value, "the shift", v.what); err != nil {
			return Figure{}, err
		}
	}
	if in.Smallest < 0 {
		return Figure{}, &InputError{"the shift", fmt.Sprintf("the smallest gain worth having is %g: give one above 0, or 0 for none", in.Smallest)}
	}
	if err := checkRegion(s.Region, "the region"); err != nil {
		return Figure{}, err
	}
	unit := plain(in.Unit, 12)
	title := plain(in.Title, longestText)
	if title == "" {
		title = shiftTitle(s, unit)
	}
	start := dispersion.Point{}
	l := layer{
		shots: Shots{Look: StageLook(0)}, rings: []dispersion.Region{s.Region}, nameRings: true,
		marks: []Mark{{"where it was", start}, {"shift seen", s.Shift}},
	}
	b := boxAround(s.Region)
	b.add(start)
	b.add(s.Shift)
	v := plan{unit: unit, layers: []layer{l}, axisName: true, gain: true, arrow: &s.Shift}
	if in.Smallest > 0 {
		b.add(dispersion.Point{Y: in.Smallest})
		v.dotted, v.hasDotted = in.Smallest, true
	}
	v = commonFrame(v, b, shiftHeight)
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	sheet.add(v.height, func(c draw.Canvas) {
		inner := v.inner(c)
		v.paint(inner)
		v.paintCarry(inner)
	})
	sheet.skip(9)
	sheet.side(v)
	sheet.prose(smallPen, shiftKey(in, unit), 4)
	return sheet.figure(title, shiftAlt(title, unit, in)), nil
}

const (
	shiftHeight = 260.0
	arrowFrom   = 7.0 // points of the arrow left free for the crosses at its ends
)

// arrowEnds returns where the arrow begins and ends and its direction, short of
// the crosses at either end, and whether there is room for one.
func (v plan) arrowEnds(c draw.Canvas, p *plot.Plot) (from, to, way vg.Point, ok bool) {
	if v.arrow == nil {
		return from, to, way, false
	}
	from, _, _ = inside(c, p, dispersion.Point{})
	to, _, _ = inside(c, p, *v.arrow)
	long := vg.Length(math.Hypot(float64(to.X-from.X), float64(to.Y-from.Y)))
	if long < 3*arrowFrom {
		return from, to, way, false
	}
	way = to.Sub(from).Scale(1 / long)
	gap := way.Scale(arrowFrom)
	return from.Add(gap), to.Sub(gap), way, true
}

// paintArrow draws the way from the origin to where the arrow points.
func (v plan) paintArrow(c draw.Canvas, p *plot.Plot) {
	from, to, way, ok := v.arrowEnds(c, p)
	if !ok {
		return
	}
	back, across := to.Sub(way.Scale(5)), vg.Point{X: -3 * way.Y, Y: 3 * way.X}
	style := draw.LineStyle{Color: ink, Width: 1.2}
	c.StrokeLine2(style, from.X, from.Y, to.X, to.Y)
	c.StrokeLines(style, []vg.Point{back.Add(across), to, back.Sub(across)})
}

// gainObstacles returns the zero of the carry and the arrow, piece by piece.
func (v plan) gainObstacles(c draw.Canvas, p *plot.Plot) []obstacle {
	_, y := p.Transforms(&c)
	all := []obstacle{{vg.Rectangle{Min: vg.Point{X: c.Min.X, Y: y(0) - 1}, Max: vg.Point{X: c.Max.X, Y: y(0) + 1}}, 4 * coverRing}}
	if from, to, _, ok := v.arrowEnds(c, p); ok {
		const pieces = 24
		for i := range pieces + 1 {
			at := from.Add(to.Sub(from).Scale(vg.Length(i) / pieces))
			all = append(all, obstacle{square(at, 2), 4 * coverRing})
		}
	}
	return all
}

// carryShift writes a gain in carry as a person says it.
func carryShift(gain float64, unit string) string {
	switch rounded := math.Round(gain * 10); {
	case rounded > 0:
		return length(gain, unit) + " farther"
	case rounded < 0:
		return length(-gain, unit) + " shorter"
	}
	return "as far as before"
}

// sideShift writes a shift to one side as a person says it.
func sideShift(shift float64, unit string) string {
	switch rounded := math.Round(shift * 10); {
	case rounded > 0:
		return length(shift, unit) + " to the right"
	case rounded < 0:
		return length(-shift, unit) + " to the left"
	}
	return "not to either side"
}

func shiftTitle(s compare.PlaneShift, unit string) string {
	way := carryShift(s.Shift.Y, unit) + ", " + sideShift(s.Shift.X, unit)
	if s.Region.Contains(dispersion.Point{}) {
		return "The centre lies " + way + "; the ring holds where it was, so luck may have done it"
	}
	return "The centre lies " + way + "; the ring leaves out where it was"
}

func shiftKey(in ShiftInput, unit string) string {
	s := in.Shift
	key := fmt.Sprintf("Ring: where the true shift lies, at %s; %d and %d shots.", share(s.Region.Level), s.N1, s.N2)
	if in.Smallest > 0 {
		key += " Dotted: from here on, " + signed(in.Smallest, 1) + strings.TrimRight(" "+unit, " ") + ", a gain in carry is worth having."
	}
	return key
}

func shiftAlt(title, unit string, in ShiftInput) string {
	s := in.Shift
	b := boxAround(s.Region)
	text := fmt.Sprintf("%s. Plan view of the shift of the centre, gain in carry up the page. Seen: %s, %s. The region of %s reaches from %s to %s in carry and from %s to %s.",
		strings.TrimRight(title, "."), carryShift(s.Shift.Y, unit), sideShift(s.Shift.X, unit), share(s.Region.Level),
		signed(b.carry.low, 1), strings.TrimRight(signed(b.carry.high, 1)+" "+unit, " "), sideShift(b.side.low, unit), sideShift(b.side.high, unit))
	if in.Smallest > 0 {
		text += fmt.Sprintf(" A gain in carry is worth having from %s.", length(in.Smallest, unit))
	}
	return text + fmt.Sprintf(" %d and %d shots.", s.N1, s.N2)
}
