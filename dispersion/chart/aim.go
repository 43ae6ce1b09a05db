package chart

import (
	"fmt"

	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/strokes"
)

// AimInput is what Aim draws. The zero value of Title stands for a general one.
type AimInput struct {
	Title   string
	Unit    lesson.Unit // to show; the zero value is metres
	View    *strokes.View
	Pattern strokes.Pattern
	Aim     strokes.Aim       // of that pattern in that view, over an area of aims
	Doubt   *strokes.AimDoubt // nil: not drawn
	Stage   int               // number of the stage, from 0, whose look the shots have
}

// contourSteps are how many strokes more than the best the thin lines stand for.
var contourSteps = []float64{0.1, 0.2, 0.4, 0.8}

// Aim returns a figure of a hole from where the ball lies: the region of good
// aims with its edge in ink, thin lines where aiming costs 0.1, 0.2, 0.4 and 0.8
// strokes more than the best, and the shots of the pattern carried to the best
// aim. With Doubt, a dashed line encloses the aims that are good in half of the
// resamples.
//
// Grounds are told by their hatching, named in the key; rough is bare.
//
// Errors: [ErrEmpty] for no view or no aim; *[InputError] for an unknown unit and
// for aims in one row only.
//
// Aim does not modify its input.
func Aim(in AimInput) (Figure, error) {
	if in.View == nil || in.Aim.Surface.Grid.Across == 0 {
		return Figure{}, fmt.Errorf("chart: no view or no aim: %w", ErrEmpty)
	}
	if in.Unit == "" {
		in.Unit = lesson.Metres
	}
	if err := checkUnit(in.Unit); err != nil {
		return Figure{}, err
	}
	if g := in.Aim.Surface.Grid; g.Across < 2 || g.Up < 2 {
		return Figure{}, &InputError{"the aim", "its aims lie in one row: look over an area of aims"}
	}
	title := plain(in.Title, longestText)
	if title == "" {
		title = fmt.Sprintf("Aim anywhere inside the bold line: it costs at most %s strokes more than the best", number(in.Aim.Surface.Within, 2))
	}
	a := newAimPlan(in)
	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	sheet.add(a.height, func(c draw.Canvas) {
		inner := a.inner(c)
		a.paintAim(inner)
		a.paintCarry(inner)
	})
	sheet.skip(9)
	sheet.side(a.plan)
	sheet.groundKey(groundsIn(a.areas, a.box))
	sheet.prose(smallPen, a.key(), 4)
	return sheet.figure(title, a.alt(title)), nil
}

func checkUnit(unit lesson.Unit) error {
	if unit.Metres() == 0 {
		return &InputError{"the unit", fmt.Sprintf("%q is no unit of length: use yd, m or ft", plain(string(unit), 12))}
	}
	return nil
}

// An aimPlan is the plan of an aim, all in the unit shown.
type aimPlan struct {
	plan
	in       AimInput
	areas    []strokes.Area
	surface  lattice
	best     float64 // strokes
	flag     dispersion.Point
	good     [][]dispersion.Point // the edge of the good aims
	contours []contourLine
	doubt    [][]dispersion.Point
}

// A contourLine is the lines of one number of strokes more than the best.
type contourLine struct {
	more  float64
	lines [][]dispersion.Point
}

func newAimPlan(in AimInput) *aimPlan {
	a := &aimPlan{in: in, best: in.Aim.Expected, flag: shown(in.View.Flag(), in.Unit), areas: in.View.Areas()}
	for _, area := range a.areas {
		for _, ring := range area.Rings {
			for i, p := range ring {
				ring[i] = shown(p, in.Unit)
			}
		}
	}
	s := in.Aim.Surface
	a.surface = latticeOf(s.Grid, in.Unit, s.Expected)
	at := shown(in.Aim.Point, in.Unit)
	var shots []dispersion.Point
	for _, q := range in.Pattern.Shots() {
		q = shown(q, in.Unit)
		shots = append(shots, dispersion.Point{X: at.X + q.X, Y: at.Y + q.Y})
	}
	l := layer{
		shots: Shots{Points: shots, Look: StageLook(in.Stage)},
		marks: []Mark{{"best aim", at}},
	}
	if len(shots) > 0 {
		l.name, l.detail = "shots carried to it", count(len(shots), "shot")
	}
	a.plan = commonFrame(plan{unit: string(in.Unit), layers: []layer{l}, axisName: true}, a.extent(l), sheetWidth)
	a.good = a.surface.contour(a.best + s.Within)
	for _, more := range contourSteps {
		a.contours = append(a.contours, contourLine{more, a.surface.contour(a.best + more)})
	}
	if in.Doubt != nil && in.Doubt.Grid.Across > 1 && in.Doubt.Grid.Up > 1 {
		a.doubt = latticeOf(in.Doubt.Grid, in.Unit, in.Doubt.Good).contour(0.5)
	}
	return a
}

func shown(p dispersion.Point, unit lesson.Unit) dispersion.Point {
	return dispersion.Point{X: p.X / unit.Metres(), Y: p.Y / unit.Metres()}
}

func latticeOf(g strokes.Grid, unit lesson.Unit, value func(i, j int) float64) lattice {
	l := lattice{first: shown(g.At(0, 0), unit), step: g.Step / unit.Metres(), across: g.Across, up: g.Up, values: make([]float64, g.Across*g.Up)}
	for at := range l.values {
		l.values[at] = value(at%g.Across, at/g.Across)
	}
	return l
}

// extent returns what must be seen: the good aims, the shots as far as they do
// not squash the rest, and the green with the flag.
func (a *aimPlan) extent(l layer) box {
	b := framed([]layer{l})
	b.add(l.marks[0].Point)
	b.add(a.flag)
	aim := a.in.Aim
	b.add(shown(dispersion.Point{X: aim.Left, Y: aim.Short}, a.in.Unit))
	b.add(shown(dispersion.Point{X: aim.Right, Y: aim.Long}, a.in.Unit))
	for _, area := range a.areas {
		if area.Ground.Lie == strokes.Green && area.Contains(a.flag) {
			for _, q := range area.Rings[0] {
				b.add(q)
			}
		}
	}
	return b
}
