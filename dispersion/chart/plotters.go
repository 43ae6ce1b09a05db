package chart

import (
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion"
)

// Shots is a plotter of landing points. A shot beyond the axes is drawn at the
// nearest edge with an arrowhead that points to it: never dropped, and never
// shown where it did not land without a sign of it.
type Shots struct {
	Points []dispersion.Point
	Mishit []bool // parallel to Points, or nil: those to be crossed
	Look   Look
}

// edge is how far from the rim of the plan a shot beyond it is drawn.
const edge = 11

// Plot draws the shots, the mishits last.
func (s Shots) Plot(c draw.Canvas, p *plot.Plot) {
	for _, mishits := range []bool{false, true} {
		for i, point := range s.Points {
			if s.mishit(i) != mishits {
				continue
			}
			at, dx, dy := inside(c, p, point)
			s.Look.draw(c, at)
			if mishits {
				cross(c, at)
			}
			if dx != 0 || dy != 0 {
				arrowhead(c, at, dx, dy)
			}
		}
	}
}

func (s Shots) mishit(i int) bool { return i < len(s.Mishit) && s.Mishit[i] }

// DataRange returns the extremes of the points.
func (s Shots) DataRange() (xmin, xmax, ymin, ymax float64) {
	b := emptyBox()
	for _, p := range s.Points {
		b.add(p)
	}
	return b.side.low, b.side.high, b.carry.low, b.carry.high
}

// inside returns where to draw a point, and in which direction it lies beyond
// that: -1, 0 or 1 across and up.
func inside(c draw.Canvas, p *plot.Plot, point dispersion.Point) (at vg.Point, dx, dy int) {
	x, y := p.Transforms(&c)
	at = vg.Point{X: x(point.X), Y: y(point.Y)}
	at.X, dx = within(at.X, c.Min.X+edge, c.Max.X-edge)
	at.Y, dy = within(at.Y, c.Min.Y+edge, c.Max.Y-edge)
	return at, dx, dy
}

func within(v, low, high vg.Length) (vg.Length, int) {
	const slack = 0.01 // of a point: rounding puts no shot beyond the edge
	switch {
	case v < low-slack:
		return low, -1
	case v > high+slack:
		return high, 1
	}
	return v, 0
}

// arrowhead points from the marker to where the shot landed.
func arrowhead(c draw.Canvas, at vg.Point, dx, dy int) {
	const reach, half = 9.5, 2.8
	x, y := vg.Length(dx), vg.Length(dy)
	if dx != 0 && dy != 0 {
		x, y = x*0.7, y*0.7
	}
	tip := vg.Point{X: at.X + reach*x, Y: at.Y + reach*y}
	back := vg.Point{X: tip.X - half*x, Y: tip.Y - half*y}
	c.StrokeLines(draw.LineStyle{Color: ink, Width: crossWidth}, []vg.Point{
		{X: back.X - half*y, Y: back.Y + half*x}, tip, {X: back.X + half*y, Y: back.Y - half*x},
	})
}

// Ring is a plotter of the edge of a region: a thin solid line for where the
// centre lies and for a polygon, a dashed one for where the next shot lands. What
// reaches beyond the axes is cut off there.
type Ring struct {
	Region dispersion.Region
	Look   Look
}

const ringPoints = 72 // corners; the curve is within 0.1 points of the true one at a radius of 100

// Plot draws the ring.
func (r Ring) Plot(c draw.Canvas, p *plot.Plot) {
	style := draw.LineStyle{Color: r.Look.Colour, Width: 1}
	if r.Look.Hollow {
		style.Width = 0.7
	}
	style.Dashes = regionDashes(r.Region)
	if outline := r.outline(c, p); len(outline) > 0 {
		c.StrokeLines(style, c.ClipLinesXY(append(outline, outline[0]))...)
	}
}

func (r Ring) outline(c draw.Canvas, p *plot.Plot) []vg.Point {
	if r.Region == nil {
		return nil
	}
	x, y := p.Transforms(&c)
	edge := make([]vg.Point, 0, ringPoints+1)
	for _, q := range r.Region.Outline(ringPoints) {
		edge = append(edge, vg.Point{X: x(q.X), Y: y(q.Y)})
	}
	return edge
}

// fine returns the outline with points along straight edges too.
func (r Ring) fine(c draw.Canvas, p *plot.Plot) []vg.Point {
	const apart = 8
	corners := r.outline(c, p)
	if _, straight := r.Region.(dispersion.Polygon); !straight {
		return corners
	}
	var all []vg.Point
	for i, from := range corners {
		to := corners[(i+1)%len(corners)]
		n := 1 + int(math.Hypot(float64(to.X-from.X), float64(to.Y-from.Y))/apart)
		for k := range min(n, ringPoints) {
			t := vg.Length(k) / vg.Length(n)
			all = append(all, vg.Point{X: from.X + t*(to.X-from.X), Y: from.Y + t*(to.Y-from.Y)})
		}
	}
	return all
}

// direct returns the fine outline starting at its rightmost point, where a name
// is tried first.
func (r Ring) direct(c draw.Canvas, p *plot.Plot) []vg.Point {
	all := r.fine(c, p)
	first := 0
	for i, q := range all {
		if q.X > all[first].X {
			first = i
		}
	}
	return append(append([]vg.Point(nil), all[first:]...), all[:first]...)
}

// DataRange returns the box around the ring.
func (r Ring) DataRange() (xmin, xmax, ymin, ymax float64) {
	b := emptyBox()
	if r.Region != nil {
		b = boxAround(r.Region)
	}
	return b.side.low, b.side.high, b.carry.low, b.carry.high
}

// TargetLine is a plotter of the line from the player to the target, where the
// side is 0.
type TargetLine struct{}

// Plot draws the line from the lower to the upper edge.
func (TargetLine) Plot(c draw.Canvas, p *plot.Plot) {
	x, _ := p.Transforms(&c)
	if at := x(0); c.ContainsX(at) {
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.8}, at, c.Min.Y, at, c.Max.Y)
	}
}
