package chart

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion/flight"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A NamedFlight is the mean flight of one stage.
type NamedFlight struct {
	Name   string
	Flight flight.MeanFlight
}

// MeanFlightsInput is what MeanFlights draws. The zero value of Title stands for a
// general one.
type MeanFlightsInput struct {
	Title   string
	Unit    lesson.Unit   // to show; the zero value is metres
	Flights []NamedFlight // in the order hit
}

const (
	mostFlights = 4
	flightShare = 0.8   // of the flights pass within the band
	planHeight  = 300.0 // points, of the plan of the flights at most
)

// MeanFlights returns a figure of mean flights seen from the side and from
// above, both with one scale for both axes: a line for each stage, the last solid
// and the earlier ones broken, a hatched band that holds four flights in five,
// and a marker where it lands. They are smooth means of modelled flights over bare
// paper, and not the trails of balls.
//
// Errors: [ErrEmpty] for no flights; *[InputError] for more than four, an unknown
// unit, a flight without spots or with numbers that are not finite or too large.
//
// MeanFlights does not modify its input.
func MeanFlights(in MeanFlightsInput) (Figure, error) {
	if len(in.Flights) == 0 {
		return Figure{}, fmt.Errorf("chart: no flights: %w", ErrEmpty)
	}
	if len(in.Flights) > mostFlights {
		return Figure{}, &InputError{fmt.Sprintf("%d flights", len(in.Flights)), fmt.Sprintf("one picture holds at most %d", mostFlights)}
	}
	if in.Unit == "" {
		in.Unit = lesson.Metres
	}
	if err := checkUnit(in.Unit); err != nil {
		return Figure{}, err
	}
	title := plain(in.Title, longestText)
	if title == "" {
		title = "How the balls flew, on average"
	}
	lines := make([]flightLine, len(in.Flights))
	names := 0.0
	carry, height, side := span{0, 0}, span{0, 0}, span{0, 0}
	for i, f := range in.Flights {
		l, err := newFlightLine(i, len(in.Flights), f, in.Unit)
		if err != nil {
			return Figure{}, err
		}
		lines[i] = l
		names = max(names, notePen.width(l.name)*noteSlack)
		carry, height, side = carry.join(l.carry.reach()), height.join(l.height.reach()), side.join(l.side.reach())
	}
	names += flightSwatch + 10
	unit := string(in.Unit)
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	beside := newXY(carry, height, sideways("from the side: carry", unit), sideways("height", unit), false, 0).evenly(planHeight)
	sheet.addXY(beside, func(c draw.Canvas) {
		for _, l := range lines {
			l.paint(c, beside, l.carry, l.height, false)
		}
	})
	sheet.skip(6)
	above := newXY(side, carry, sideways("from above: side", unit), sideways("carry", unit), false, names).evenly(planHeight)
	sheet.addXY(above, func(c draw.Canvas) {
		zero := above.at(c, 0, 0).X
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.9}, zero, c.Min.Y, zero, c.Max.Y)
		for _, l := range lines {
			l.paint(c, above, l.side, l.carry, true)
		}
		paintFlightNames(c, above, lines)
	})
	sheet.prose(smallPen, fmt.Sprintf("Lines: the mean of the modelled flights of each stage. Hatched: where %s of them pass. Markers: where they land, with the same share of the carries and sides.", share(flightShare)), 4)
	return sheet.figure(title, meanFlightsAlt(title, lines, unit)), nil
}

// A flightWay is one coordinate of a mean flight with half of its band.
type flightWay struct{ at, half []float64 }

func (w flightWay) reach() span {
	s := span{math.Inf(1), math.Inf(-1)}
	for i, v := range w.at {
		s = s.join(span{v - w.half[i], v + w.half[i]})
	}
	return s
}

func (w flightWay) last() float64 { return w.at[len(w.at)-1] }

// A flightLine is a mean flight as it is drawn, in the unit shown.
type flightLine struct {
	name                string
	n                   int
	look                Look
	style               draw.LineStyle
	side, carry, height flightWay
}

func newFlightLine(i, of int, f NamedFlight, unit lesson.Unit) (flightLine, error) {
	name := plain(f.Name, longestName)
	where := fmt.Sprintf("flight %d, %q", i+1, name)
	m := f.Flight
	n := len(m.Spots)
	if n < 2 || len(m.SideSD) != n || len(m.CarrySD) != n || len(m.HeightSD) != n {
		return flightLine{}, &InputError{where, fmt.Sprintf("%d spots with %d, %d, %d standard deviations: use what MeanFlightOf has returned", n, len(m.SideSD), len(m.CarrySD), len(m.HeightSD))}
	}
	l := flightLine{
		name: notePen.fit(fmt.Sprintf("%s, n = %d", name, m.N), 110), n: m.N, look: StageLook(i),
		style: draw.LineStyle{Color: StageLook(i).Colour, Width: 1.6, Dashes: curveDashes[(of-1-i)%mostCurves]},
	}
	l.look.Hollow = i < of-1
	z := distuv.UnitNormal.Quantile((1 + flightShare) / 2)
	way := func(what string, value func(flight.Spot) float64, sds []float64) (w flightWay, err error) {
		for k, s := range m.Spots {
			v, half := value(s)/unit.Metres(), z*sds[k]/unit.Metres()
			if err := checkNumber(v, where, what); err != nil {
				return w, err
			}
			if err := checkNumber(half, where, "scatter of the "+what); err != nil {
				return w, err
			}
			w.at, w.half = append(w.at, v), append(w.half, half)
		}
		return w, nil
	}
	var err error
	if l.side, err = way("side", func(s flight.Spot) float64 { return s.Side }, m.SideSD); err != nil {
		return l, err
	}
	if l.carry, err = way("carry", func(s flight.Spot) float64 { return s.Carry }, m.CarrySD); err != nil {
		return l, err
	}
	l.height, err = way("height", func(s flight.Spot) float64 { return s.Height }, m.HeightSD)
	return l, err
}

// paint draws the band, the line and the landing. Hairs of the band run up the
// page, or across it seen from above.
func (l flightLine) paint(c draw.Canvas, a xy, x, y flightWay, across bool) {
	hair := draw.LineStyle{Color: l.style.Color, Width: 0.35}
	bar := draw.LineStyle{Color: l.style.Color, Width: 1}
	var line []vg.Point
	for i := range x.at {
		line = append(line, a.at(c, x.at[i], y.at[i]))
		low, high := a.at(c, x.at[i], y.at[i]-y.half[i]), a.at(c, x.at[i], y.at[i]+y.half[i])
		if across {
			low, high = a.at(c, x.at[i]-x.half[i], y.at[i]), a.at(c, x.at[i]+x.half[i], y.at[i])
		}
		c.StrokeLine2(hair, low.X, low.Y, high.X, high.Y)
	}
	c.StrokeLines(l.style, line)
	k := len(x.at) - 1
	left, right := a.at(c, x.at[k]-x.half[k], y.at[k]), a.at(c, x.at[k]+x.half[k], y.at[k])
	c.StrokeLine2(bar, left.X, left.Y, right.X, right.Y)
	if across {
		low, high := a.at(c, x.at[k], y.at[k]-y.half[k]), a.at(c, x.at[k], y.at[k]+y.half[k])
		c.StrokeLine2(bar, low.X, low.Y, high.X, high.Y)
	}
	if l.look.Hollow {
		c.SetColor(paper)
		c.Fill(l.look.Shape.path(line[k], markerRadius))
	}
	l.look.draw(c, line[k])
}

const flightSwatch = 22.0 // points: a piece of the line before its name

// paintFlightNames writes the names beside the plan, level with where the balls
// land or as near as there is room.
func paintFlightNames(c draw.Canvas, a xy, lines []flightLine) {
	ends := make([]curveEnd, len(lines))
	for i, l := range lines {
		ends[i] = curveEnd{c.Max.X + 6, a.at(c, 0, l.carry.last()).Y - vg.Length(notePen.size)*0.35, l.name, i}
	}
	for _, e := range apart(ends, c.Max.Y-vg.Length(notePen.size)) {
		l := lines[e.line]
		middle := e.y + vg.Length(notePen.size)*0.35
		c.StrokeLine2(l.style, e.x, middle, e.x+flightSwatch-4, middle)
		at := vg.Point{X: e.x + flightSwatch/2 - 2, Y: middle}
		if l.look.Hollow {
			c.SetColor(paper)
			c.Fill(l.look.Shape.path(at, markerRadius))
		}
		l.look.draw(c, at)
		notePen.write(c, e.x+flightSwatch, e.y, e.name)
	}
}

func meanFlightsAlt(title string, lines []flightLine, unit string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. Mean flights from the side and from above, %s.", strings.TrimRight(title, "."), count(len(lines), "line"))
	for _, l := range lines {
		top, at := 0.0, 0.0
		for i, h := range l.height.at {
			if h > top {
				top, at = h, l.carry.at[i]
			}
		}
		k := len(l.carry.at) - 1
		fmt.Fprintf(&b, " %s: %s high at %s, lands after %s, give or take %s, %s, give or take %s.", l.name, length(top, unit), length(at, unit),
			length(l.carry.at[k], unit), length(l.carry.half[k], unit), sideText(l.side.at[k], unit), length(l.side.half[k], unit))
	}
	return b.String()
}
