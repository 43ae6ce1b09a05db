package chart

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion/practice"
)

// SeasonInput is what Season draws. The zero value of Title stands for a general
// one.
type SeasonInput struct {
	Title  string
	Season *practice.Season
	Club   string
	Column string // as lesson.Shot.Value takes it; "" means carry
	Unit   string // of the column; "" leaves it out
}

const (
	mostSessions = 100
	seasonLevel  = 0.95
)

// performanceGrey is for what a session showed after teaching: to be seen, and not
// to be read as learned.
var performanceGrey = color.NRGBA{0x8A, 0x85, 0x7B, 0xFF}

// Season returns a figure of one measure over the days of a season. Filled: the
// first balls of each session, before any teaching, with what their mean fits at
// 95 %; these tell what was kept. Grey and hollow, joined: what the sessions showed
// at their end, labelled performance. Dotted: the mean of the baseline.
//
// Clean balls alone are drawn. A session of one first ball has no bar; a session
// without balls of this club has nothing.
//
// Errors: [ErrEmpty] for no season, or none with balls of that club and column;
// *[InputError] for more than 100 sessions or a number too large.
//
// Season does not modify its input.
func Season(in SeasonInput) (Figure, error) {
	if in.Season == nil || len(in.Season.Sessions) == 0 {
		return Figure{}, fmt.Errorf("chart: no season: %w", ErrEmpty)
	}
	if n := len(in.Season.Sessions); n > mostSessions {
		return Figure{}, &InputError{fmt.Sprintf("%d sessions", n), fmt.Sprintf("one picture holds at most %d", mostSessions)}
	}
	if in.Column == "" {
		in.Column = "carry"
	}
	days, baseline, err := seasonDays(in)
	if err != nil {
		return Figure{}, err
	}
	if len(days) == 0 {
		return Figure{}, fmt.Errorf("chart: no balls with club %q and a value of %q: %w", plain(in.Club, longestName), plain(in.Column, longestName), ErrEmpty)
	}
	x, y := span{math.Inf(1), math.Inf(-1)}, span{math.Inf(1), math.Inf(-1)}
	for _, d := range days {
		x, y = x.join(span{d.day, d.day}), y.join(d.extent())
	}
	what, unit := measureName(in.Column), plain(in.Unit, 12)
	title := plain(in.Title, longestText)
	if title == "" {
		title = "What was still there at the first balls of each session: " + what
	}
	names := 0.0
	for _, name := range []string{"first balls", "performance", "baseline"} {
		names = max(names, notePen.width(name)*noteSlack)
	}
	axes := newXY(x.widened(max(x.size()*1.04, 1)), y, "days since the first session, "+in.Season.Sessions[0].Start.Format("2006-01-02"), sideways(what, unit), y.low < 0 && y.high > 0, names+8)
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	sheet.addXY(axes, func(c draw.Canvas) { paintSeason(c, axes, days, baseline) })
	sheet.prose(smallPen, fmt.Sprintf("Filled: the mean of the first balls, hit before any teaching; bars: what they fit, at %s. Grey: the mean at the end of the session, which is performance and not yet learned. Dotted: the baseline.", share(seasonLevel)), 4)
	return sheet.figure(title, seasonAlt(title, what, unit, days, baseline)), nil
}

// A seasonDay is a session in the figure.
type seasonDay struct {
	day            float64
	name           string
	phase          practice.Phase // of the first balls
	first, end     float64
	low, high      float64 // of first
	n, nEnd        int
	hasBar, hasEnd bool
}

func (d seasonDay) extent() span {
	s := span{math.Inf(1), math.Inf(-1)}
	if d.n > 0 {
		s = s.join(span{d.low, d.high})
	}
	if d.hasEnd {
		s = s.join(span{d.end, d.end})
	}
	return s
}

// seasonDays returns the sessions with balls of the club, and the mean of the
// baseline, NaN where there is none.
func seasonDays(in SeasonInput) (days []seasonDay, baseline float64, err error) {
	var before []float64
	start := in.Season.Sessions[0].Start
	for _, s := range in.Season.Sessions {
		d := seasonDay{day: s.Start.Sub(start).Hours() / 24, name: plain(s.Name, longestName)}
		var first, end []float64
		for _, stage := range s.Stages {
			if stage.Club != in.Club {
				continue
			}
			values := stage.Values(in.Column)
			for _, v := range values {
				if err := checkNumber(v, fmt.Sprintf("session %q", d.name), measureName(in.Column)); err != nil {
					return nil, 0, err
				}
			}
			switch {
			case stage.First:
				first, d.phase = append(first, values...), stage.Phase
				if stage.Phase == practice.Baseline {
					before = append(before, values...)
				}
			case stage.Phase == practice.Immediate:
				end = append(end, values...)
			}
		}
		if d.n, d.nEnd = len(first), len(end); d.n == 0 && d.nEnd == 0 {
			continue
		}
		if d.n > 0 {
			d.first = stat.Mean(first, nil)
			d.low, d.high = d.first, d.first
		}
		if d.hasBar = d.n > 1; d.hasBar {
			half := distuv.StudentsT{Sigma: 1, Nu: float64(d.n - 1)}.Quantile((1+seasonLevel)/2) * stat.StdDev(first, nil) / math.Sqrt(float64(d.n))
			d.low, d.high = d.first-half, d.first+half
		}
		if d.hasEnd = d.nEnd > 0; d.hasEnd {
			d.end = stat.Mean(end, nil)
		}
		days = append(days, d)
	}
	baseline = math.NaN()
	if len(before) > 0 {
		baseline = stat.Mean(before, nil)
	}
	return days, baseline, nil
}

func paintSeason(c draw.Canvas, a xy, days []seasonDay, baseline float64) {
	var ends []curveEnd
	if !math.IsNaN(baseline) {
		at := a.at(c, 0, baseline)
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: 1, Dashes: []vg.Length{0.8, 2.4}}, c.Min.X, at.Y, c.Max.X, at.Y)
		ends = append(ends, endName(c, at, "baseline"))
	}
	grey := Look{Colour: performanceGrey, Shape: Square, Hollow: true}
	var trend []vg.Point
	for _, d := range days {
		if d.hasEnd {
			trend = append(trend, a.at(c, d.day, d.end))
		}
	}
	c.StrokeLines(draw.LineStyle{Color: performanceGrey, Width: 0.8}, trend)
	for _, p := range trend {
		c.SetColor(paper)
		c.Fill(grey.Shape.path(p, markerRadius))
		grey.draw(c, p)
	}
	if len(trend) > 0 {
		ends = append(ends, endName(c, trend[len(trend)-1], "performance"))
	}
	look := StageLook(0)
	var last *vg.Point
	for _, d := range days {
		if d.n == 0 {
			continue
		}
		at := a.at(c, d.day, d.first)
		if d.hasBar {
			low, high := a.at(c, d.day, d.low), a.at(c, d.day, d.high)
			style := draw.LineStyle{Color: look.Colour, Width: 1.3}
			c.StrokeLine2(style, low.X, low.Y, high.X, high.Y)
			for _, end := range []vg.Point{low, high} {
				c.StrokeLine2(style, end.X-2.2, end.Y, end.X+2.2, end.Y)
			}
		}
		look.draw(c, at)
		last = &at
	}
	if last != nil {
		ends = append(ends, endName(c, *last, "first balls"))
	}
	for _, e := range apart(ends, c.Max.Y-vg.Length(notePen.size)) {
		writeOver(c, notePen, e.x, e.y, e.name)
	}
}

// endName stands right of the axes, level with what it names.
func endName(c draw.Canvas, at vg.Point, name string) curveEnd {
	return curveEnd{c.Max.X + 5, at.Y - vg.Length(notePen.size)*0.35, name, 0}
}

func seasonAlt(title, what, unit string, days []seasonDay, baseline float64) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. The %s of %s with balls of this club.", strings.TrimRight(title, "."), what, count(len(days), "session"))
	if !math.IsNaN(baseline) {
		fmt.Fprintf(&b, " Baseline %s.", length(baseline, unit))
	}
	for _, d := range days {
		fmt.Fprintf(&b, " Day %s", number(math.Floor(d.day), 0))
		if d.n > 0 {
			fmt.Fprintf(&b, ", first balls (%s, %s): %s", d.phase, count(d.n, "ball"), length(d.first, unit))
			if d.hasBar {
				fmt.Fprintf(&b, ", %s: %s to %s", share(seasonLevel), number(d.low, 1), number(d.high, 1))
			}
		}
		if d.hasEnd {
			fmt.Fprintf(&b, "; performance at the end %s", length(d.end, unit))
		}
		b.WriteByte('.')
	}
	return b.String()
}
