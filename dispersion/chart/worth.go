package chart

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/strokes"
)

// WorthInput is what Worth draws. The zero value of Title stands for a general
// one.
type WorthInput struct {
	Title string
	Unit  lesson.Unit // of the distances shown; the zero value is metres
	Worth []strokes.Worth
}

const mostDistances = 20

// Worth returns a figure of what a change of the pattern is worth over the
// distance: strokes gained a shot with their interval, the whole change as a
// filled circle and the spread's part, beside it, as a hollow square. Above the
// line in ink the change gains.
//
// Errors: [ErrEmpty] for no distances; *[InputError] for more than 20, an
// unknown unit, a number that is not finite or too large, or an estimate outside
// its interval.
func Worth(in WorthInput) (Figure, error) {
	if len(in.Worth) == 0 {
		return Figure{}, fmt.Errorf("chart: no distances: %w", ErrEmpty)
	}
	if len(in.Worth) > mostDistances {
		return Figure{}, &InputError{fmt.Sprintf("%d distances", len(in.Worth)), fmt.Sprintf("one picture holds at most %d", mostDistances)}
	}
	if in.Unit == "" {
		in.Unit = lesson.Metres
	}
	if err := checkUnit(in.Unit); err != nil {
		return Figure{}, err
	}
	title := plain(in.Title, longestText)
	if title == "" {
		title = "What the change is worth, in strokes a shot"
	}
	x, y := span{math.Inf(1), math.Inf(-1)}, span{0, 0}
	for i, w := range in.Worth {
		where := fmt.Sprintf("distance %d", i+1)
		if err := checkNumber(w.Distance, where, "distance"); err != nil {
			return Figure{}, err
		}
		for _, e := range []compare.Effect{w.Change, w.Spread} {
			if err := checkWorth(e, where); err != nil {
				return Figure{}, err
			}
			y = y.join(span{e.Interval.Low, e.Interval.High})
		}
		d := w.Distance / in.Unit.Metres()
		x = x.join(span{d, d})
	}
	x = x.widened(max(x.size()*1.15, 1))
	axes := newXY(x, y, sideways("distance to the flag", string(in.Unit)), "strokes gained a shot, after minus before", true, 0)
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	sheet.addXY(axes, func(c draw.Canvas) {
		for _, w := range in.Worth {
			d := w.Distance / in.Unit.Metres()
			paintWorth(c, axes, d, -3, w.Change, Look{Colour: stageColours[0], Shape: Circle})
			paintWorth(c, axes, d, 3, w.Spread, Look{Colour: stageColours[1], Shape: Square, Hollow: true})
		}
	})
	first := in.Worth[0].Change
	sheet.prose(smallPen, fmt.Sprintf("Circle: the whole change, for a pupil who aims at the flag. Square: the part of the spread, with the middle of both patterns on the flag. Bars: what these shots fit, at %s; %d and %d shots.",
		share(first.Interval.Level), first.N1, first.N2), 4)
	return sheet.figure(title, worthAlt(title, in)), nil
}

func checkWorth(e compare.Effect, where string) error {
	for _, v := range []float64{e.Estimate, e.Interval.Low, e.Interval.High} {
		if err := checkNumber(v, where, "strokes gained"); err != nil {
			return err
		}
	}
	if i := e.Interval; !(i.Low <= e.Estimate && e.Estimate <= i.High && i.Level > 0 && i.Level < 1) {
		return &InputError{where, fmt.Sprintf("%g is outside its interval %g to %g at level %g", e.Estimate, i.Low, i.High, i.Level)}
	}
	return nil
}

// paintWorth draws an effect at a distance, some points aside.
func paintWorth(c draw.Canvas, a xy, distance, aside float64, e compare.Effect, look Look) {
	at := func(y float64) vg.Point {
		p := a.at(c, distance, y)
		p.X += vg.Length(aside)
		return p
	}
	low, high := at(e.Interval.Low), at(e.Interval.High)
	style := draw.LineStyle{Color: look.Colour, Width: 1.3}
	for _, end := range []vg.Point{low, high} {
		c.StrokeLine2(style, end.X-2.2, end.Y, end.X+2.2, end.Y)
	}
	if look.Hollow {
		style.Dashes = []vg.Length{3, 1.5}
	}
	c.StrokeLine2(style, low.X, low.Y, high.X, high.Y)
	if look.Hollow {
		c.SetColor(paper)
		c.Fill(look.Shape.path(at(e.Estimate), markerRadius))
	}
	look.draw(c, at(e.Estimate))
}

func worthAlt(title string, in WorthInput) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. Strokes gained a shot, after minus before.", strings.TrimRight(title, "."))
	words := func(e compare.Effect) string {
		return fmt.Sprintf("%s, %s: %s to %s", signed(e.Estimate, 2), share(e.Interval.Level), signed(e.Interval.Low, 2), signed(e.Interval.High, 2))
	}
	for _, w := range in.Worth {
		fmt.Fprintf(&b, " From %s: %s; spread alone %s.", length(w.Distance/in.Unit.Metres(), string(in.Unit)), words(w.Change), words(w.Spread))
	}
	fmt.Fprintf(&b, " %d and %d shots.", in.Worth[0].Change.N1, in.Worth[0].Change.N2)
	return b.String()
}
