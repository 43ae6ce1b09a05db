package chart

import (
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// An xy is a picture of numbers over a distance, drawn on a sheet.
type xy struct {
	x, y         span
	xStep, yStep float64
	xName, yName string
	signs        bool    // write a plus before what is above zero, and draw the zero
	sides        bool    // across is left and right of a line, which is drawn
	height       float64 // points, of the axes
	left, right  float64 // points beside the axes, for numbers and for names
}

// newXY returns axes that hold both spans, with a little room.
func newXY(x, y span, xName, yName string, signs bool, right float64) xy {
	const height = 210
	a := xy{x: x, y: y, xName: xName, yName: yName, signs: signs, height: height, right: right}
	a.x = a.x.widened(max(a.x.size()*1.04, 1e-6))
	a.y = a.y.widened(max(a.y.size()*1.08, 1e-3))
	a.yStep = niceStep(a.y.size() * 26 / height)
	for _, t := range ticks(a.y, a.yStep) {
		a.left = max(a.left, smallPen.width(a.yText(t))*noteSlack+tickGap)
	}
	a.xStep = niceStep(a.x.size() * 34 / (textWidth - a.left - right))
	return a
}

// evenly returns the axes with one scale for both, as large as the width and the
// greatest height allow; what the width leaves over widens the x axis.
func (a xy) evenly(greatestHeight float64) xy {
	for range 2 { // the numbers of the new steps may take another width
		width := textWidth - a.left - a.right
		scale := min(width/a.x.size(), greatestHeight/a.y.size())
		a.x = a.x.widened(width / scale)
		a.height = a.y.size() * scale
		a.xStep, a.yStep = niceStep(34/scale), niceStep(26/scale)
		a.left = 0
		for _, t := range ticks(a.y, a.yStep) {
			a.left = max(a.left, smallPen.width(a.yText(t))*noteSlack+tickGap)
		}
	}
	return a
}

func (a xy) yText(v float64) string {
	if a.signs {
		return signed(v, decimalsOf(a.yStep))
	}
	return number(v, decimalsOf(a.yStep))
}

// xText writes a number across: where these are sides, how far, and at either end
// to which side.
func (a xy) xText(v float64) string {
	if !a.sides {
		return number(v, decimalsOf(a.xStep))
	}
	text := number(math.Abs(v), decimalsOf(a.xStep))
	switch {
	case v < 0 && v-a.xStep < a.x.low:
		return text + " left"
	case v > 0 && v+a.xStep > a.x.high:
		return text + " right"
	}
	return text
}

// inner crops the canvas of the whole width to the axes.
func (a xy) inner(c draw.Canvas) draw.Canvas {
	return draw.Crop(c, vg.Length(sheetMargin+a.left), -vg.Length(sheetMargin+a.right), 0, 0)
}

func (a xy) at(c draw.Canvas, x, y float64) vg.Point {
	return vg.Point{X: c.X((x - a.x.low) / a.x.size()), Y: c.Y((y - a.y.low) / a.y.size())}
}

// addXY adds the name of the upward axis, the axes with what paint draws into
// them, and the numbers and the name of the axis below.
func (s *sheet) addXY(a xy, paint func(c draw.Canvas)) {
	s.add(smallPen.leading()+3, func(c draw.Canvas) {
		smallPen.write(c, c.Min.X+sheetMargin, c.Max.Y-vg.Length(smallPen.size), smallPen.fit(a.yName, textWidth))
	})
	s.add(a.height, func(c draw.Canvas) {
		inner := a.inner(c)
		a.paintGrid(inner)
		paint(inner)
	})
	s.add(smallPen.leading()+5, func(c draw.Canvas) {
		inner := a.inner(c)
		free := vg.Length(math.Inf(-1))
		for _, t := range ticks(a.x, a.xStep) {
			text := a.xText(t)
			w := vg.Length(smallPen.width(text) * noteSlack)
			if from := a.at(inner, t, 0).X - w/2; from > free && from+w < c.Max.X-2 {
				smallPen.write(c, from, c.Max.Y-vg.Length(smallPen.size)-3, text)
				free = from + w + 6
			}
		}
	})
	s.add(smallPen.leading()+4, func(c draw.Canvas) {
		inner := a.inner(c)
		text := smallPen.fit(a.xName, textWidth)
		w := vg.Length(smallPen.width(text))
		x := max(c.Min.X+sheetMargin, min((inner.Min.X+inner.Max.X-w)/2, c.Max.X-sheetMargin-w))
		smallPen.write(c, x, c.Max.Y-vg.Length(smallPen.size), text)
	})
}

// paintGrid draws a hair for each number, the zero in ink, and the numbers left
// of the axes.
func (a xy) paintGrid(c draw.Canvas) {
	hair := draw.LineStyle{Color: rule, Width: 0.6}
	for _, t := range ticks(a.x, a.xStep) {
		x := a.at(c, t, 0).X
		c.StrokeLine2(hair, x, c.Min.Y, x, c.Max.Y)
	}
	for _, t := range ticks(a.y, a.yStep) {
		y := a.at(c, 0, t).Y
		c.StrokeLine2(hair, c.Min.X, y, c.Max.X, y)
		text := a.yText(t)
		smallPen.write(c, c.Min.X-tickGap-vg.Length(smallPen.width(text)), y-vg.Length(smallPen.size)*0.35, text)
	}
	if a.sides {
		x := a.at(c, 0, 0).X
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.8}, x, c.Min.Y, x, c.Max.Y)
	}
	if a.signs && a.y.holds(0) {
		y := a.at(c, 0, 0).Y
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.9}, c.Min.X, y, c.Max.X, y)
	}
}
