package chart

import (
	"image/color"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/strokes"
)

// A hatch is how a ground is told from others without colour: level strokes, so
// far apart and broken so.
type hatch struct {
	outline vg.Length
	broken  []vg.Length // the outline; nil for an unbroken one
	gap     vg.Length   // between two strokes; 0 for none
	dashes  []vg.Length
	width   vg.Length
	colour  color.NRGBA
}

// hatches are those of the grounds; rough is bare paper.
var hatches = map[string]hatch{
	"fairway":       {outline: 0.7, broken: []vg.Length{7, 3}, colour: pencil},
	"green":         {outline: 1, colour: pencil},
	"recovery":      {outline: 0.5, gap: 6, dashes: []vg.Length{1.5, 6}, width: 1.6, colour: pencil},
	"bunker":        {outline: 0.6, gap: 2.6, dashes: []vg.Length{0.7, 1.9}, width: 0.9, colour: stageColours[1]},
	"water":         {outline: 0.6, gap: 3.2, width: 0.5, colour: stageColours[0]},
	"out of bounds": {outline: 0.6, gap: 8, dashes: []vg.Length{9, 5}, width: 0.7, colour: ink},
}

// paintArea draws the outline of an area, in the units of the axes, and its
// hatch.
func paintArea(c draw.Canvas, p *plot.Plot, tag string, rings [][]dispersion.Point) {
	h, ok := hatches[tag]
	if !ok {
		return
	}
	x, y := p.Transforms(&c)
	outlines := make([][]vg.Point, len(rings))
	for i, ring := range rings {
		for _, q := range ring {
			outlines[i] = append(outlines[i], vg.Point{X: x(q.X), Y: y(q.Y)})
		}
		outlines[i] = append(outlines[i], outlines[i][0])
	}
	h.paint(c, outlines)
}

func (h hatch) paint(c draw.Canvas, outlines [][]vg.Point) {
	if h.gap > 0 {
		style := draw.LineStyle{Color: h.colour, Width: h.width, Dashes: h.dashes}
		for y := c.Min.Y + h.gap/2; y < c.Max.Y; y += h.gap {
			at := levelCrossings(outlines, y)
			for i := 0; i+1 < len(at); i += 2 {
				if from, to := max(at[i], c.Min.X), min(at[i+1], c.Max.X); from < to {
					c.StrokeLine2(style, from, y, to, y)
				}
			}
		}
	}
	for _, o := range outlines {
		c.StrokeLines(draw.LineStyle{Color: h.colour, Width: h.outline, Dashes: h.broken}, c.ClipLinesXY(o)...)
	}
}

// levelCrossings returns where closed outlines cross a level line, in order.
func levelCrossings(outlines [][]vg.Point, y vg.Length) []vg.Length {
	var at []vg.Length
	for _, o := range outlines {
		for i := range len(o) - 1 {
			a, b := o[i], o[i+1]
			if (a.Y <= y) != (b.Y <= y) {
				at = append(at, a.X+(y-a.Y)/(b.Y-a.Y)*(b.X-a.X))
			}
		}
	}
	slices.Sort(at)
	return at
}

// groundsIn returns the tags of the areas that reach into a box, each once, from
// the lowest to the topmost.
func groundsIn(areas []strokes.Area, b box) []string {
	var tags []string
	for _, a := range areas {
		around := emptyBox()
		for _, q := range a.Rings[0] {
			around.add(q)
		}
		if _, drawn := hatches[a.Ground.Tag]; drawn && !around.cut(b).empty() && !slices.Contains(tags, a.Ground.Tag) {
			tags = append(tags, a.Ground.Tag)
		}
	}
	return tags
}

// groundKey adds lines of swatches with the names of the grounds.
func (s *sheet) groundKey(tags []string) {
	const swatch, height = 20.0, 12.0
	for len(tags) > 0 {
		n, width := 0, 0.0
		for n < len(tags) {
			width += swatch + 4 + smallPen.width(tags[n])*noteSlack + 10
			if n > 0 && width > textWidth {
				break
			}
			n++
		}
		row := tags[:n]
		tags = tags[n:]
		s.add(height+3, func(c draw.Canvas) {
			x, top := c.Min.X+sheetMargin, c.Max.Y
			for _, tag := range row {
				b := draw.Canvas{Canvas: c.Canvas, Rectangle: vg.Rectangle{Min: vg.Point{X: x, Y: top - height}, Max: vg.Point{X: x + swatch, Y: top}}}
				hatches[tag].paint(b, [][]vg.Point{{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}, b.Min}})
				x += swatch + 4
				smallPen.write(c, x, top-height+3, tag)
				x += vg.Length(smallPen.width(tag)*noteSlack) + 10
			}
		})
	}
}
