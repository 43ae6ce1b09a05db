package chart

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// SpreadRatioInput is what SpreadRatio draws. The zero value of Title stands for
// one made from the numbers.
type SpreadRatioInput struct {
	Title string
	// Ratios are of spreads, after over before, the one to be read first. An
	// area ratio is drawn as that of the radii, its square root.
	Ratios   []compare.Effect
	Smallest float64 // the share by which a radius must shrink to matter; 0: compare.SmallestSpread
}

const mostRatios = 12

// SpreadRatio returns a figure of how much tighter or wider a pattern became: on
// a logarithmic axis, on which half and double are equally far from 1, each ratio
// as a diamond with its interval as a bar. The hatched fields at either side are
// where a change matters, tighter on the left and wider on the right, so that a
// bar tells by where it ends what these balls allow to be said.
//
// An interval that reaches beyond the axis ends in an arrowhead; its numbers are
// in its row.
//
// Errors: [ErrEmpty] for no ratios; *[InputError] for an effect that is no ratio,
// a number that is not finite, too large or not above 0, an estimate outside its
// interval, or a smallest share outside (0, 1).
//
// SpreadRatio does not modify its input.
func SpreadRatio(in SpreadRatioInput) (Figure, error) {
	if len(in.Ratios) == 0 {
		return Figure{}, fmt.Errorf("chart: no ratios: %w", ErrEmpty)
	}
	if len(in.Ratios) > mostRatios {
		return Figure{}, &InputError{fmt.Sprintf("%d ratios", len(in.Ratios)), fmt.Sprintf("one picture holds at most %d", mostRatios)}
	}
	smallest := in.Smallest
	if smallest == 0 {
		smallest = compare.SmallestSpread
	}
	if !(smallest > 0 && smallest < 1) {
		return Figure{}, &InputError{"the smallest change", fmt.Sprintf("%g is no share: give one such as 0.20", smallest)}
	}
	rows := make([]radiusRatio, len(in.Ratios))
	for i, e := range in.Ratios {
		r, err := newRadiusRatio(e, fmt.Sprintf("ratio %d, %q", i+1, plain(e.Name, longestName)))
		if err != nil {
			return Figure{}, err
		}
		rows[i] = r
	}
	title := plain(in.Title, longestText)
	if title == "" {
		title = spreadTitle(rows, smallest)
	}
	tight, wide := 1-smallest, 1/(1-smallest)
	axis := spreadAxis(rows, tight, wide)
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(7)
	sheet.spreadFields(axis, tight, wide, rows)
	sheet.skip(4)
	sheet.prose(smallPen, fmt.Sprintf("Diamond: the estimate. Bar: what these shots fit, at %s. Hatched: from here on a change matters, a radius %s tighter or its mirror image.",
		share(rows[0].interval.Level), share(smallest)), 4)
	return sheet.figure(title, spreadAlt(title, rows, smallest)), nil
}

// A radiusRatio is a ratio of radii as drawn.
type radiusRatio struct {
	name     string
	estimate float64
	interval dispersion.Interval
	n1, n2   int
}

func newRadiusRatio(e compare.Effect, where string) (radiusRatio, error) {
	if e.Null != 1 {
		return radiusRatio{}, &InputError{where, fmt.Sprintf("its null is %g: it is no ratio of spreads", e.Null)}
	}
	r := radiusRatio{ratioName(e.Name), e.Estimate, e.Interval, e.N1, e.N2}
	for _, v := range []float64{e.Estimate, e.Interval.Low, e.Interval.High} {
		if err := checkNumber(v, where, "ratio"); err != nil {
			return r, err
		}
	}
	if i := e.Interval; !(i.Low >= 1/largest && i.Low <= e.Estimate && e.Estimate <= i.High && i.Level > 0 && i.Level < 1) {
		return r, &InputError{where, fmt.Sprintf("%g with an interval from %g to %g at level %g is no ratio of spreads", e.Estimate, i.Low, i.High, i.Level)}
	}
	if e.Name == compare.NameAreaRatio {
		r.estimate, r.interval.Low, r.interval.High = math.Sqrt(r.estimate), math.Sqrt(r.interval.Low), math.Sqrt(r.interval.High)
	}
	return r, nil
}

func ratioName(name string) string {
	switch name {
	case compare.NameSpreadRatio:
		return "radius, wild balls allowed for"
	case compare.NameAreaRatio:
		return "radius, if shots are normal"
	case compare.NameAngleSpreadRatio:
		return "spread of the angle"
	}
	return plain(name, longestName)
}

// spreadAxis returns an axis that holds the fields, every estimate and the
// intervals up to four times either way.
func spreadAxis(rows []radiusRatio, tight, wide float64) effectAxis {
	must := span{math.Log(min(tight, 0.5)), math.Log(max(wide, 2))}
	all := must
	for _, r := range rows {
		must = must.join(span{math.Log(r.estimate), math.Log(r.estimate)})
		all = all.join(span{math.Log(r.interval.Low), math.Log(r.interval.High)})
	}
	room := math.Log(4)
	a := effectAxis{log: true, null: 1, extent: must.join(all.cut(span{must.low - room, must.high + room}))}
	a.extent = a.extent.widened(a.extent.size() * 1.06)
	return a
}

// spreadFields adds the rows over the fields where a change matters.
func (s *sheet) spreadFields(axis effectAxis, tight, wide float64, rows []radiusRatio) {
	block := sheet{y: s.y}
	block.add(smallPen.leading()+2, func(c draw.Canvas) {
		inner := axis.inner(c)
		low, _ := axis.x(inner, tight)
		high, _ := axis.x(inner, wide)
		y := c.Max.Y - vg.Length(smallPen.size)
		writeOver(c, smallPen, inner.Min.X, y, smallPen.fit("tighter", float64(low-inner.Min.X)))
		right := smallPen.fit("wider", float64(inner.Max.X-high))
		writeOver(c, smallPen, inner.Max.X-vg.Length(smallPen.width(right)*noteSlack), y, right)
	})
	for _, r := range rows {
		block.skip(6)
		block.add(namePen.leading(), func(c draw.Canvas) {
			y, value := c.Max.Y-vg.Length(namePen.size), r.says()
			w := namePen.width(value) * noteSlack
			writeOver(c, namePen, c.Min.X+sheetMargin, y, namePen.fit(r.name, textWidth-w-10))
			writeOver(c, namePen, c.Max.X-sheetMargin-vg.Length(w), y, value)
		})
		block.add(smallPen.leading(), func(c draw.Canvas) {
			writeOver(c, smallPen, c.Min.X+sheetMargin, c.Max.Y-vg.Length(smallPen.size), smallPen.fit(r.details(), textWidth))
		})
		block.add(barHeight, func(c draw.Canvas) { axis.paintRatio(axis.inner(c), r) })
	}
	s.add(block.y-s.y, func(c draw.Canvas) {
		inner := axis.inner(c)
		axis.paintField(inner, inner.Min.X, tight)
		axis.paintField(inner, inner.Max.X, wide)
		axis.paintGrid(inner)
	})
	s.parts = append(s.parts, block.parts...)
	s.add(smallPen.leading()+2, func(c draw.Canvas) { axis.paintNumbers(axis.inner(c)) })
	s.add(smallPen.leading()+2, func(c draw.Canvas) {
		caption := "radius after over before, on a logarithmic scale"
		smallPen.write(c, (c.Min.X+c.Max.X-vg.Length(smallPen.width(caption)))/2, c.Max.Y-vg.Length(smallPen.size), caption)
	})
}

// paintField hatches what lies between the rim of the axis and a ratio.
func (a effectAxis) paintField(c draw.Canvas, rim vg.Length, from float64) {
	edge, _ := a.x(c, from)
	style := draw.LineStyle{Color: pencil, Width: 0.35}
	for y := c.Min.Y + 2; y < c.Max.Y; y += 4.5 {
		c.StrokeLine2(style, rim, y, edge, y)
	}
	c.StrokeLine2(draw.LineStyle{Color: ink, Width: 1, Dashes: []vg.Length{3, 2}}, edge, c.Min.Y, edge, c.Max.Y)
}

func (a effectAxis) paintRatio(c draw.Canvas, r radiusRatio) {
	y := (c.Min.Y + c.Max.Y) / 2
	low, lowBeyond := a.x(c, r.interval.Low)
	high, highBeyond := a.x(c, r.interval.High)
	bar := vg.Rectangle{Min: vg.Point{X: low, Y: y - 3.5}, Max: vg.Point{X: high, Y: y + 3.5}}
	c.SetColor(stageColours[0])
	c.Fill(bar.Path())
	c.SetLineStyle(draw.LineStyle{Color: paper, Width: 0.9}) // keeps the bar apart from the hatching
	c.Stroke(bar.Path())
	if lowBeyond {
		a.end(c, low, y, -1, true)
	}
	if highBeyond {
		a.end(c, high, y, 1, true)
	}
	null, _ := a.x(c, 1)
	c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.9}, null, c.Min.Y, null, c.Max.Y)
	x, _ := a.x(c, r.estimate)
	paintEstimate(c, vg.Point{X: x, Y: y})
}

func (r radiusRatio) says() string {
	switch percent := math.Round(100 * math.Abs(1-r.estimate)); {
	case r.estimate >= 2:
		return number(r.estimate, 1) + " times as wide"
	case percent == 0:
		return "as wide as before"
	case r.estimate > 1:
		return number(percent, 0) + " % wider"
	default:
		return number(percent, 0) + " % tighter"
	}
}

func (r radiusRatio) details() string {
	return fmt.Sprintf("%s, %s: %s to %s; %d and %d shots", ratioText(r.estimate), share(r.interval.Level),
		ratioText(r.interval.Low), ratioText(r.interval.High), r.n1, r.n2)
}

// spreadTitle says where the bars end, all of them together.
func spreadTitle(rows []radiusRatio, smallest float64) string {
	tight, wide := 1-smallest, 1/(1-smallest)
	i := span{math.Inf(1), math.Inf(-1)}
	for _, r := range rows {
		i = i.join(span{r.interval.Low, r.interval.High})
	}
	bars := "every bar lies"
	if len(rows) == 1 {
		bars = "the bar lies"
	}
	switch {
	case i.high <= tight:
		return "Tighter: " + bars + " where it matters"
	case i.low >= wide:
		return "Wider: " + bars + " where it matters"
	case tight < i.low && i.high < wide:
		return "Too little to matter either way: " + bars + " between the fields"
	case i.low > tight:
		return "No tightening worth having: " + bars + " short of that field"
	}
	return "These balls can't tell how much tighter: they fit what matters and what does not"
}

func spreadAlt(title string, rows []radiusRatio, smallest float64) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. Ratios of radii, after over before; a change matters below %s and above %s.", strings.TrimRight(title, "."),
		ratioText(1-smallest), ratioText(1/(1-smallest)))
	for _, r := range rows {
		fmt.Fprintf(&b, " %s: %s, %s.", r.name, r.says(), r.details())
	}
	return b.String()
}
