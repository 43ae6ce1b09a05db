package chart

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// WallInput is what Wall draws. The zero value of Title stands for a general one.
type WallInput struct {
	Title string
	Unit  string // of side and carry
	Wall  compare.Wall
}

// Wall returns a figure of twelve small plans, one of which is the real before
// and after and the others are the same balls dealt anew; all show the same part
// of the plane at one scale. Before is hollow, after filled. Neither the figure
// nor its alt text tells which one is real: [compare.Wall.Key] does, for another
// page.
//
// A shot so far off that it would squash the rest is drawn at the edge of its
// plan with an arrowhead.
//
// Errors: [ErrEmpty] for a wall without pictures; *[InputError] for another number
// of them than twelve, a number that is not finite or too large, or a picture with
// no shots on a side.
//
// Wall does not modify its input.
func Wall(in WallInput) (Figure, error) {
	deals := in.Wall.Deals
	if len(deals) == 0 {
		return Figure{}, fmt.Errorf("chart: no wall: %w", ErrEmpty)
	}
	if len(deals) != compare.WallDeals {
		return Figure{}, &InputError{fmt.Sprintf("%d pictures", len(deals)), fmt.Sprintf("a wall has %d: use one of ShuffleWall", compare.WallDeals)}
	}
	for i, d := range deals {
		for k, side := range [][]dispersion.Point{d.Before, d.After} {
			where := fmt.Sprintf("picture %d, %s", i+1, []string{"before", "after"}[k])
			if len(side) == 0 {
				return Figure{}, &InputError{where, "no shots"}
			}
			if err := checkShots(side, nil, where); err != nil {
				return Figure{}, err
			}
		}
	}
	title := plain(in.Title, longestText)
	if title == "" {
		title = "Which one stands out? One of these is real"
	}
	unit := plain(in.Unit, 12)
	everyBall := layer{shots: Shots{Points: append(append([]dispersion.Point(nil), deals[0].Before...), deals[0].After...)}}
	f := newFrame(framed([]layer{everyBall}), wallPanel, wallPanel)
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	for row := 0; row < len(deals); row += wallAcross {
		sheet.add(namePen.leading()+2, func(c draw.Canvas) {
			for i := range wallAcross {
				namePen.write(c, c.Min.X+wallLeft(i), c.Max.Y-vg.Length(namePen.size), fmt.Sprint(row+i+1))
			}
		})
		sheet.add(f.height, func(c draw.Canvas) {
			for i := range wallAcross {
				left := wallLeft(i)
				paintBeforeAfter(draw.Crop(c, left, left+wallPanel-(c.Max.X-c.Min.X), 0, 0), f, deals[row+i].Before, deals[row+i].After)
			}
		})
		sheet.skip(5)
	}
	sheet.prose(smallPen, fmt.Sprintf("Seen from above, carry up the page, lines every %s, the upright one in ink to the target. Hollow: before, %d shots. Filled: after, %d.",
		strings.TrimRight(number(f.step, decimalsOf(f.step))+" "+unit, " "), len(deals[0].Before), len(deals[0].After)), 3)
	sheet.skip(3)
	sheet.prose(notePen, in.Wall.Sentence(), 7)
	return sheet.figure(title, wallAlt(title, unit, in.Wall)), nil
}

const (
	wallAcross = 3
	wallGap    = 7.0
	wallPanel  = (textWidth - (wallAcross-1)*wallGap) / wallAcross
)

// wallLeft returns where the i-th picture of a row begins.
func wallLeft(i int) vg.Length { return vg.Length(sheetMargin + float64(i)*(wallPanel+wallGap)) }

// paintBeforeAfter draws one of many small plans: before hollow, after filled.
func paintBeforeAfter(c draw.Canvas, f frame, before, after []dispersion.Point) {
	v := plan{frame: f}
	p := v.plot()
	v.grid(c, p)
	TargetLine{}.Plot(c, p)
	c.SetLineStyle(draw.LineStyle{Color: pencil, Width: 0.5})
	c.Stroke(c.Rectangle.Path())
	Shots{Points: before, Look: StageLook(0).Behind()}.Plot(c, p)
	Shots{Points: after, Look: StageLook(1)}.Plot(c, p)
}

// wallAlt tells the pictures in numbers, so that they can be compared without
// being seen. It must not tell which one is real.
func wallAlt(title, unit string, w compare.Wall) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. %d plans of the same %d and %d shots. %s After less before, on average and in spread:",
		strings.TrimRight(title, "."), len(w.Deals), len(w.Deals[0].Before), len(w.Deals[0].After), w.Sentence())
	for i, d := range w.Deals {
		before, after := layer{shots: Shots{Points: d.Before}}, layer{shots: Shots{Points: d.After}}
		from, to := meanOf(before), meanOf(after)
		fmt.Fprintf(&b, " %d: %s, %s", i+1, carryShift(to.Y-from.Y, unit), sideShift(to.X-from.X, unit))
		if was, is := spreadOf(d.Before), spreadOf(d.After); was > 0 && is > 0 {
			fmt.Fprintf(&b, ", radius %s then %s", number(was, 1), length(is, unit))
		}
		b.WriteByte('.')
	}
	return b.String()
}

// spreadOf returns the radius of a group, 0 where it has none.
func spreadOf(points []dispersion.Point) float64 {
	g, err := dispersion.NewGroup(points)
	if err != nil {
		return 0
	}
	r, err := g.Radius(0.95)
	if err != nil {
		return 0
	}
	return r.Raw
}
