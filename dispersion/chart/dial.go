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

// DialInput is what Dial draws. The zero value of Title stands for one made from
// the numbers.
type DialInput struct {
	Title string
	Unit  string       // of the gain
	Plan  compare.Plan // of compare.PlanCarry: the spread, the gain to be shown, power and level
	Balls int          // balls a stage that there is time for
}

const (
	leastDialBalls = 5
	mostDialBalls  = 2000
	dialKnots      = 4
	dialPoints     = 40
)

// Dial returns a figure to plan a lesson with: over the number of balls a stage,
// before and after alike, the smallest true gain that so many can show. The
// unbroken line is at the spread seen, the dashed ones at the ends of the
// interval of the spread, since that is itself known from few balls. One circle
// stands at the balls there is time for and what these can show, a square where
// the gain to be shown is met.
//
// Errors: *[InputError] for fewer than 5 or more than 2,000 balls, or a plan that
// compare.PlanCarry cannot have made.
func Dial(in DialInput) (Figure, error) {
	p := in.Plan
	if in.Balls < leastDialBalls || in.Balls > mostDialBalls {
		return Figure{}, &InputError{"the dial", fmt.Sprintf("%d balls a stage: give %d to %d", in.Balls, leastDialBalls, mostDialBalls)}
	}
	for _, v := range []float64{p.SD, p.SDBounds.Low, p.SDBounds.High, p.Gain} {
		if !(v > 0) || v > largest {
			return Figure{}, &InputError{"the plan", fmt.Sprintf("a spread or gain of %g: a picture needs them above 0 and at most %g", v, largest)}
		}
	}
	if b := p.SDBounds; b.Low > p.SD || p.SD > b.High || p.Balls < 2 {
		return Figure{}, &InputError{"the plan", "its spread lies outside its interval, or it takes no balls: use one of PlanCarry"}
	}
	d, err := newDial(in)
	if err != nil {
		return Figure{}, err
	}
	unit := plain(in.Unit, 12)
	title := plain(in.Title, longestText)
	if title == "" {
		title = fmt.Sprintf("%d balls a stage can show a gain of %s or more", in.Balls, length(d.shown*p.SD, unit))
	}
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	axes := newXY(span{0, d.most}, span{0, d.top}, "balls a stage, before and after alike", sideways("smallest gain that shows", unit), false, 0)
	axes.x.low, axes.y.low = 0, 0
	sheet.addXY(axes, func(c draw.Canvas) { d.paint(c, axes, in, unit) })
	sheet.prose(smallPen, fmt.Sprintf("Line: at the spread seen, %s. Dashed: at the ends of its interval, %s to %s. Shows: in %s of lessons with such a gain the interval of %s leaves out 0.",
		length(p.SD, unit), number(p.SDBounds.Low, 1), length(p.SDBounds.High, unit), share(p.Power), share(p.Level)), 4)
	return sheet.figure(title, d.alt(title, unit, in)), nil
}

// A dial is the smallest gain that shows, in standard deviations, over the
// number of balls.
type dial struct {
	knots, scaled []float64 // 1/balls and gain·√balls, computed
	shown         float64   // with the balls there is time for
	most, top     float64   // ends of the axes: balls, gain
}

func newDial(in DialInput) (dial, error) {
	p := in.Plan
	d := dial{most: 1.25 * float64(max(in.Balls, min(p.Balls, 8*in.Balls), 20))}
	for i := range dialKnots {
		n := int(math.Round(leastDialBalls * math.Pow(d.most/leastDialBalls, float64(i)/(dialKnots-1))))
		g, err := compare.SmallestCarryShown(1, n, p.Power, p.Level)
		if err != nil {
			return d, &InputError{"the plan", err.Error()}
		}
		d.knots, d.scaled = append(d.knots, 1/float64(n)), append(d.scaled, g*math.Sqrt(float64(n)))
	}
	var err error
	if d.shown, err = compare.SmallestCarryShown(1, in.Balls, p.Power, p.Level); err != nil {
		return d, &InputError{"the plan", err.Error()}
	}
	d.top = max(1.15*p.SD*d.at(leastDialBalls), 1.1*p.Gain, 1.1*p.SDBounds.High*d.shown)
	return d, nil
}

// at returns the smallest gain that so many balls show: the polynomial through
// what was computed, by Neville's scheme. gain·√n runs so smoothly over 1/n that
// four numbers of balls stand for all between to a thousandth.
func (d dial) at(balls float64) float64 {
	p, x := append([]float64(nil), d.scaled...), 1/balls
	for width := 1; width < len(p); width++ {
		for i := range len(p) - width {
			p[i] = ((x-d.knots[i+width])*p[i] + (d.knots[i]-x)*p[i+1]) / (d.knots[i] - d.knots[i+width])
		}
	}
	return p[0] / math.Sqrt(balls)
}

// paint draws the lines, how to read them, and the names.
func (d dial) paint(c draw.Canvas, a xy, in DialInput, unit string) {
	p := in.Plan
	read := draw.LineStyle{Color: pencil, Width: 0.8, Dashes: []vg.Length{0.8, 2.4}}
	now := a.at(c, float64(in.Balls), d.shown*p.SD)
	c.StrokeLines(read, []vg.Point{{X: now.X, Y: c.Min.Y}, now, {X: c.Min.X, Y: now.Y}})
	wanted := a.at(c, 0, p.Gain)
	c.StrokeLine2(draw.LineStyle{Color: ink, Width: 1, Dashes: []vg.Length{3, 2}}, c.Min.X, wanted.Y, c.Max.X, wanted.Y)
	var obstacles []obstacle
	for i, sd := range []float64{p.SDBounds.Low, p.SD, p.SDBounds.High} {
		style := draw.LineStyle{Color: stageColours[0], Width: 1.5}
		if i != 1 {
			style.Width, style.Dashes = 0.9, []vg.Length{4, 2.5}
		}
		at := make([]vg.Point, dialPoints)
		for k := range at { // closer together where the curve is steep
			n := leastDialBalls * math.Pow(d.most/leastDialBalls, float64(k)/(dialPoints-1))
			at[k] = a.at(c, n, d.at(n)*sd)
		}
		for _, line := range c.ClipLinesXY(at) {
			c.StrokeLines(style, line)
			for k := range len(line) - 1 {
				for t := vg.Length(0); t < 1; t += 0.5 {
					obstacles = append(obstacles, obstacle{square(vg.Point{X: line[k].X + t*(line[k+1].X-line[k].X), Y: line[k].Y + t*(line[k+1].Y-line[k].Y)}, 1), coverRing})
				}
			}
		}
	}
	obstacles = append(obstacles, obstacle{vg.Rectangle{Min: vg.Point{X: c.Min.X, Y: wanted.Y - 1}, Max: vg.Point{X: c.Max.X, Y: wanted.Y + 1}}, 4 * coverRing})
	time := Look{Colour: stageColours[1], Shape: Circle}
	notes := []*note{{detail: fmt.Sprintf("%d balls show %s", in.Balls, length(d.shown*p.SD, unit)), near: square(now, 5)}}
	met, marks := vg.Point{}, []obstacle{{square(now, 5), coverMarker}}
	if float64(p.Balls) <= d.most {
		met = a.at(c, float64(p.Balls), p.Gain)
		marks = append(marks, obstacle{square(met, 5), coverMarker})
		notes = append(notes, &note{detail: fmt.Sprintf("%s takes %d balls", length(p.Gain, unit), p.Balls), near: square(met, 5)})
	} else {
		notes = append(notes, &note{detail: fmt.Sprintf("%s takes %d balls", length(p.Gain, unit), p.Balls), near: square(vg.Point{X: c.Max.X - 6, Y: wanted.Y}, 3), leftward: true})
	}
	place(c.Rectangle, notes, append(marks, obstacles...))
	for _, n := range notes {
		n.draw(c)
	}
	time.draw(c, now)
	if met != (vg.Point{}) {
		Look{Colour: ink, Shape: Square}.draw(c, met)
	}
}

func (d dial) alt(title, unit string, in DialInput) string {
	p := in.Plan
	bounds := dispersion.Interval{Low: d.shown * p.SDBounds.Low, High: d.shown * p.SDBounds.High}
	return fmt.Sprintf("%s. Smallest true gain that shows, over balls a stage, at a spread of %s. With %d balls: %s (%s to %s over what the spread may be). %s takes %d balls (%d to %d).",
		strings.TrimRight(title, "."), length(p.SD, unit), in.Balls, length(d.shown*p.SD, unit), number(bounds.Low, 1), length(bounds.High, unit),
		length(p.Gain, unit), p.Balls, p.Low, p.High)
}
