package chart

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion"
)

// A Stage is what Stages draws of one stage with one club.
type Stage struct {
	Name     string
	Sentence string             // what to see, written above its plan; "" for none
	Like     string             // stages with the same word are compared: the nearest earlier one is drawn behind
	Shots    []dispersion.Point // X side, Y carry
	Mishit   []bool             // parallel to Shots; nil: none
}

// StagesInput is what Stages draws. The zero value of Title stands for a
// general one.
type StagesInput struct {
	Title  string
	Unit   string  // of side and carry
	Stages []Stage // in the order hit
}

// The shares that the rings of Stages are drawn for. A ring for 95 % of the
// next shots of a small group is mostly empty and would set the scale of the
// whole picture; four in five is a share that a player can picture.
const (
	CentreLevel = 0.95
	NextLevel   = 0.80
)

const (
	leastForRings = 5 // shots: below, a ring says more about n than about the swing
	// MostStages is how many stages one picture holds.
	MostStages     = 24
	greatestHeight = 150.0 // points of a plan: one stage and its sentence on the screen of a phone held sideways
)

// Stages returns a figure of the stages of a lesson in the order of time, one
// plan below the other, a sentence above each. All plans show the same carries
// and sides at the same scale, which is the same across and up, so that any two
// can be compared by eye; behind each stage stands, hollow, the nearest earlier
// one like it, so that the comparison that matters is made on the spot and not
// from memory. The dotted line is the mean carry of the first stage like it.
//
// The plans stand below each other and not side by side: a group is as wide as
// it is deep, and five of them side by side are stamps on a phone, while
// scrolling down is how time runs there. The carry axis they have in common is
// therefore repeated, and the hollow group and the dotted line do what one ruler
// through all of them would.
//
// The rings are made of the clean shots: solid for the centre (level
// [CentreLevel]), dashed for the next shot ([NextLevel]); below 5 clean shots,
// or with all of them on one line, there are only dots. Mishits are crossed. A
// shot so far off that it would squash the rest is drawn at the edge with an
// arrowhead and where it landed.
//
// Errors: [ErrEmpty] for no stages or a stage without shots; *[InputError] for a
// number that is not finite or too large, and for more than 24 stages.
//
// Draw one figure for each club: a wedge beside a driver leaves neither room.
//
// Stages does not modify its input.
func Stages(in StagesInput) (Figure, error) {
	if len(in.Stages) == 0 {
		return Figure{}, fmt.Errorf("chart: no stages: %w", ErrEmpty)
	}
	if len(in.Stages) > MostStages {
		return Figure{}, &InputError{fmt.Sprintf("%d stages", len(in.Stages)), fmt.Sprintf("one picture holds at most %d: draw one for each club", MostStages)}
	}
	title := plain(in.Title, longestText)
	if title == "" {
		title = "Where the balls landed, stage by stage"
	}
	unit := plain(in.Unit, 12)

	layers := make([]layer, len(in.Stages))
	for i, s := range in.Stages {
		if err := checkShots(s.Shots, s.Mishit, fmt.Sprintf("stage %d, %q", i+1, plain(s.Name, longestName))); err != nil {
			return Figure{}, err
		}
		layers[i] = stageLayer(i, s)
	}
	plans := stagePlans(in.Stages, layers, commonFrame(plan{unit: unit}, framed(layers), greatestHeight))
	roomForNames(plans)

	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	for i, s := range in.Stages {
		sheet.prose(sentencePen, plain(s.Sentence, longestText), 3)
		sheet.skip(3)
		sheet.plan(plans[i])
		sheet.skip(9)
	}
	sheet.side(plans[0])
	sheet.prose(smallPen, stagesKey(layers), 4)
	return sheet.figure(title, stagesAlt(title, unit, in.Stages, layers)), nil
}

// stagePlans returns the plan of each stage, all with the frame of common: the
// stage itself over the nearest earlier one like it.
func stagePlans(stages []Stage, layers []layer, common plan) []plan {
	plans := make([]plan, len(stages))
	for i := range stages {
		v := common
		v.axisName = i == 0
		v.layers = []layer{layers[i]}
		if j := earlierLike(stages, i); j >= 0 {
			v.layers = []layer{behind(layers[j]), layers[i]}
			v.dotted, v.hasDotted = meanOf(layers[firstLike(stages, i)]).Y, true
		}
		plans[i] = v
	}
	return plans
}

// commonFrame gives v the frame that shows b beside the numbers of its axis.
func commonFrame(v plan, b box, height float64) plan {
	room := 20.0
	v.frame = newFrame(b, textWidth-room, height)
	for need := v.axisWidth(); need > room; need = v.axisWidth() { // a narrower plan may need longer numbers
		room = need
		v.frame = newFrame(b, textWidth-room, height)
	}
	return v
}

func sideways(what, unit string) string {
	if unit == "" {
		return what
	}
	return what + ", " + unit
}

// plan adds a plan to the sheet, its carry axis on the left.
func (s *sheet) plan(v plan) {
	s.add(v.height, func(c draw.Canvas) {
		inner := v.inner(c)
		v.paint(inner)
		v.paintCarry(inner)
	})
}

// side adds the numbers of the side axis.
func (s *sheet) side(v plan) {
	s.skip(-9)
	s.add(16, func(c draw.Canvas) { v.paintSide(v.inner(c)) })
	s.add(smallPen.leading()+4, func(c draw.Canvas) {
		text := v.acrossName()
		inner := v.inner(c)
		middle := (inner.Min.X + inner.Max.X - vg.Length(smallPen.width(text))) / 2
		smallPen.write(c, middle, c.Max.Y-vg.Length(smallPen.size), text)
	})
}

// inner crops the canvas of the whole width to the plan.
func (v plan) inner(c draw.Canvas) draw.Canvas {
	return draw.Crop(c, vg.Length(sheetWidth-sheetMargin-v.width), -sheetMargin, 0, 0)
}

func stageLayer(i int, s Stage) layer {
	l := layer{
		name:  plain(s.Name, longestName),
		shots: Shots{Points: s.Shots, Mishit: s.Mishit, Look: StageLook(i)},
	}
	l.detail = count(len(s.Shots), "shot")
	if m := len(s.Shots) - len(l.clean()); m > 0 {
		l.detail += ", " + count(m, "mishit")
	}
	if len(l.clean()) < leastForRings {
		return l
	}
	// Points on one line have no rings; the dots say all there is to say.
	if g, err := dispersion.NewGroup(l.clean()); err == nil {
		if e, err := g.MeanEllipse(CentreLevel); err == nil {
			l.rings = append(l.rings, e)
		}
		if e, err := g.PredictionEllipse(NextLevel); err == nil {
			l.rings = append(l.rings, e)
		}
	}
	return l
}

func behind(l layer) layer {
	l.shots.Look = l.shots.Look.Behind()
	return l
}

// earlierLike returns the nearest stage before i that is compared with it, or -1.
func earlierLike(stages []Stage, i int) int {
	for j := i - 1; j >= 0; j-- {
		if stages[j].Like == stages[i].Like {
			return j
		}
	}
	return -1
}

func firstLike(stages []Stage, i int) int {
	for j := range i {
		if stages[j].Like == stages[i].Like {
			return j
		}
	}
	return i
}

// stagesKey explains the signs that this picture has.
func stagesKey(layers []layer) string {
	rings, mishits := false, false
	for _, l := range layers {
		rings = rings || len(l.rings) > 0
		mishits = mishits || len(l.clean()) < len(l.shots.Points)
	}
	var b strings.Builder
	if len(layers) > 1 {
		b.WriteString("Filled: the stage itself. Hollow: the earlier stage like it. Dotted: the mean carry of the first one like it. ")
	}
	if rings {
		fmt.Fprintf(&b, "Solid ring: where the centre lies (%g %% sure). Dashed: where %g in 5 of the next shots land. ", 100*CentreLevel, 5*NextLevel)
	}
	if mishits {
		b.WriteString("Crossed: a mishit, left out of the rings.")
	}
	return b.String()
}
