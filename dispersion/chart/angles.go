package chart

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion"
)

// AnglesInput is what Angles draws. The zero value of Title stands for one made
// from the numbers.
type AnglesInput struct {
	Title  string
	Unit   string  // of side and carry
	Stages []Stage // in the order hit; their Sentence and Like are not used
}

const mostAngleStages = 4

// Angles returns a figure of the direction of every shot against how far it
// carried, the angle from the target line across and the carry up the page. A
// ball that starts at the same angle and flies farther lands farther from the
// line, so that side grows with carry while the angle stays: here a longer swing
// that is no wilder stands higher and no broader. The earlier stages are hollow
// and the last one filled. The upright line of a stage is its median angle, the
// dashed ones the mean distance of its clean shots from that, times √(n/(n-1)),
// to either side. A mishit so short that it would squash the rest is drawn at the
// edge with an arrowhead and its carry.
//
// Errors: [ErrEmpty] for no stages or a stage without shots; *[InputError] for
// more than four stages, a number that is not finite or too large, or a carry
// that is not above 0.
//
// Angles does not modify its input.
func Angles(in AnglesInput) (Figure, error) {
	if len(in.Stages) == 0 {
		return Figure{}, fmt.Errorf("chart: no stages: %w", ErrEmpty)
	}
	if len(in.Stages) > mostAngleStages {
		return Figure{}, &InputError{fmt.Sprintf("%d stages", len(in.Stages)), fmt.Sprintf("this picture holds at most %d: those to be compared", mostAngleStages)}
	}
	unit := plain(in.Unit, 12)
	fans := make([]angleFan, len(in.Stages))
	x := span{0, 0}
	for i, s := range in.Stages {
		f, err := newAngleFan(i, s, fmt.Sprintf("stage %d, %q", i+1, plain(s.Name, longestName)))
		if err != nil {
			return Figure{}, err
		}
		f.look.Hollow = i < len(in.Stages)-1
		fans[i] = f
		x = x.join(span{f.middle - f.off, f.middle + f.off})
		for _, p := range f.points {
			x = x.join(span{p.X, p.X})
		}
	}
	y := anglesCarry(fans)
	title := plain(in.Title, longestText)
	if title == "" {
		title = anglesTitle(fans)
	}
	least := max(1e-6, 0.04*max(y.high, 1e-3))
	axes := newXY(x.widened(max(2, 1.15*x.size())), y.widened(max(least, 1.15*y.size())), "angle from the target line, degrees", sideways("carry", unit), false, 0)
	axes.sides, axes.height = true, 240
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	sheet.addXY(axes, func(c draw.Canvas) { paintAngles(c, axes, fans, unit) })
	sheet.prose(smallPen, anglesKey(fans), 4)
	return sheet.figure(title, anglesAlt(title, unit, fans)), nil
}

// An angleFan is a stage with its shots as angle in degrees and carry.
type angleFan struct {
	name, detail string
	look         Look
	points       []dispersion.Point
	mishit       []bool
	middle, off  float64 // of the clean shots: median angle, mean distance from it; 0, 0 without any
	n            int     // clean shots
	carry        span    // of the clean shots
}

func newAngleFan(i int, s Stage, where string) (angleFan, error) {
	if err := checkShots(s.Shots, s.Mishit, where); err != nil {
		return angleFan{}, err
	}
	l := stageLayer(i, s)
	f := angleFan{name: l.name, detail: l.detail, look: l.shots.Look, mishit: s.Mishit, carry: span{math.Inf(1), math.Inf(-1)}}
	var clean []float64
	for k, p := range s.Shots {
		if p.Y <= 0 {
			return f, &InputError{fmt.Sprintf("%s, shot %d", where, k+1), fmt.Sprintf("its carry is %g: only what flew forward has an angle", p.Y)}
		}
		at := dispersion.Point{X: dispersion.ShotAngle(p) * 180 / math.Pi, Y: p.Y}
		f.points = append(f.points, at)
		if !l.shots.mishit(k) {
			clean = append(clean, at.X)
			f.carry = f.carry.join(span{p.Y, p.Y})
		}
	}
	f.n = len(clean)
	if f.n == 0 {
		return f, nil
	}
	var err error
	if f.middle, err = dispersion.Median(clean); err != nil {
		return f, &InputError{where, err.Error()}
	}
	for _, a := range clean {
		f.off += math.Abs(a-f.middle) / float64(f.n)
	}
	if f.n > 1 {
		f.off *= math.Sqrt(float64(f.n) / float64(f.n-1))
	}
	return f, nil
}

// anglesCarry returns the carries to show: those of the clean shots and of the
// mishits that leave them room, or all where none is clean.
func anglesCarry(fans []angleFan) span {
	clean, all := span{math.Inf(1), math.Inf(-1)}, span{math.Inf(1), math.Inf(-1)}
	for _, f := range fans {
		clean = clean.join(f.carry)
		for _, p := range f.points {
			all = all.join(span{p.Y, p.Y})
		}
	}
	if clean.size() < 0 {
		return all
	}
	return clean.join(all.cut(span{clean.low - mishitReach*clean.size(), clean.high + mishitReach*clean.size()}))
}

// place returns where a shot is drawn, and whether it lies beyond the axes, which
// only a mishit may: -1 below, 1 above.
func (f angleFan) place(c draw.Canvas, a xy, p dispersion.Point) (at vg.Point, beyond int) {
	at = a.at(c, p.X, p.Y)
	at.Y, beyond = within(at.Y, c.Min.Y+edge, c.Max.Y-edge)
	if a.y.holds(p.Y) {
		return a.at(c, p.X, p.Y), 0
	}
	return at, beyond
}

// paintAngles draws the lines, the names and, over them, the shots.
func paintAngles(c draw.Canvas, a xy, fans []angleFan, unit string) {
	var notes []*note
	var obstacles []obstacle
	zero := a.at(c, 0, 0).X
	obstacles = append(obstacles, obstacle{vg.Rectangle{Min: vg.Point{X: zero - 1, Y: c.Min.Y}, Max: vg.Point{X: zero + 1, Y: c.Max.Y}}, 4 * coverRing})
	for i, f := range fans {
		if f.n > 1 {
			whole := draw.LineStyle{Color: f.look.Colour, Width: 1.1}
			dashed := draw.LineStyle{Color: f.look.Colour, Width: 0.8, Dashes: []vg.Length{4, 2.5}}
			obstacles = append(obstacles, obstacle{f.paintLine(c, a, f.middle, whole), 4 * coverRing},
				obstacle{f.paintLine(c, a, f.middle-f.off, dashed), 4 * coverRing}, obstacle{f.paintLine(c, a, f.middle+f.off, dashed), 4 * coverRing})
		}
		var at []vg.Point
		for _, p := range f.points {
			q, beyond := f.place(c, a, p)
			if beyond != 0 {
				obstacles = append(obstacles, obstacle{square(q, edge), coverMarker})
				notes = append(notes, &note{detail: length(p.Y, unit), near: square(q, edge)})
				continue
			}
			at = append(at, q)
			obstacles = append(obstacles, obstacle{square(q, markerRadius+1.5), coverMarker})
		}
		if len(at) == 0 {
			at = []vg.Point{{X: (c.Min.X + c.Max.X) / 2, Y: c.Min.Y + 2*edge}}
		}
		n := &note{name: namePen.fit(f.name, textWidth*0.42), detail: f.detail, near: rectOf(at), leftward: i < len(fans)-1}
		if len(fans) > 1 {
			n.look = &f.look
		}
		notes = append(notes, n)
	}
	place(c.Rectangle, notes, obstacles)
	for _, n := range notes {
		n.draw(c)
	}
	for _, f := range fans {
		for i, p := range f.points {
			at, beyond := f.place(c, a, p)
			f.look.draw(c, at)
			if i < len(f.mishit) && f.mishit[i] {
				cross(c, at)
			}
			if beyond != 0 {
				arrowhead(c, at, 0, beyond)
			}
		}
	}
}

// paintLine draws an upright line over the carries of the clean shots and returns
// what it covers.
func (f angleFan) paintLine(c draw.Canvas, a xy, angle float64, style draw.LineStyle) vg.Rectangle {
	from, to := a.at(c, angle, f.carry.low), a.at(c, angle, f.carry.high)
	from.Y, to.Y = from.Y-4, to.Y+4
	c.StrokeLine2(style, from.X, from.Y, to.X, to.Y)
	return vg.Rectangle{Min: vg.Point{X: from.X - 1, Y: from.Y}, Max: vg.Point{X: to.X + 1, Y: to.Y}}
}

func degrees(v float64) string { return number(v, 1) + "°" }

// anglesTitle compares how far the last stage and the first stray from their
// lines.
func anglesTitle(fans []angleFan) string {
	first, last := fans[0], fans[len(fans)-1]
	if len(fans) == 1 || first.n < 2 || last.n < 2 {
		return "How far each ball started from the target line"
	}
	return fmt.Sprintf("%s off their own line on average, before it was %s", degrees(last.off), degrees(first.off))
}

func anglesKey(fans []angleFan) string {
	key := "Upright line: the median angle of a stage. Dashed: the mean distance from it, to either side."
	if len(fans) > 1 {
		key = "Filled: the last stage. Hollow: earlier. " + key
	}
	for _, f := range fans {
		if f.n < len(f.points) {
			return key + " Crossed: a mishit, left out of the lines."
		}
	}
	return key
}

// angleSide writes an angle as a person says it.
func angleSide(v float64) string {
	switch rounded := math.Round(v * 10); {
	case rounded > 0:
		return degrees(v) + " right"
	case rounded < 0:
		return degrees(-v) + " left"
	}
	return "on the target line"
}

func anglesAlt(title, unit string, fans []angleFan) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. Angle from the target line across, carry up the page.", strings.TrimRight(title, "."))
	for i, f := range fans {
		fmt.Fprintf(&b, " %d", i+1)
		if f.name != "" {
			b.WriteString(", " + f.name)
		}
		fmt.Fprintf(&b, ": %s", f.detail)
		if f.n > 1 {
			fmt.Fprintf(&b, "; clean shots carried %s to %s, median angle %s, %s off it on average",
				number(f.carry.low, 1), length(f.carry.high, unit), angleSide(f.middle), degrees(f.off))
		}
		b.WriteByte('.')
	}
	return b.String()
}
