package chart

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// An effectAxis is what the rows of one unit are drawn along.
type effectAxis struct {
	log    bool
	unit   string
	null   float64
	extent span // logarithms of the values if log
}

const axisInset = sheetMargin + 6 // points from the rim of the sheet

// axisFor returns an axis that holds the null, every estimate, every narrow
// interval and every smallest change, and of the wide intervals what reaches
// beyond these by at most half of their width.
func axisFor(rows []Effect) effectAxis {
	a := effectAxis{log: rows[0].ratio(), null: rows[0].Null, unit: rows[0].Unit}
	must := span{a.at(a.null), a.at(a.null)}
	wide := must
	for _, e := range rows {
		must = must.join(span{a.at(e.Narrow.Low), a.at(e.Narrow.High)})
		wide = wide.join(span{a.at(e.Wide.Low), a.at(e.Wide.High)})
		if e.worth() {
			must = must.join(span{a.at(e.Smallest), a.at(e.Smallest)})
		}
	}
	half := must.size() / 2
	a.extent = must.join(wide.cut(span{must.low - half, must.high + half}))
	least := 2 * math.Log(1.25)
	if !a.log {
		least = max(math.Abs(a.extent.low), math.Abs(a.extent.high)) / 1e6
		if least == 0 {
			least = 1
		}
	}
	a.extent = a.extent.widened(least)
	a.extent = a.extent.widened(a.extent.size() * 1.06)
	return a
}

// at returns where a value lies along the axis, before scaling.
func (a effectAxis) at(v float64) float64 {
	if a.log {
		return math.Log(v)
	}
	return v
}

func (a effectAxis) inner(c draw.Canvas) draw.Canvas {
	return draw.Crop(c, axisInset, -axisInset, 0, 0)
}

// x returns the place of a value on a canvas that holds the axis, at its end if
// it is beyond, and whether it is.
func (a effectAxis) x(c draw.Canvas, v float64) (x vg.Length, beyond bool) {
	t := (a.at(v) - a.extent.low) / a.extent.size()
	in := min(1, max(0, t))
	return c.X(in), t < -1e-9 || t > 1+1e-9
}

// A tick is a number on an effect axis.
type tick struct {
	value float64
	text  string
	at    vg.Length // its left end
}

// logTicks are the ratios to label, the most telling first.
var logTicks = []float64{1, 0.5, 2, 0.1, 10, 0.01, 100, 0.25, 4, 1e-3, 1e3, 1e-4, 1e4, 1e-6, 1e6, 1e-8, 1e8,
	0.8, 1.25, 0.7, 1.5, 0.2, 5, 0.9, 1.1, 3}

// ticks returns the numbers to write, with room between them.
func (a effectAxis) ticks(c draw.Canvas) []tick {
	const gap = 9
	values, write := logTicks, func(v float64) string { return "×" + strconv.FormatFloat(v, 'g', -1, 64) }
	if !a.log {
		step := niceStep(a.extent.size() * 40 / float64(c.Max.X-c.Min.X))
		values = ticks(a.extent, step)
		write = func(v float64) string { return signed(v, decimalsOf(step)) }
	}
	var all []tick
	for _, v := range values {
		x, beyond := a.x(c, v)
		if beyond {
			continue
		}
		text := write(v)
		w := vg.Length(smallPen.width(text) * noteSlack)
		t := tick{v, text, x - w/2}
		free := t.at >= c.Min.X-axisInset+2 && t.at+w <= c.Max.X+axisInset-2
		for _, o := range all {
			free = free && (t.at+w+gap <= o.at || o.at+vg.Length(smallPen.width(o.text)*noteSlack)+gap <= t.at)
		}
		if free {
			all = append(all, t)
		}
	}
	return all
}

// paintGrid draws a hair for each number and the line of the null in ink.
func (a effectAxis) paintGrid(c draw.Canvas) {
	for _, t := range a.ticks(c) {
		x, _ := a.x(c, t.value)
		c.StrokeLine2(draw.LineStyle{Color: rule, Width: 0.6}, x, c.Min.Y, x, c.Max.Y)
	}
	x, _ := a.x(c, a.null)
	c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.9}, x, c.Min.Y-2, x, c.Max.Y)
}

func (a effectAxis) paintNumbers(c draw.Canvas) {
	for _, t := range a.ticks(c) {
		smallPen.write(c, t.at, c.Max.Y-vg.Length(smallPen.size)-1, t.text)
	}
}

// paintBar draws the intervals, the estimate and the smallest change of one row.
func (a effectAxis) paintBar(c draw.Canvas, e Effect) {
	colour := stageColours[0]
	y := (c.Min.Y + c.Max.Y) / 2
	low, lowBeyond := a.x(c, e.Wide.Low)
	high, highBeyond := a.x(c, e.Wide.High)
	line := draw.LineStyle{Color: colour, Width: 1.4}
	c.StrokeLine2(line, low, y, high, y)
	a.end(c, low, y, -1, lowBeyond)
	a.end(c, high, y, 1, highBeyond)

	from, _ := a.x(c, e.Narrow.Low)
	to, _ := a.x(c, e.Narrow.High)
	c.SetColor(colour)
	c.Fill(vg.Rectangle{Min: vg.Point{X: from, Y: y - 3.5}, Max: vg.Point{X: to, Y: y + 3.5}}.Path())

	null, _ := a.x(c, a.null)
	c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.9}, null, c.Min.Y, null, c.Max.Y)
	if e.worth() {
		x, _ := a.x(c, e.Smallest)
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: 1, Dashes: []vg.Length{3, 2}}, x, c.Min.Y+1, x, c.Max.Y-1)
	}

	x, _ := a.x(c, e.Estimate)
	paintEstimate(c, vg.Point{X: x, Y: y})
}

// paintEstimate draws the diamond of an estimate.
func paintEstimate(c draw.Canvas, at vg.Point) {
	diamond := Diamond.path(at, 4.6)
	c.SetColor(ink)
	c.Fill(diamond)
	c.SetLineStyle(draw.LineStyle{Color: paper, Width: 0.9})
	c.Stroke(diamond)
}

// end closes a wide interval: with a stroke across, or with an arrowhead if it
// goes on beyond the axis.
func (a effectAxis) end(c draw.Canvas, x, y vg.Length, way vg.Length, beyond bool) {
	style := draw.LineStyle{Color: stageColours[0], Width: 1.4}
	if beyond {
		c.StrokeLines(style, []vg.Point{{X: x - way*4, Y: y + 3.5}, {X: x, Y: y}, {X: x - way*4, Y: y - 3.5}})
		return
	}
	c.StrokeLine2(style, x, y-3, x, y+3)
}
