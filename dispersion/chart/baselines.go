package chart

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/strokes"
)

// A Curve is a line of Baselines: what one baseline expects from one lie.
type Curve struct {
	Name     string // at its end, such as "rough" or "3.5° and 7 %"
	Baseline strokes.Baseline
	Lie      strokes.Lie
}

// BaselinesInput is what Baselines draws. The zero value of Title stands for a
// general one.
type BaselinesInput struct {
	Title    string
	Unit     lesson.Unit // of the distances shown; the zero value is metres
	From, To float64     // distances in that unit
	Curves   []Curve     // one or more
}

const (
	mostCurves  = 6
	curvePoints = 120
	bandLevel   = 0.95
)

// Baselines returns a figure of the expected strokes over the distance, one line
// for each curve, named at its end, and a band of 95 % around those that state a
// standard error. A line is broken where its baseline does not reach.
//
// Errors: [ErrEmpty] for no curves; *[InputError] for more than six, a curve
// without a baseline or with one that fails, an unknown unit, or distances that
// are not in order or that no curve reaches.
func Baselines(in BaselinesInput) (Figure, error) {
	if len(in.Curves) == 0 {
		return Figure{}, fmt.Errorf("chart: no curves: %w", ErrEmpty)
	}
	if len(in.Curves) > mostCurves {
		return Figure{}, &InputError{fmt.Sprintf("%d curves", len(in.Curves)), fmt.Sprintf("one picture holds at most %d", mostCurves)}
	}
	if in.Unit == "" {
		in.Unit = lesson.Metres
	}
	if err := checkUnit(in.Unit); err != nil {
		return Figure{}, err
	}
	if !(in.From >= 0 && in.From < in.To && in.To <= largest) {
		return Figure{}, &InputError{"the distances", fmt.Sprintf("%g to %g is no range of distances", in.From, in.To)}
	}
	title := plain(in.Title, longestText)
	if title == "" {
		title = "How many strokes are still to play"
	}
	lines := make([]curveLine, len(in.Curves))
	y, names := span{math.Inf(1), math.Inf(-1)}, 0.0
	for i, curve := range in.Curves {
		l, err := newCurveLine(i, curve, in)
		if err != nil {
			return Figure{}, err
		}
		lines[i] = l
		y = y.join(l.extent())
		names = max(names, notePen.width(l.name)*noteSlack)
	}
	if y.size() < 0 {
		return Figure{}, &InputError{"the distances", "no curve reaches there"}
	}
	axes := newXY(span{in.From, in.To}, y, sideways("distance to the flag", string(in.Unit)), "expected strokes", false, names+6)
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	sheet.addXY(axes, func(c draw.Canvas) {
		for _, l := range lines {
			l.paintBand(c, axes)
		}
		for _, l := range lines {
			l.paint(c, axes)
		}
		paintEndNames(c, axes, lines)
	})
	if anyBand(lines) {
		sheet.prose(smallPen, fmt.Sprintf("Hatched: the band of %s around a baseline that states how sure it is.", share(bandLevel)), 2)
	}
	return sheet.figure(title, baselinesAlt(title, in, lines)), nil
}

// A curveLine is a curve at some distances; NaN where it does not reach.
type curveLine struct {
	name   string
	style  draw.LineStyle
	x, y   []float64
	half   []float64 // of the band
	banded bool
}

func newCurveLine(i int, curve Curve, in BaselinesInput) (curveLine, error) {
	name := plain(curve.Name, longestName)
	where := fmt.Sprintf("curve %d, %q", i+1, name)
	if curve.Baseline == nil {
		return curveLine{}, &InputError{where, "it has no baseline"}
	}
	l := curveLine{
		name:  notePen.fit(name, 90),
		style: draw.LineStyle{Color: StageLook(i).Colour, Width: 1.5, Dashes: curveDashes[i]},
	}
	z := distuv.UnitNormal.Quantile((1 + bandLevel) / 2)
	for k := range curvePoints {
		x := in.From + (in.To-in.From)*float64(k)/(curvePoints-1)
		metres := x * in.Unit.Metres()
		y, half := math.NaN(), 0.0
		v, err := curve.Baseline.Expected(curve.Lie, metres)
		var out *strokes.RangeError
		switch {
		case err == nil && metres > 0:
			y = v
			if err := checkNumber(y, where, "expected strokes"); err != nil {
				return l, err
			}
			if se, err := curve.Baseline.StandardError(curve.Lie, metres); err == nil && checkNumber(se, where, "standard error") == nil {
				half, l.banded = z*se, true
			}
		case err != nil && !errors.As(err, &out):
			return l, &InputError{where, err.Error()}
		}
		l.x, l.y, l.half = append(l.x, x), append(l.y, y), append(l.half, half)
	}
	return l, nil
}

func (l curveLine) extent() span {
	s := span{math.Inf(1), math.Inf(-1)}
	for i, y := range l.y {
		if !math.IsNaN(y) {
			s = s.join(span{y - l.half[i], y + l.half[i]})
		}
	}
	return s
}

// runs returns the stretches that the baseline reaches, as [from, to).
func (l curveLine) runs() [][2]int {
	var runs [][2]int
	for i := 0; i < len(l.y); i++ {
		from := i
		for i < len(l.y) && !math.IsNaN(l.y[i]) {
			i++
		}
		if i > from {
			runs = append(runs, [2]int{from, i})
		}
	}
	return runs
}

func anyBand(lines []curveLine) bool {
	for _, l := range lines {
		if l.banded {
			return true
		}
	}
	return false
}

func baselinesAlt(title string, in BaselinesInput, lines []curveLine) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. Expected strokes over the distance, %s.", strings.TrimRight(title, "."), count(len(lines), "line"))
	for _, l := range lines {
		runs := l.runs()
		if len(runs) == 0 {
			fmt.Fprintf(&b, " %s does not reach there.", l.name)
			continue
		}
		first, last := runs[0][0], runs[len(runs)-1][1]-1
		fmt.Fprintf(&b, " %s: %s strokes from %s, %s from %s", l.name, number(l.y[first], 2), length(l.x[first], string(in.Unit)), number(l.y[last], 2), length(l.x[last], string(in.Unit)))
		if l.banded {
			fmt.Fprintf(&b, ", give or take %s", number(l.half[last], 2))
		}
		b.WriteByte('.')
	}
	return b.String()
}
