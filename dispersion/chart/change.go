package chart

import (
	"fmt"
	"strings"
)

// ChangeInput is what Change draws: the same club before and after.
type ChangeInput struct {
	Title         string // "" says how far the clean shots of both carried
	Unit          string // of side and carry
	Before, After Stage  // their Like and Sentence are not used
}

// changeHeight is the greatest height of the plan in points: with its title and
// axis it leaves room for two sentences on the screen of a phone.
const changeHeight = 178.0

// Change returns a figure of two groups on one plan: the earlier one hollow, the
// later one filled, each with its own marks and named beside it. The solid rings
// hold the true centres (level [CentreLevel]), the dashed ones the next shot
// ([NextLevel]); below 5 clean shots there are only dots. The dotted line is the
// mean carry before. It is the smallest picture of a change, for the top of a
// page; [Stages] shows what came in between.
//
// Errors: [ErrEmpty] for a stage without shots; *[InputError] for a number that
// is not finite or too large.
//
// Change does not modify its input.
func Change(in ChangeInput) (Figure, error) {
	layers := make([]layer, 2)
	for i, s := range []Stage{in.Before, in.After} {
		if err := checkShots(s.Shots, s.Mishit, []string{"before", "after"}[i]); err != nil {
			return Figure{}, err
		}
		layers[i] = stageLayer(i, s)
	}
	unit := plain(in.Unit, 12)
	title := plain(in.Title, longestText)
	if title == "" {
		title = changeTitle(layers, unit)
	}
	v := commonFrame(plan{unit: unit, axisName: true}, framed(layers), changeHeight)
	v.layers = []layer{behind(layers[0]), layers[1]}
	v.dotted, v.hasDotted = meanOf(layers[0]).Y, true
	plans := []plan{v}
	roomForNames(plans)

	sheet := newSheet()
	sheet.prose(titlePen, title, 3)
	sheet.skip(5)
	sheet.plan(plans[0])
	sheet.skip(9)
	sheet.side(plans[0])
	sheet.prose(smallPen, changeKey(layers), 3)
	return sheet.figure(title, changeAlt(title, unit, layers)), nil
}

// changeTitle says how far the clean shots carried, or all where none is clean.
func changeTitle(layers []layer, unit string) string {
	carry := func(l layer) string { return strings.TrimSpace(fmt.Sprintf("%.0f %s", meanOf(l).Y, unit)) }
	return fmt.Sprintf("%s on average before, %s after", carry(layers[0]), carry(layers[1]))
}

func changeKey(layers []layer) string {
	var b strings.Builder
	b.WriteString("Hollow: before. Filled: after. Dotted: the mean carry before. ")
	rings, mishits := false, false
	for _, l := range layers {
		rings = rings || len(l.rings) > 0
		mishits = mishits || len(l.clean()) < len(l.shots.Points)
	}
	if rings {
		fmt.Fprintf(&b, "Solid ring: where the centre lies. Dashed: %g in 5 of the next balls. ", 5*NextLevel)
	}
	if mishits {
		b.WriteString("Crossed: a mishit.")
	}
	return strings.TrimSpace(b.String())
}

func changeAlt(title, unit string, layers []layer) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. Plan view, carry up the page, side across.", strings.TrimRight(title, "."))
	for i, l := range layers {
		name := []string{"Before", "After"}[i]
		if l.name != "" {
			name += ", " + l.name
		}
		fmt.Fprintf(&b, " %s: %s", name, groupAlt(l, unit))
	}
	return b.String()
}
