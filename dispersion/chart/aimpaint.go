package chart

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion"
)

var goodTint = rule // pale: the bold edge says it in grey

// coverGood is what covering a strip of good aims with a label costs.
const coverGood = 40

func (a *aimPlan) paintAim(c draw.Canvas) {
	p := a.plot()
	x, y := p.Transforms(&c)
	strips := a.goodStrips(c)
	c.SetColor(goodTint)
	for _, r := range strips {
		c.Fill(r.Path())
	}
	for _, area := range a.areas {
		paintArea(c, p, area.Ground.Tag, area.Rings)
	}
	a.grid(c, p)
	TargetLine{}.Plot(c, p)
	for _, line := range a.contours {
		a.strokeLines(c, draw.LineStyle{Color: pencil, Width: 0.6}, line.lines)
	}
	a.strokeLines(c, draw.LineStyle{Color: ink, Width: 1, Dashes: []vg.Length{3, 2}}, a.doubt)

	flag := vg.Point{X: x(a.flag.X), Y: y(a.flag.Y)}
	notes := append(a.notes(c, p), a.contourNotes(c)...)
	notes = append(notes, &note{detail: "flag", near: square(flag, 7)})
	obstacles := append(a.obstacles(c, p), obstacle{square(flag, 9), coverMarker})
	for _, r := range strips {
		obstacles = append(obstacles, obstacle{r, coverGood})
	}
	place(c.Rectangle, notes, obstacles)
	for _, n := range notes {
		n.draw(c)
	}
	a.paintCarryName(c)
	a.layers[0].shots.Plot(c, p)
	paintFlag(c, flag)
	best, _, _ := inside(c, p, a.layers[0].marks[0].Point)
	paintAimCross(c, best)
	// Last, since a small region would lie wholly under the cross.
	a.strokeLines(c, draw.LineStyle{Color: ink, Width: 1.8}, a.good)
}

// goodStrips returns the squares of the good aims, row by row.
func (a *aimPlan) goodStrips(c draw.Canvas) []vg.Rectangle {
	x, y := a.plot().Transforms(&c)
	s := a.surface
	limit := a.best + a.in.Aim.Surface.Within
	var strips []vg.Rectangle
	for j := range s.up {
		for i := 0; i < s.across; i++ {
			from := i
			for i < s.across && s.at(i, j) <= limit {
				i++
			}
			if i == from {
				continue
			}
			low, high := s.point(float64(from)-0.5, float64(j)-0.5), s.point(float64(i)-0.5, float64(j)+0.5)
			r := vg.Rectangle{
				Min: vg.Point{X: max(x(low.X), c.Min.X), Y: max(y(low.Y), c.Min.Y)},
				Max: vg.Point{X: min(x(high.X), c.Max.X), Y: min(y(high.Y), c.Max.Y)},
			}
			if r.Min.X < r.Max.X && r.Min.Y < r.Max.Y {
				strips = append(strips, r)
			}
		}
	}
	return strips
}

func (a *aimPlan) strokeLines(c draw.Canvas, style draw.LineStyle, lines [][]dispersion.Point) {
	x, y := a.plot().Transforms(&c)
	for _, line := range lines {
		at := make([]vg.Point, len(line))
		for i, q := range line {
			at[i] = vg.Point{X: x(q.X), Y: y(q.Y)}
		}
		c.StrokeLines(style, c.ClipLinesXY(at)...)
	}
}

// contourNotes names each contour where it is farthest left inside the plan.
func (a *aimPlan) contourNotes(c draw.Canvas) []*note {
	x, y := a.plot().Transforms(&c)
	var notes []*note
	for _, line := range a.contours {
		best := vg.Point{X: vg.Length(math.Inf(1))}
		for _, points := range line.lines {
			for _, q := range points {
				at := vg.Point{X: x(q.X), Y: y(q.Y)}
				if at.X < best.X && at.X > c.Min.X+16 && at.Y > c.Min.Y+12 && at.Y < c.Max.Y-24 {
					best = at
				}
			}
		}
		if !math.IsInf(float64(best.X), 1) {
			notes = append(notes, &note{detail: signed(line.more, 1), near: square(best, 1), leftward: true})
		}
	}
	return notes
}

// paintFlag draws a pole with a pennant that stands at a point.
func paintFlag(c draw.Canvas, at vg.Point) {
	c.StrokeLine2(draw.LineStyle{Color: ink, Width: 1.1}, at.X, at.Y, at.X, at.Y+12)
	var p vg.Path
	p.Move(vg.Point{X: at.X, Y: at.Y + 12})
	p.Line(vg.Point{X: at.X + 7, Y: at.Y + 9.5})
	p.Line(vg.Point{X: at.X, Y: at.Y + 7})
	p.Close()
	c.SetColor(ink)
	c.Fill(p)
}

// paintAimCross draws a cross that stands out from lines and shots under it.
func paintAimCross(c draw.Canvas, at vg.Point) {
	const r = 6
	c.StrokeLines(draw.LineStyle{Color: paper, Width: 3.8},
		[]vg.Point{{X: at.X - r, Y: at.Y}, {X: at.X + r, Y: at.Y}},
		[]vg.Point{{X: at.X, Y: at.Y - r}, {X: at.X, Y: at.Y + r}})
	plus(c, at)
}

func (a *aimPlan) key() string {
	s := fmt.Sprintf("Bold line: aims that cost at most %s strokes more than the best. Thin lines: so many strokes more.", number(a.in.Aim.Surface.Within, 2))
	if a.doubt != nil {
		s += " Dashed: good aims in half of the resamples of these shots."
	}
	return s
}

// alt puts the figure into words.
func (a *aimPlan) alt(title string) string {
	aim, unit, metres := a.in.Aim, string(a.in.Unit), a.in.Unit.Metres()
	at := shown(aim.Point, a.in.Unit)
	var b strings.Builder
	fmt.Fprintf(&b, "%s. Plan view from the ball, the flag %s away.", strings.TrimRight(title, "."), length(a.flag.Y, unit))
	fmt.Fprintf(&b, " Best aim: carry %s, %s, %s strokes.", length(at.Y, unit), sideText(at.X, unit), number(aim.Expected, 2))
	fmt.Fprintf(&b, " Good aims, within %s strokes: from %s to %s across, carry from %s to %s.", number(aim.Surface.Within, 2),
		sideText(aim.Left/metres, unit), sideText(aim.Right/metres, unit), number(aim.Short/metres, 1), length(aim.Long/metres, unit))
	fmt.Fprintf(&b, " Straight at the flag: %s strokes; with the bias gone: %s.", number(aim.StraightExpected, 2), number(aim.Straightened, 2))
	if d := a.in.Doubt; d != nil {
		fmt.Fprintf(&b, " Resampled, the best aim lies from %s to %s (%s).", sideText(d.Side.Low/metres, unit), sideText(d.Side.High/metres, unit), share(d.Side.Level))
	}
	if n := a.in.Pattern.N(); n > 0 {
		fmt.Fprintf(&b, " The pattern is %s.", count(n, "shot"))
	}
	return b.String()
}
