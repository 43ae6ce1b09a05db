package chart

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion/practice"
)

// RunChartInput is what RunChart draws. The zero value of Title stands for a
// general one.
type RunChartInput struct {
	Title string
	Chart practice.RunChart // of practice.NewRunChart

	// Trend is drawn as a broken line where it is not nil. It must have been fitted
	// to Chart.Clean().
	Trend *practice.Trend
}

const (
	mostBalls = 400
	nameRows  = 3 // of stage names above a run chart, so that neighbours have room
)

// RunChart returns a figure of one measure in the order hit: a marker for each
// ball, joined by a hair, mishits crossed, and the median of the clean balls of
// each stretch of a stage as a bar below them. The names of the stages stand above
// where they begin. What was hit in one go lies between two upright lines.
//
// Errors: [ErrEmpty] for no balls; *[InputError] for more than 400, a number that
// is not finite or too large, stretches that are not those of the balls, or a
// trend of other balls.
//
// RunChart does not modify its input.
func RunChart(in RunChartInput) (Figure, error) {
	chart := in.Chart
	if len(chart.Points) == 0 {
		return Figure{}, fmt.Errorf("chart: no balls: %w", ErrEmpty)
	}
	if len(chart.Points) > mostBalls {
		return Figure{}, &InputError{fmt.Sprintf("%d balls", len(chart.Points)), fmt.Sprintf("one picture holds at most %d", mostBalls)}
	}
	x, y := span{math.Inf(1), math.Inf(-1)}, span{math.Inf(1), math.Inf(-1)}
	for _, p := range chart.Points {
		if err := checkNumber(p.Value, fmt.Sprintf("ball %d", p.Ball), "value"); err != nil {
			return Figure{}, err
		}
		x, y = x.join(span{float64(p.Ball), float64(p.Ball)}), y.join(span{p.Value, p.Value})
	}
	next := 0
	for i, s := range chart.Stretches {
		if s.From != next || s.To <= s.From || s.To > len(chart.Points) {
			return Figure{}, &InputError{fmt.Sprintf("stretch %d", i+1), "it does not follow the one before: use a chart of RunChartOf"}
		}
		if err := checkNumber(s.Median, fmt.Sprintf("stretch %d", i+1), "median"); err != nil {
			return Figure{}, err
		}
		next = s.To
	}
	if next != len(chart.Points) {
		return Figure{}, &InputError{"the stretches", "they do not hold all balls: use a chart of RunChartOf"}
	}
	trend, err := newTrendLine(in.Trend, chart)
	if err != nil {
		return Figure{}, err
	}
	for _, v := range trend {
		y = y.join(span{v.y, v.y})
	}
	title := plain(in.Title, longestText)
	what := measureName(chart.Column)
	if title == "" {
		title = "Ball by ball: " + what
	}
	axes := newXY(span{x.low - 0.5, x.high + 0.5}, y, "ball, in the order hit", sideways(what, plain(chart.Unit, 12)), y.low < 0 && y.high > 0, 0)
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	sheet.add(nameRows*notePen.leading(), func(c draw.Canvas) { paintStretchNames(axes.inner(c), axes, chart) })
	sheet.addXY(axes, func(c draw.Canvas) { paintRun(c, axes, chart, trend) })
	key := "Bar: the median of the clean balls of a stretch."
	if len(trend) > 0 {
		key += " Dashed: the line fitted to the clean balls."
	}
	if mishits(chart) > 0 {
		key += " Crossed: mishits."
	}
	sheet.prose(smallPen, key, 3)
	return sheet.figure(title, runChartAlt(title, what, chart, in.Trend)), nil
}

// measureName makes a column's name readable: "ball_speed_mph" is "ball speed".
func measureName(column string) string {
	name := strings.ReplaceAll(column, "_", " ")
	for _, unit := range []string{"yd", "m", "ft", "mph", "mps", "kmh", "mm", "deg", "rpm", "s"} {
		name = strings.TrimSuffix(name, " "+unit)
	}
	return plain(name, longestName)
}

// An xyPoint is where a line goes through.
type xyPoint struct{ x, y float64 }

func newTrendLine(t *practice.Trend, chart practice.RunChart) ([]xyPoint, error) {
	if t == nil {
		return nil, nil
	}
	clean := chart.Clean()
	if len(t.Fitted) != len(clean.At) {
		return nil, &InputError{"the trend", fmt.Sprintf("it was fitted to %d balls, and %d are clean", len(t.Fitted), len(clean.At))}
	}
	line := make([]xyPoint, len(t.Fitted))
	for i, v := range t.Fitted {
		if err := checkNumber(v, "the trend", "fitted value"); err != nil {
			return nil, err
		}
		line[i] = xyPoint{clean.At[i], v}
	}
	return line, nil
}

// stretchEnds returns the balls half way between a stretch and its neighbours.
func stretchEnds(chart practice.RunChart, i int) (from, to float64) {
	s := chart.Stretches[i]
	from, to = float64(chart.Points[s.From].Ball)-0.5, float64(chart.Points[s.To-1].Ball)+0.5
	if s.From > 0 {
		from = float64(chart.Points[s.From-1].Ball+chart.Points[s.From].Ball) / 2
	}
	if s.To < len(chart.Points) {
		to = float64(chart.Points[s.To-1].Ball+chart.Points[s.To].Ball) / 2
	}
	return from, to
}

// paintStretchNames writes the names in rows above the axes, each over the start
// of its stretch, or as far left of it as the end of the picture asks for and the
// name before it in its row allows.
func paintStretchNames(c draw.Canvas, a xy, chart practice.RunChart) {
	var ends [nameRows]vg.Length // of the names so far, row by row
	for i := range chart.Stretches {
		row := i % nameRows
		from, _ := stretchEnds(chart, i)
		at, end := a.at(c, from, 0).X+2, c.Max.X
		if i+nameRows < len(chart.Stretches) {
			next, _ := stretchEnds(chart, i+nameRows)
			end = a.at(c, next, 0).X - 4
		}
		y := c.Max.Y - vg.Length(float64(row)*notePen.leading()+notePen.size)
		if i > 0 {
			c.StrokeLine2(draw.LineStyle{Color: pencil, Width: 0.5, Dashes: []vg.Length{1, 2}}, at-2, c.Min.Y, at-2, y+vg.Length(notePen.size))
		}
		name := plain(chart.Stretches[i].Stage.Name, longestName)
		width := vg.Length(notePen.width(name) * noteSlack)
		at = max(min(at, end-width), min(at, max(ends[row]+6, c.Min.X)))
		text := notePen.fit(name, float64(end-at)/noteSlack+0.01) // what was shifted to fit does
		if text == "…" || text == "" {
			continue
		}
		writeOver(c, notePen, at, y, text)
		ends[row] = at + vg.Length(notePen.width(text)*noteSlack)
	}
}

func paintRun(c draw.Canvas, a xy, chart practice.RunChart, trend []xyPoint) {
	for i := 1; i < len(chart.Stretches); i++ {
		from, _ := stretchEnds(chart, i)
		at := a.at(c, from, 0).X
		c.StrokeLine2(draw.LineStyle{Color: pencil, Width: 0.5, Dashes: []vg.Length{1, 2}}, at, c.Min.Y, at, c.Max.Y)
	}
	looks := stretchLooks(chart)
	for i, s := range chart.Stretches {
		from, to := stretchEnds(chart, i)
		low, high := a.at(c, from, s.Median), a.at(c, to, s.Median)
		c.StrokeLine2(draw.LineStyle{Color: looks[i].Colour, Width: 2}, low.X+1.5, low.Y, high.X-1.5, high.Y)
	}
	var run []vg.Point
	for _, p := range chart.Points {
		run = append(run, a.at(c, float64(p.Ball), p.Value))
	}
	c.StrokeLines(draw.LineStyle{Color: pencil, Width: 0.5}, run)
	if len(trend) > 0 {
		var line []vg.Point
		for _, v := range trend {
			line = append(line, a.at(c, v.x, v.y))
		}
		c.StrokeLines(draw.LineStyle{Color: ink, Width: 1.2, Dashes: []vg.Length{4, 2.5}}, line)
	}
	for i, s := range chart.Stretches {
		for j := s.From; j < s.To; j++ {
			looks[i].draw(c, run[j])
			if chart.Points[j].Mishit {
				cross(c, run[j])
			}
		}
	}
}

// stretchLooks gives stretches of one stage one look.
func stretchLooks(chart practice.RunChart) []Look {
	place := map[string]int{}
	looks := make([]Look, len(chart.Stretches))
	for i, s := range chart.Stretches {
		if _, ok := place[s.Stage.Name]; !ok {
			place[s.Stage.Name] = len(place)
		}
		looks[i] = StageLook(place[s.Stage.Name])
	}
	return looks
}

func mishits(chart practice.RunChart) int {
	n := 0
	for _, p := range chart.Points {
		if p.Mishit {
			n++
		}
	}
	return n
}

func runChartAlt(title, what string, chart practice.RunChart, trend *practice.Trend) string {
	var b strings.Builder
	unit := plain(chart.Unit, 12)
	fmt.Fprintf(&b, "%s. Run chart of the %s of %s in the order hit, %s.", strings.TrimRight(title, "."), what, count(len(chart.Points), "ball"), count(mishits(chart), "mishit"))
	for _, s := range chart.Stretches {
		fmt.Fprintf(&b, " Balls %d to %d", chart.Points[s.From].Ball, chart.Points[s.To-1].Ball)
		if name := plain(s.Stage.Name, longestName); name != "" {
			b.WriteString(", " + name)
		}
		fmt.Fprintf(&b, ": median %s.", length(s.Median, unit))
	}
	if trend != nil {
		o := trend.Off
		fmt.Fprintf(&b, " Line fitted: %s off by %s, %s: %s to %s.", trendEnd(trend.Shape), signed(o.Estimate, 1), share(o.Interval.Level), signed(o.Interval.Low, 1), signed(o.Interval.High, 1))
	}
	return b.String()
}

func trendEnd(s practice.Shape) string {
	if s == practice.BrokenTo {
		return "the last ball"
	}
	return "the first ball"
}
