package chart

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/practice"
)

// ControlChartInput is what ControlChart draws. The zero value of Title stands
// for a general one.
type ControlChartInput struct {
	Title string
	Unit  string                // of side and carry
	Chart practice.ControlChart // of practice.NewControlChart
}

const (
	namedSignals  = 5   // on the plan, and the last; more names would hide the shots
	highestSignal = 3.0 // limits of T²: what is higher is drawn there with an arrowhead
)

// ControlChart returns a figure of landing points held against a pattern. Above,
// in plan view, the pattern's shots are hollow and the watched ones filled; a shot
// beyond the dashed ring is a signal, bears a cross and its number, and the first
// five and the last of them say what sets them apart. Below, ball by ball, how far out each lies in the
// pattern's own measure, T², with the limit of the pattern's shots and that of
// the watched ones; a signal more than three times as high as the limit is drawn
// there with an arrowhead.
//
// Errors: [ErrEmpty] for no shots; *[InputError] for more than 400, a number that
// is not finite or too large, or a covariance or limit that is none.
//
// ControlChart does not modify its input.
func ControlChart(in ControlChartInput) (Figure, error) {
	chart := in.Chart
	if err := checkControlChart(chart); err != nil {
		return Figure{}, err
	}
	title := plain(in.Title, longestText)
	if title == "" {
		title = controlTitle(chart)
	}
	unit := plain(in.Unit, 12)
	layers := controlLayers(chart)
	plans := []plan{commonFrame(plan{unit: unit, layers: layers, axisName: true}, framed(layers), sheetWidth*0.8)}
	roomForNames(plans)

	shots := append(chart.Pattern[:len(chart.Pattern):len(chart.Pattern)], chart.Watched...)
	highest := max(chart.LimitI, chart.LimitII)
	for _, s := range shots {
		highest = max(highest, min(s.T2, highestSignal*chart.LimitII))
	}
	axes := newXY(span{-float64(len(chart.Pattern)) - 0.5, float64(len(chart.Watched)) + 0.5}, span{0, highest}, "ball held against the pattern; below 0 the pattern's own", "how far out, T²", false, 0)
	axes.y.low = 0 // no ball is nearer than the centre
	axes.height = 130
	axes.yStep = niceStep(axes.y.size() * 26 / axes.height)

	sheet := newSheet()
	sheet.prose(titlePen, title, 4)
	sheet.skip(5)
	sheet.plan(plans[0])
	sheet.skip(9)
	sheet.side(plans[0])
	sheet.skip(6)
	sheet.addXY(axes, func(c draw.Canvas) { paintT2(c, axes, chart, shots) })
	sheet.prose(smallPen, fmt.Sprintf("Hollow: the %s of the pattern. Filled: those held against it. Dashed: the limit; of normal shots without any change half of all practices go on for %d balls before one beyond it. Dotted: the limit of the pattern's own balls.",
		count(len(chart.Pattern), "ball"), chart.RunLength), 5)
	return sheet.figure(title, controlChartAlt(title, unit, chart)), nil
}

func checkControlChart(chart practice.ControlChart) error {
	if len(chart.Pattern) == 0 {
		return fmt.Errorf("chart: a pattern without shots: %w", ErrEmpty)
	}
	if n := len(chart.Pattern) + len(chart.Watched); n > mostBalls {
		return &InputError{fmt.Sprintf("%d shots", n), fmt.Sprintf("one picture holds at most %d", mostBalls)}
	}
	for i, shots := range [][]practice.WatchedShot{chart.Pattern, chart.Watched} {
		name := []string{"pattern", "watched"}[i]
		points := make([]dispersion.Point, len(shots))
		for i, s := range shots {
			points[i] = s.Point
			if err := checkNumber(s.T2, fmt.Sprintf("%s, shot %d", name, i+1), "T²"); err != nil {
				return err
			}
		}
		if len(points) > 0 {
			if err := checkShots(points, nil, name); err != nil {
				return err
			}
		}
	}
	c := chart.Cov
	if !(c.XX > 0 && c.YY > 0 && c.Det() > 0 && c.XX+c.YY <= largest*largest && chart.LimitI > 0 && chart.LimitII > 0 && max(chart.LimitI, chart.LimitII) <= largest) {
		return &InputError{"the pattern", "its covariance or a limit is none: use a chart of NewControlChart"}
	}
	return nil
}

// limitRing returns where T² is at the limit.
func limitRing(chart practice.ControlChart) dispersion.Ellipse {
	c := chart.Cov
	half, across := (c.XX-c.YY)/2, math.Hypot((c.XX-c.YY)/2, c.XY)
	middle := (c.XX + c.YY) / 2
	return dispersion.Ellipse{
		Centre:    chart.Centre,
		SemiMajor: math.Sqrt((middle + across) * chart.LimitII),
		SemiMinor: math.Sqrt(max(0, middle-across) * chart.LimitII),
		Angle:     math.Atan2(c.XY, half) / 2,
		Kind:      dispersion.PredictionRegion, // the region of shots to come: dashed
	}
}

func controlLayers(chart practice.ControlChart) []layer {
	pattern := layer{name: "pattern", detail: count(len(chart.Pattern), "shot"), shots: Shots{Look: StageLook(0).Behind()}, rings: []dispersion.Region{limitRing(chart)}}
	for _, s := range chart.Pattern {
		pattern.shots.Points = append(pattern.shots.Points, s.Point)
	}
	layers := []layer{pattern}
	if len(chart.Watched) == 0 {
		return layers
	}
	watched := layer{name: "watched", detail: count(len(chart.Watched), "shot"), shots: Shots{Look: StageLook(1)}}
	for _, s := range chart.Watched {
		watched.shots.Points = append(watched.shots.Points, s.Point)
	}
	signals := chart.Signals()
	for k, i := range signals {
		name := signalName(i, chart.Watched[i])
		if k >= namedSignals && k < len(signals)-1 {
			name = strconv.Itoa(i + 1)
		}
		watched.marks = append(watched.marks, Mark{name, chart.Watched[i].Point})
	}
	return append(layers, watched)
}

func controlTitle(chart practice.ControlChart) string {
	signals := chart.Signals()
	switch {
	case len(chart.Watched) == 0:
		return "The pattern, and what lies outside it"
	case len(signals) == 0:
		return fmt.Sprintf("None of %s lies outside the pattern", count(len(chart.Watched), "ball"))
	}
	return fmt.Sprintf("Ball %d is the first of %d that the pattern does not explain", signals[0]+1, len(chart.Watched))
}

func signalName(i int, s practice.WatchedShot) string {
	return fmt.Sprintf("%d: %s", i+1, strings.Join(s.Says, ", "))
}

func paintT2(c draw.Canvas, a xy, chart practice.ControlChart, shots []practice.WatchedShot) {
	edge := a.at(c, 0, 0).X
	own := a.at(c, 0, chart.LimitI).Y
	c.StrokeLine2(draw.LineStyle{Color: ink, Width: 1, Dashes: []vg.Length{0.8, 2.4}}, c.Min.X, own, edge, own)
	if len(chart.Watched) > 0 {
		limit := a.at(c, 0, chart.LimitII).Y
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: 1, Dashes: []vg.Length{4, 2.5}}, edge, limit, c.Max.X, limit)
		c.StrokeLine2(draw.LineStyle{Color: pencil, Width: 0.5, Dashes: []vg.Length{1, 2}}, edge, c.Min.Y, edge, c.Max.Y)
	}
	for i, s := range shots {
		look, ball := StageLook(1), i-len(chart.Pattern)+1
		if ball < 1 {
			look, ball = StageLook(0).Behind(), ball-1
		}
		at := a.at(c, float64(ball), min(s.T2, highestSignal*chart.LimitII))
		c.StrokeLine2(draw.LineStyle{Color: look.Colour, Width: 0.6}, at.X, c.Min.Y, at.X, at.Y)
		look.draw(c, at)
		if s.T2 > highestSignal*chart.LimitII {
			arrowhead(c, at, 0, 1)
		}
	}
}

func controlChartAlt(title, unit string, chart practice.ControlChart) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. Control chart: %s make the pattern, around %s of carry, %s; %s held against it.",
		strings.TrimRight(title, "."), count(len(chart.Pattern), "shot"), length(chart.Centre.Y, unit), sideText(chart.Centre.X, unit), count(len(chart.Watched), "shot"))
	for i, s := range chart.Pattern {
		if s.Signal {
			fmt.Fprintf(&b, " Of the pattern itself %s, T² %s against %s.", signalName(i, s), number(s.T2, 1), number(chart.LimitI, 1))
		}
	}
	for i, s := range chart.Watched {
		if s.Signal {
			fmt.Fprintf(&b, " Ball %s, T² %s against %s.", signalName(i, s), number(s.T2, 1), number(chart.LimitII, 1))
		}
	}
	return b.String()
}
