package chart

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion/compare"
)

// CalibrationInput is what Calibration draws. The zero value of Title stands for
// one made from the numbers.
type CalibrationInput struct {
	Title  string
	Scores []compare.Score // of gains in one unit and of one level, lesson by lesson
}

const mostScores = 60

// Calibration returns a figure of how good the forecasts of several lessons were:
// what was expected across, what was measured up the page with its interval as a
// bar, both at one scale. On the slanting line a forecast came true; below it too
// much was expected. A lesson whose interval holds its forecast is filled, one
// whose interval leaves it out is hollow.
//
// Errors: [ErrEmpty] for no scores; *[InputError] for scores that
// compare.Calibrate does not take, such as fewer than three, for more than 60,
// for ratios, or a number too large.
//
// Calibration does not modify its input.
func Calibration(in CalibrationInput) (Figure, error) {
	if len(in.Scores) == 0 {
		return Figure{}, fmt.Errorf("chart: no forecasts: %w", ErrEmpty)
	}
	if len(in.Scores) > mostScores {
		return Figure{}, &InputError{fmt.Sprintf("%d forecasts", len(in.Scores)), fmt.Sprintf("one picture holds at most %d", mostScores)}
	}
	c, err := compare.Calibrate(in.Scores)
	if err != nil {
		return Figure{}, &InputError{"the forecasts", err.Error()}
	}
	all := span{0, 0}
	for i, s := range in.Scores {
		where := fmt.Sprintf("lesson %d", i+1)
		if s.Effect.Null != 0 {
			return Figure{}, &InputError{where, "a ratio was forecast: this picture is of gains"}
		}
		for _, v := range []float64{s.Expected, s.Effect.Estimate, s.Effect.Interval.Low, s.Effect.Interval.High} {
			if err := checkNumber(v, where, "gain"); err != nil {
				return Figure{}, err
			}
		}
		all = all.join(span{s.Expected, s.Expected}).join(span{s.Effect.Interval.Low, s.Effect.Interval.High})
	}
	title := plain(in.Title, longestText)
	if title == "" {
		title = calibrationTitle(c)
	}
	unit := plain(in.Scores[0].Effect.Unit, 12)
	a := newXY(all, all, sideways("gain expected", unit), sideways("gain measured", unit), true, 0)
	a = a.equal(all)
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	sheet.addXY(a, func(c draw.Canvas) { paintCalibration(c, a, in.Scores) })
	sheet.prose(smallPen, fmt.Sprintf("Slanting line: it came as expected. Bars: what the shots of a lesson fit, at %s. Filled: the bar holds what was expected, in %d of %s. Hollow: it does not. Lessons with one forecast stand side by side.",
		share(c.Level), c.Held, count(c.Lessons, "lesson")), 4)
	return sheet.figure(title, calibrationAlt(title, unit, c, in.Scores)), nil
}

func calibrationTitle(c compare.Calibration) string {
	if c.HasDelivered {
		return fmt.Sprintf("Of what was expected, %s %% came", number(100*c.Delivered, 0))
	}
	return fmt.Sprintf("The forecast was held in %d of %s", c.Held, count(c.Lessons, "lesson"))
}

// equal returns axes of one scale: as many points to a unit across as up. Both
// show s and a little more.
func (a xy) equal(s span) xy {
	s = s.widened(max(s.size()*1.08, 1e-3))
	width := textWidth - a.left - a.right
	a.x, a.y, a.height = s, s, width
	a.yStep = niceStep(s.size() * 34 / width)
	a.left = 0
	for _, t := range ticks(a.y, a.yStep) {
		a.left = max(a.left, smallPen.width(a.yText(t))*noteSlack+tickGap)
	}
	a.xStep, a.height = a.yStep, textWidth-a.left-a.right
	return a
}

func paintCalibration(c draw.Canvas, a xy, scores []compare.Score) {
	low, high := a.at(c, a.x.low, a.x.low), a.at(c, a.x.high, a.x.high)
	c.StrokeLine2(draw.LineStyle{Color: ink, Width: 1, Dashes: []vg.Length{3, 2}}, low.X, low.Y, high.X, high.Y)
	x := a.at(c, 0, 0).X
	c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.9}, x, c.Min.Y, x, c.Max.Y)
	for i, s := range scores {
		look := Look{Colour: stageColours[0], Shape: Circle}
		if !(s.Effect.Interval.Low <= s.Expected && s.Expected <= s.Effect.Interval.High) {
			look = Look{Colour: stageColours[1], Shape: Square, Hollow: true}
		}
		aside := asideOf(scores, i)
		from, to := a.at(c, s.Expected, s.Effect.Interval.Low), a.at(c, s.Expected, s.Effect.Interval.High)
		from.X, to.X = from.X+aside, to.X+aside
		style := draw.LineStyle{Color: look.Colour, Width: 1.2}
		c.StrokeLine2(style, from.X, from.Y, to.X, to.Y)
		c.StrokeLine2(style, from.X-2.2, from.Y, from.X+2.2, from.Y)
		c.StrokeLine2(style, to.X-2.2, to.Y, to.X+2.2, to.Y)
		at := a.at(c, s.Expected, s.Effect.Estimate)
		at.X += aside
		if look.Hollow {
			c.SetColor(paper)
			c.Fill(look.Shape.path(at, markerRadius))
		}
		look.draw(c, at)
	}
}

// asideOf returns how far aside a lesson is drawn that shares its forecast with
// earlier ones: by turns right and left of them.
func asideOf(scores []compare.Score, i int) vg.Length {
	same := 0
	for _, s := range scores[:i] {
		if s.Expected == scores[i].Expected {
			same++
		}
	}
	const step = 6
	if same%2 == 1 {
		return step * vg.Length(same+1) / 2
	}
	return -step * vg.Length(same) / 2
}

func calibrationAlt(title, unit string, c compare.Calibration, scores []compare.Score) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. Gain measured over gain expected, %s; the interval held what was expected in %d. Measured less expected: %s on average, %s: %s to %s; %s off either way.",
		strings.TrimRight(title, "."), count(c.Lessons, "lesson"), c.Held, strings.TrimRight(signed(c.MeanOff, 1)+" "+unit, " "),
		share(c.MeanOffInterval.Level), signed(c.MeanOffInterval.Low, 1), signed(c.MeanOffInterval.High, 1), number(math.Abs(c.MeanAbsOff), 1))
	for i, s := range scores {
		e := s.Effect
		fmt.Fprintf(&b, " %d: expected %s, measured %s, %s: %s to %s.", i+1, signed(s.Expected, 1), signed(e.Estimate, 1), share(e.Interval.Level), signed(e.Interval.Low, 1), signed(e.Interval.High, 1))
	}
	return b.String()
}
