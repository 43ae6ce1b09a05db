package chart

import (
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion"
)

// An Effect is one row of Effects: what changed from before to after.
type Effect struct {
	Name     string
	Says     string              // a few words at the end of its row, such as the verdict; "" for none
	Unit     string              // of a gain; ratios have none
	Null     float64             // 0: a gain, after minus before; 1: a ratio, after over before
	Estimate float64             // in Unit, or a ratio; within both intervals
	Narrow   dispersion.Interval // at the lower level, such as 0.80
	Wide     dispersion.Interval // at the higher one, such as 0.95
	Smallest float64             // where a change begins to be worth having: 5 for a gain of 5, 0.8 for a fifth less; Null for none
	N1, N2   int                 // shots before, after; both 0 where it is not shots that are compared, such as pupils
}

// EffectsInput is what Effects draws. The zero value of Title stands for a
// general one.
type EffectsInput struct {
	Title string
	Rows  []Effect // from the top down, the headline first
}

// MostEffects is how many effects one picture holds.
const MostEffects = 60

// Effects returns a figure with one row for each effect: the estimate as a
// diamond, the narrow interval as a bar, the wide one as a line, and, dashed,
// the smallest change worth having. Each row says its numbers. Gains of one unit
// share an axis, with the zero always on it; ratios share a logarithmic one, on
// which half and double are equally far from 1. The order of the rows is kept
// within an axis, and the axes come in the order of their first rows.
//
// A wide interval so long that it would squash the others ends in an arrowhead
// at the edge; its numbers are in its row.
//
// Errors: [ErrEmpty] for no rows; *[InputError] for a number that is not finite
// or too large, a null other than 0 and 1, a ratio that is not positive, an
// estimate outside an interval or a narrow interval outside the wide one.
//
// Effects does not modify its input.
func Effects(in EffectsInput) (Figure, error) {
	if len(in.Rows) == 0 {
		return Figure{}, fmt.Errorf("chart: no effects: %w", ErrEmpty)
	}
	if len(in.Rows) > MostEffects {
		return Figure{}, &InputError{fmt.Sprintf("%d effects", len(in.Rows)), fmt.Sprintf("one picture holds at most %d: draw fewer", MostEffects)}
	}
	title := plain(in.Title, longestText)
	if title == "" {
		title = "What changed, and how sure that is"
	}
	rows := make([]Effect, len(in.Rows))
	for i, e := range in.Rows {
		e.Name, e.Says, e.Unit = plain(e.Name, longestName), plain(e.Says, longestName), plain(e.Unit, 12)
		if err := checkEffect(e, fmt.Sprintf("effect %d, %q", i+1, e.Name)); err != nil {
			return Figure{}, err
		}
		rows[i] = e
	}

	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	for _, block := range blocks(rows) {
		sheet.skip(9)
		sheet.effectBlock(block)
	}
	sheet.skip(4)
	sheet.prose(smallPen, effectsKey(rows), 4)
	return sheet.figure(title, effectsAlt(title, rows)), nil
}

// blocks sorts the rows by the axis they need.
func blocks(rows []Effect) [][]Effect {
	type axis struct {
		null float64
		unit string
	}
	var order []axis
	by := map[axis][]Effect{}
	for _, e := range rows {
		a := axis{e.Null, e.Unit}
		if e.ratio() {
			a.unit = ""
		}
		if by[a] == nil {
			order = append(order, a)
		}
		by[a] = append(by[a], e)
	}
	all := make([][]Effect, len(order))
	for i, a := range order {
		all[i] = by[a]
	}
	return all
}

const barHeight = 20.0 // points

// effectBlock adds the rows that share one axis, the grid behind them and the
// numbers of the axis below.
func (s *sheet) effectBlock(rows []Effect) {
	axis := axisFor(rows)
	block := sheet{y: s.y}
	for _, e := range rows {
		block.effectText(e)
		block.add(barHeight, func(c draw.Canvas) { axis.paintBar(axis.inner(c), e) })
		block.skip(8)
	}
	s.add(block.y-s.y, func(c draw.Canvas) { axis.paintGrid(axis.inner(c)) })
	s.parts = append(s.parts, block.parts...)
	s.add(smallPen.leading()+2, func(c draw.Canvas) { axis.paintNumbers(axis.inner(c)) })
	caption := "ratio, after over before, on a logarithmic scale"
	if !axis.log {
		caption = sideways("gain, after minus before", axis.unit)
	}
	s.add(smallPen.leading()+2, func(c draw.Canvas) {
		x := (c.Min.X + c.Max.X - vg.Length(smallPen.width(caption))) / 2
		smallPen.write(c, x, c.Max.Y-vg.Length(smallPen.size), caption)
	})
}

// effectText adds what a row says in words, over the grid.
func (s *sheet) effectText(e Effect) {
	right := e.value(e.Estimate)
	if !e.ratio() && e.Unit != "" {
		right += " " + e.Unit
	}
	if e.Says != "" {
		right += ": " + e.Says
	}
	right = namePen.fit(right, textWidth*0.55)
	room := textWidth - namePen.width(right)*noteSlack - 10
	s.add(namePen.leading(), func(c draw.Canvas) {
		y := c.Max.Y - vg.Length(namePen.size)
		writeOver(c, namePen, c.Min.X+sheetMargin, y, namePen.fit(e.Name, room))
		writeOver(c, namePen, c.Max.X-sheetMargin-vg.Length(namePen.width(right)), y, right)
	})
	for _, l := range smallPen.wrap(e.details(), textWidth, 2) {
		s.add(smallPen.leading(), func(c draw.Canvas) {
			writeOver(c, smallPen, c.Min.X+sheetMargin, c.Max.Y-vg.Length(smallPen.size), l)
		})
	}
}

// writeOver writes on a strip of paper, so that no line runs through the text.
func writeOver(c draw.Canvas, p pen, x, y vg.Length, text string) {
	c.SetColor(paper)
	c.Fill(vg.Rectangle{
		Min: vg.Point{X: x - 1, Y: y - vg.Length(p.size*0.25)},
		Max: vg.Point{X: x + vg.Length(p.width(text)*noteSlack) + 1, Y: y + vg.Length(p.size)},
	}.Path())
	p.write(c, x, y, text)
}

// effectsKey explains the signs that this picture has.
func effectsKey(rows []Effect) string {
	worth := false
	for _, e := range rows {
		worth = worth || e.worth()
	}
	narrow, wide := rows[0].Narrow.Level, rows[0].Wide.Level
	var b strings.Builder
	of := "these shots fit"
	if !slices.ContainsFunc(rows, func(e Effect) bool { return e.N1 > 0 || e.N2 > 0 }) {
		of = "the measurements fit"
	}
	fmt.Fprintf(&b, "Diamond: the estimate. Bar and line: what %s, at %s and %s.", of, share(narrow), share(wide))
	if worth {
		b.WriteString(" Dashed: from here on a change is worth having.")
	}
	return b.String()
}

func effectsAlt(title string, rows []Effect) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. One row for each effect.", strings.TrimRight(title, "."))
	for _, e := range rows {
		fmt.Fprintf(&b, " %s: %s", e.Name, e.numbers())
		if e.Says != "" {
			b.WriteString("; " + strings.TrimRight(e.Says, "."))
		}
		b.WriteByte('.')
	}
	return b.String()
}
