package chart

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// curveDashes tell lines apart in grey.
var curveDashes = [mostCurves][]vg.Length{nil, {7, 3}, {2, 2}, {9, 3, 2, 3}, {4, 2}, {1, 3}}

func (l curveLine) paint(c draw.Canvas, a xy) {
	for _, r := range l.runs() {
		var at []vg.Point
		for i := r[0]; i < r[1]; i++ {
			at = append(at, a.at(c, l.x[i], l.y[i]))
		}
		c.StrokeLines(l.style, at)
	}
}

// paintBand draws the band as upright hairs, which leave the lines of others to
// be seen.
func (l curveLine) paintBand(c draw.Canvas, a xy) {
	if !l.banded {
		return
	}
	style := draw.LineStyle{Color: l.style.Color, Width: 0.35}
	for i, y := range l.y {
		if !math.IsNaN(y) {
			low, high := a.at(c, l.x[i], y-l.half[i]), a.at(c, l.x[i], y+l.half[i])
			c.StrokeLine2(style, low.X, low.Y, high.X, high.Y)
		}
	}
}

// A curveEnd is where the name of a line stands.
type curveEnd struct {
	x, y vg.Length
	name string
	line int // which of the lines it names
}

// paintEndNames writes the names right of the ends of the lines, level with them
// or as near as there is room.
func paintEndNames(c draw.Canvas, a xy, lines []curveLine) {
	byEnd := map[int][]curveEnd{} // lines that end at one distance share the room there
	for i, l := range lines {
		if runs := l.runs(); len(runs) > 0 {
			last := runs[len(runs)-1][1] - 1
			at := a.at(c, l.x[last], l.y[last])
			byEnd[last] = append(byEnd[last], curveEnd{at.X + 4, at.Y - vg.Length(notePen.size)*0.35, l.name, i})
		}
	}
	for _, last := range slices.Sorted(maps.Keys(byEnd)) {
		for _, e := range apart(byEnd[last], c.Max.Y-vg.Length(notePen.size)) {
			writeOver(c, notePen, e.x, e.y, e.name)
		}
	}
}

// apart moves names up until none lies over another, and down again where they
// would rise above the top.
func apart(ends []curveEnd, top vg.Length) []curveEnd {
	slices.SortStableFunc(ends, func(p, q curveEnd) int { return cmp.Compare(p.y, q.y) })
	gap := vg.Length(notePen.leading())
	for i := 1; i < len(ends); i++ {
		ends[i].y = max(ends[i].y, ends[i-1].y+gap)
	}
	for i := len(ends) - 1; i >= 0; i-- {
		ends[i].y = min(ends[i].y, top)
		top = ends[i].y - gap
	}
	return ends
}
