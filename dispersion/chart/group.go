package chart

import (
	"fmt"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
)

// GroupInput is what Group draws. The zero value of Title stands for a general
// one.
type GroupInput struct {
	Title   string
	Name    string
	Unit    string              // of side and carry
	Shots   []dispersion.Point  // X side, Y carry
	Mishit  []bool              // parallel to Shots; nil: none
	Stage   int                 // number of the stage, from 0, whose look the shots have
	Regions []dispersion.Region // each named beside its edge: whole for a centre, dashed for shots
	Centres []Mark              // drawn as points with their names
}

// Group returns a figure of one group in plan view with the given regions and
// centres, each named beside it. The edge of a region of a centre, and a polygon,
// is solid, that of a region of the next shot dashed, of a tolerance region
// dashed and dotted, and the smallest circle around all shots dotted.
//
// Errors: [ErrEmpty] for no shots; *[InputError] for a number that is not finite
// or too large, or a region that is none.
//
// Group does not modify its input.
func Group(in GroupInput) (Figure, error) {
	if err := checkShots(in.Shots, in.Mishit, "the group"); err != nil {
		return Figure{}, err
	}
	for i, e := range in.Regions {
		if err := checkRegion(e, fmt.Sprintf("region %d", i+1)); err != nil {
			return Figure{}, err
		}
	}
	l := stageLayer(in.Stage, Stage{Name: in.Name, Shots: in.Shots, Mishit: in.Mishit})
	l.rings, l.nameRings = in.Regions, true
	for i, m := range in.Centres {
		where := fmt.Sprintf("centre %d", i+1)
		if err := checkNumber(m.Point.X, where, "side"); err != nil {
			return Figure{}, err
		}
		if err := checkNumber(m.Point.Y, where, "carry"); err != nil {
			return Figure{}, err
		}
		l.marks = append(l.marks, Mark{plain(m.Name, longestName), m.Point})
	}
	title := plain(in.Title, longestText)
	if title == "" {
		title = "Where the balls landed"
	}
	unit := plain(in.Unit, 12)
	plans := []plan{commonFrame(plan{unit: unit, layers: []layer{l}, axisName: true}, framed([]layer{l}), sheetWidth)}
	roomForNames(plans)

	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	sheet.plan(plans[0])
	sheet.skip(9)
	sheet.side(plans[0])
	return sheet.figure(title, groupFigureAlt(title, unit, l)), nil
}

func groupFigureAlt(title, unit string, l layer) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. Plan view, carry up the page, side across. ", strings.TrimRight(title, "."))
	if l.name != "" {
		b.WriteString(l.name + ": ")
	}
	b.WriteString(groupAlt(l, unit))
	for _, m := range l.marks {
		fmt.Fprintf(&b, " %s: carry %s, %s.", m.Name, length(m.Point.Y, unit), sideText(m.Point.X, unit))
	}
	for _, r := range l.rings {
		fmt.Fprintf(&b, " Ring (%s): %s.", regionName(r), regionSize(r, unit))
	}
	return b.String()
}
