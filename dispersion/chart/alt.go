package chart

import (
	"fmt"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
)

// meanOf returns the mean landing point of the clean shots, or of all where none
// is clean.
func meanOf(l layer) dispersion.Point {
	points := l.clean()
	if len(points) == 0 {
		points = l.shots.Points
	}
	var m dispersion.Moments
	for _, p := range points {
		m.Add(p)
	}
	return m.Mean
}

// groupAlt puts a group into words.
func groupAlt(l layer, unit string) string {
	var b strings.Builder
	n := len(l.clean())
	mean := meanOf(l)
	b.WriteString(l.detail)
	which := "carried"
	switch {
	case n == 0:
		which = "the mishits carried"
	case n < len(l.shots.Points):
		which = "the others carried"
	}
	fmt.Fprintf(&b, "; %s %s on average, %s", which, length(mean.Y, unit), sideText(mean.X, unit))
	if g, err := dispersion.NewGroup(l.clean()); err == nil {
		if r, err := g.Radius(0.95); err == nil {
			fmt.Fprintf(&b, ", spread radius %s", length(r.Raw, unit))
		}
	}
	b.WriteByte('.')
	return b.String()
}

func stagesAlt(title, unit string, stages []Stage, layers []layer) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s. Plan view of %s in the order hit, carry up the page, side across.", strings.TrimRight(title, "."), count(len(layers), "stage"))
	for i, l := range layers {
		fmt.Fprintf(&b, " %d", i+1)
		if l.name != "" {
			b.WriteString(", " + l.name)
		}
		if j := earlierLike(stages, i); j >= 0 {
			fmt.Fprintf(&b, " (over stage %d)", j+1)
		}
		b.WriteString(": " + groupAlt(l, unit))
	}
	return b.String()
}
