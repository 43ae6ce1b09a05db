package chart

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

var (
	paper  = color.NRGBA{0xFB, 0xF8, 0xF1, 0xFF}
	ink    = color.NRGBA{0x22, 0x20, 0x1C, 0xFF}
	pencil = color.NRGBA{0x5F, 0x5B, 0x53, 0xFF} // second-rank text
	rule   = color.NRGBA{0xE4, 0xDE, 0xD1, 0xFF} // grid
)

// stageColours are those of Okabe and Ito that have a contrast of 3 to 1 on paper,
// as WCAG 2.2 asks of graphics (1.4.11): without yellow, orange and sky blue, and
// with a reddish purple a shade darker, from #CC79A7. The strongest come first.
//
// Source: M. Okabe and K. Ito, "Color Universal Design", 2008 (from memory).
var stageColours = []color.NRGBA{
	{0x00, 0x72, 0xB2, 0xFF}, // blue
	{0xD5, 0x5E, 0x00, 0xFF}, // vermillion
	{0x00, 0x9E, 0x73, 0xFF}, // bluish green
	{0xC6, 0x75, 0xA2, 0xFF}, // reddish purple
	{0x00, 0x00, 0x00, 0xFF}, // black
}

// A Shape is the outline of a marker.
type Shape int

// The shapes, in the order in which stages get them.
const (
	Circle Shape = iota
	Square
	Triangle
	Diamond
	DownTriangle
	Star
	Pentagon
	shapes // how many there are
)

// A Look is how the shots of one stage are drawn: its colour and its shape, and
// hollow when it stands behind a later stage.
type Look struct {
	Colour color.NRGBA
	Shape  Shape
	Hollow bool
}

// StageLook returns the look of stage i, from 0, in the order hit. The shapes
// repeat after 7 stages and the colours after 5, so that 35 stages differ.
func StageLook(i int) Look {
	if i < 0 {
		i = -(i + 1)
	}
	return Look{Colour: stageColours[i%len(stageColours)], Shape: Shape(i % int(shapes))}
}

// Behind returns the look of the same stage drawn behind a later one.
func (l Look) Behind() Look {
	l.Hollow = true
	return l
}

const (
	markerRadius = 3.2 // of a circle, in points; the other shapes are about as large
	hollowWidth  = 1.1
	crossWidth   = 1.0
)

// draw draws one marker.
func (l Look) draw(c draw.Canvas, at vg.Point) {
	path := l.Shape.path(at, markerRadius)
	if l.Hollow {
		c.SetLineStyle(draw.LineStyle{Color: l.Colour, Width: hollowWidth})
		c.Stroke(path)
		return
	}
	c.SetColor(l.Colour)
	c.Fill(path)
	c.SetLineStyle(draw.LineStyle{Color: paper, Width: 0.5}) // keeps touching markers apart
	c.Stroke(path)
}

// cross marks a mishit. It reaches beyond the marker, so that it is seen on a
// filled one and in grey.
func cross(c draw.Canvas, at vg.Point) {
	const r = markerRadius * 1.45
	c.StrokeLines(draw.LineStyle{Color: ink, Width: crossWidth},
		[]vg.Point{{X: at.X - r, Y: at.Y - r}, {X: at.X + r, Y: at.Y + r}},
		[]vg.Point{{X: at.X - r, Y: at.Y + r}, {X: at.X + r, Y: at.Y - r}})
}

// path returns the closed outline of the shape, about as large as a circle of
// radius r.
func (s Shape) path(at vg.Point, r vg.Length) vg.Path {
	switch s {
	case Square:
		return polygon(at, r*1.25, 4, math.Pi/4)
	case Triangle:
		return polygon(at, r*1.4, 3, math.Pi/2)
	case Diamond:
		return polygon(at, r*1.35, 4, 0)
	case DownTriangle:
		return polygon(at, r*1.4, 3, -math.Pi/2)
	case Star:
		return star(at, r*1.6)
	case Pentagon:
		return polygon(at, r*1.2, 5, math.Pi/2)
	}
	var p vg.Path
	p.Move(vg.Point{X: at.X + r, Y: at.Y})
	p.Arc(at, r, 0, 2*math.Pi)
	p.Close()
	return p
}

func polygon(at vg.Point, r vg.Length, corners int, first float64) vg.Path {
	var p vg.Path
	for i := range corners {
		line(&p, i, around(at, r, first+2*math.Pi*float64(i)/float64(corners)))
	}
	p.Close()
	return p
}

func star(at vg.Point, r vg.Length) vg.Path {
	var p vg.Path
	for i := range 10 {
		reach := r
		if i%2 == 1 {
			reach = r * 0.5
		}
		line(&p, i, around(at, reach, math.Pi/2+math.Pi*float64(i)/5))
	}
	p.Close()
	return p
}

func around(at vg.Point, r vg.Length, angle float64) vg.Point {
	sin, cos := math.Sincos(angle)
	return vg.Point{X: at.X + r*vg.Length(cos), Y: at.Y + r*vg.Length(sin)}
}

func line(p *vg.Path, i int, to vg.Point) {
	if i == 0 {
		p.Move(to)
		return
	}
	p.Line(to)
}
