package chart

import (
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion"
)

// A layer is one group on a plan.
type layer struct {
	name, detail string
	shots        Shots
	rings        []dispersion.Region
	nameRings    bool // write the level beside each ring
	marks        []Mark
}

// A Mark is a named point on a plan, such as a centre.
type Mark struct {
	Name  string
	Point dispersion.Point
}

func (l layer) clean() []dispersion.Point {
	var clean []dispersion.Point
	for i, p := range l.shots.Points {
		if !l.shots.mishit(i) {
			clean = append(clean, p)
		}
	}
	return clean
}

// A plan is one view from above: the grid, the target line and layers of shots,
// the earlier ones first.
type plan struct {
	frame
	unit      string
	layers    []layer
	dotted    float64 // a carry to compare with, if hasDotted
	hasDotted bool
	axisName  bool              // write what the upward axis is
	gain      bool              // the axes tell how much more, with signs and the zero of both in ink
	arrow     *dispersion.Point // from the origin to there; nil: none
}

// paint draws the plan on a canvas of the frame's size.
func (v plan) paint(c draw.Canvas) {
	p := v.plot()
	v.grid(c, p)
	TargetLine{}.Plot(c, p)
	_, y := p.Transforms(&c)
	if v.gain && v.carry.holds(0) {
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.8}, c.Min.X, y(0), c.Max.X, y(0))
	}
	if v.hasDotted {
		c.StrokeLine2(draw.LineStyle{Color: pencil, Width: 0.8, Dashes: []vg.Length{0.8, 2.4}}, c.Min.X, y(v.dotted), c.Max.X, y(v.dotted))
	}
	for _, l := range v.layers {
		for _, r := range l.rings {
			Ring{r, l.shots.Look}.Plot(c, p)
		}
	}
	v.paintArrow(c, p)
	v.paintNotes(c, p)
	for _, l := range v.layers { // over the notes: no shot is ever hidden
		l.shots.Plot(c, p)
		for _, m := range l.marks {
			at, dx, dy := inside(c, p, m.Point)
			plus(c, at)
			if dx != 0 || dy != 0 {
				arrowhead(c, at, dx, dy)
			}
		}
	}
}

func (v plan) paintNotes(c draw.Canvas, p *plot.Plot) {
	notes := v.notes(c, p)
	place(c.Rectangle, notes, v.obstacles(c, p))
	for _, n := range notes {
		n.draw(c)
	}
	if v.axisName {
		v.paintCarryName(c)
	}
}

// roomForNames makes plans with a frame in common taller until no label has to
// lie over a shot, within reason.
func roomForNames(plans []plan) {
	const more, times = 22, 4
	for range times {
		roomy := true
		for _, v := range plans {
			c := draw.Canvas{Rectangle: vg.Rectangle{Max: vg.Point{X: vg.Length(v.width), Y: vg.Length(v.height)}}}
			p := v.plot()
			if !place(c.Rectangle, v.notes(c, p), v.obstacles(c, p)) {
				roomy = false
				break
			}
		}
		if roomy {
			return
		}
		for i := range plans {
			plans[i].frame = plans[i].taller(more)
		}
	}
}

func (v plan) grid(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	hair := draw.LineStyle{Color: rule, Width: 0.6}
	for _, t := range ticks(v.side, v.step) {
		c.StrokeLine2(hair, x(t), c.Min.Y, x(t), c.Max.Y)
	}
	for _, t := range ticks(v.carry, v.step) {
		c.StrokeLine2(hair, c.Min.X, y(t), c.Max.X, y(t))
	}
}

func plus(c draw.Canvas, at vg.Point) {
	const r = 5
	style := draw.LineStyle{Color: ink, Width: 1.4}
	c.StrokeLine2(style, at.X-r, at.Y, at.X+r, at.Y)
	c.StrokeLine2(style, at.X, at.Y-r, at.X, at.Y+r)
}

// extent returns the rectangle around what is drawn of a group: its shots on the
// plan and the ring of its centre.
func extent(c draw.Canvas, p *plot.Plot, l layer) vg.Rectangle {
	var at []vg.Point
	for i, q := range l.shots.Points {
		if on, dx, dy := inside(c, p, q); dx == 0 && dy == 0 && !l.shots.mishit(i) {
			at = append(at, on)
		}
	}
	if len(at) == 0 {
		for _, q := range l.shots.Points {
			on, _, _ := inside(c, p, q)
			at = append(at, on)
		}
	}
	return rectOf(at)
}

func rectOf(points []vg.Point) vg.Rectangle {
	r := square(points[0], 0)
	for _, q := range points[1:] {
		r = union(r, square(q, 0))
	}
	return r
}

func square(at vg.Point, half vg.Length) vg.Rectangle {
	return vg.Rectangle{Min: vg.Point{X: at.X - half, Y: at.Y - half}, Max: vg.Point{X: at.X + half, Y: at.Y + half}}
}

func union(a, b vg.Rectangle) vg.Rectangle {
	return vg.Rectangle{
		Min: vg.Point{X: min(a.Min.X, b.Min.X), Y: min(a.Min.Y, b.Min.Y)},
		Max: vg.Point{X: max(a.Max.X, b.Max.X), Y: max(a.Max.Y, b.Max.Y)},
	}
}
