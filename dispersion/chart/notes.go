package chart

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"github.com/landfall-golf/landfall/dispersion"
)

// notes returns the labels of the plan, those with the least choice of place
// first: the shots at the edge, the current group, the ones behind it, marks and
// rings.
func (v plan) notes(c draw.Canvas, p *plot.Plot) []*note {
	var notes []*note
	for _, l := range v.layers {
		notes = append(notes, v.edgeNotes(c, p, l)...)
	}
	for i := len(v.layers) - 1; i >= 0; i-- {
		l := v.layers[i]
		if l.name == "" && l.detail == "" {
			continue
		}
		n := &note{
			name: namePen.fit(l.name, v.width*0.42), detail: l.detail,
			near: extent(c, p, l), leftward: i < len(v.layers)-1,
		}
		if len(v.layers) > 1 {
			n.look = &l.shots.Look
		}
		notes = append(notes, n)
	}
	for _, l := range v.layers {
		for _, m := range l.marks {
			at, _, _ := inside(c, p, m.Point)
			notes = append(notes, &note{detail: notePen.fit(m.Name, v.width*0.4), near: square(at, 5), point: true})
		}
		for _, r := range l.rings {
			if l.nameRings {
				notes = append(notes, &note{detail: notePen.fit(regionName(r), v.width*0.6), line: Ring{r, l.shots.Look}.direct(c, p)})
			}
		}
	}
	return notes
}

// edgeNotes returns one note for each edge that has shots beyond it, with where
// they landed.
func (v plan) edgeNotes(c draw.Canvas, p *plot.Plot, l layer) []*note {
	type direction struct{ dx, dy int }
	var order []direction
	beyond, near := map[direction][]dispersion.Point{}, map[direction]vg.Rectangle{}
	for _, q := range l.shots.Points {
		at, dx, dy := inside(c, p, q)
		d := direction{dx, dy}
		if d == (direction{}) {
			continue
		}
		if beyond[d] == nil {
			order, near[d] = append(order, d), square(at, edge)
		}
		near[d] = union(near[d], square(at, edge))
		beyond[d] = append(beyond[d], q)
	}
	var notes []*note
	for _, d := range order {
		text := edgeText(beyond[d], d.dx, d.dy, v.unit)
		notes = append(notes, &note{detail: notePen.fit(text, v.width*0.6), near: near[d]})
	}
	return notes
}

// edgeText says where the shots beyond one edge landed: each of a few, the
// nearest and the farthest of many.
func edgeText(shots []dispersion.Point, dx, dy int, unit string) string {
	if len(shots) <= 3 {
		texts := make([]string, len(shots))
		for i, q := range shots {
			texts[i] = whereFrom(q, dx, dy, unit)
		}
		return strings.Join(texts, "; ")
	}
	where, extremes := "short", span{math.Inf(1), math.Inf(-1)}
	for _, q := range shots {
		v := q.Y
		if dy == 0 {
			v = math.Abs(q.X)
		}
		extremes = extremes.join(span{v, v})
	}
	switch {
	case dy > 0:
		where = "long"
	case dy == 0 && dx < 0:
		where = "left"
	case dy == 0:
		where = "right"
	}
	return fmt.Sprintf("%s %s, %s to %s", count(len(shots), "shot"), where, number(extremes.low, 1), length(extremes.high, unit))
}

// whereFrom writes where a shot beyond an edge landed.
func whereFrom(p dispersion.Point, dx, dy int, unit string) string {
	switch {
	case dy == 0:
		return sideText(p.X, unit)
	case dx == 0:
		return length(p.Y, unit)
	}
	return length(p.Y, unit) + ", " + sideText(p.X, unit)
}

// sideText writes a side as a person says it.
func sideText(side float64, unit string) string {
	switch rounded := math.Round(side * 10); {
	case rounded > 0:
		return length(side, unit) + " right"
	case rounded < 0:
		return length(-side, unit) + " left"
	}
	return "on the target line"
}

// obstacles returns the markers, the target line, the name of the axis, and the
// rings as short pieces.
func (v plan) obstacles(c draw.Canvas, p *plot.Plot) []obstacle {
	var all []obstacle
	if v.axisName {
		all = append(all, obstacle{v.carryName(c), coverAxis})
	}
	if v.gain {
		all = append(all, v.gainObstacles(c, p)...)
	}
	for _, l := range v.layers {
		for _, q := range l.shots.Points {
			at, dx, dy := inside(c, p, q)
			marker := square(at, markerRadius+1.5)
			if dx != 0 || dy != 0 {
				marker = square(at, edge) // its arrowhead too
			}
			all = append(all, obstacle{marker, coverMarker})
		}
		for _, m := range l.marks {
			at, _, _ := inside(c, p, m.Point)
			all = append(all, obstacle{square(at, 6), coverMarker})
		}
	}
	x, _ := p.Transforms(&c)
	all = append(all, obstacle{vg.Rectangle{Min: vg.Point{X: x(0) - 1, Y: c.Min.Y}, Max: vg.Point{X: x(0) + 1, Y: c.Max.Y}}, 4 * coverRing})
	for _, l := range v.layers {
		for _, r := range l.rings {
			outline := Ring{r, l.shots.Look}.fine(c, p)
			for i := 0; i < len(outline); i += 2 {
				all = append(all, obstacle{square(outline[i], 1), coverRing})
			}
		}
	}
	return all
}
