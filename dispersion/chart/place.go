package chart

import (
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A note is a label on a plan: a name in bold, a line below it, or both, with
// the marker of the group in front.
type note struct {
	name, detail string
	look         *Look
	near         vg.Rectangle // what it belongs to
	line         []vg.Point   // the ring it belongs to, in place of near
	leftward     bool         // try the left of it first
	point        bool         // it names a point, and is led to it where it stands off
	at           vg.Rectangle // where it was put
}

const (
	noteGap   = 4.0 // points between a note and what it belongs to
	noteGlyph = 11.0
	noteSlack = 1.04 // fonts that stand in for ours may run a little wider
)

func (n *note) size() (w, h float64) {
	if n.name != "" {
		w, h = namePen.width(n.name), namePen.leading()
	}
	if n.detail != "" {
		w, h = max(w, notePen.width(n.detail)), h+notePen.leading()
	}
	w *= noteSlack
	if n.look != nil {
		w += noteGlyph
	}
	return w + 4, h + 3
}

func (n *note) draw(c draw.Canvas) {
	if n.at == (vg.Rectangle{}) {
		return
	}
	n.lead(c)
	c.SetColor(paper)
	c.Fill(n.at.Path())
	x, y := n.at.Min.X+2, n.at.Max.Y-1
	if n.look != nil { // a box, lest the marker be taken for a shot
		c.SetLineStyle(draw.LineStyle{Color: pencil, Width: 0.4})
		c.Stroke(n.at.Path())
		n.look.draw(c, vg.Point{X: x + markerRadius + 1, Y: y - vg.Length(namePen.size)*0.62})
		x += noteGlyph
	}
	if n.name != "" {
		namePen.write(c, x, y-vg.Length(namePen.size), n.name)
		y -= vg.Length(namePen.leading())
	}
	notePen.write(c, x, y-vg.Length(notePen.size), n.detail)
}

// standsOff is how far from its point a note may be, in points, and still be taken
// for its own.
const standsOff = 9.0

// lead draws a thin line to the point of a note that stands off, lest its name be
// taken for that of a nearer one.
func (n *note) lead(c draw.Canvas) {
	if !n.point || n.gap(n.at) <= standsOff {
		return
	}
	to := vg.Point{X: (n.near.Min.X + n.near.Max.X) / 2, Y: (n.near.Min.Y + n.near.Max.Y) / 2}
	from := vg.Point{X: min(max(to.X, n.at.Min.X), n.at.Max.X), Y: min(max(to.Y, n.at.Min.Y), n.at.Max.Y)}
	c.StrokeLine2(draw.LineStyle{Color: pencil, Width: 0.5}, from.X, from.Y, to.X, to.Y)
}

// An obstacle is something a note had better not cover.
type obstacle struct {
	vg.Rectangle
	cost float64
}

const (
	coverMarker = 1e4 // what covering costs, in points of distance
	coverRing   = 3.0
	coverAxis   = 1e6 // never
	wrongSide   = 6.0
)

// place puts the notes one after the other where they are near what they belong
// to and cover little, never over each other and never beyond the rim. Places
// are tried in a fixed order and the first of the cheapest is taken, so that
// the same picture comes out every time. A note that fits nowhere is left out;
// its detail is in the alt text. place tells whether every note found room
// without covering a shot.
func place(rim vg.Rectangle, notes []*note, obstacles []obstacle) (roomy bool) {
	roomy = true
	var taken []vg.Rectangle
	for _, n := range notes {
		w, h := n.size()
		best := math.Inf(1)
		for _, at := range n.candidates(rim, vg.Length(w), vg.Length(h)) {
			cost := n.distance(at)
			if cost >= best || overlapsAny(at, taken) {
				continue
			}
			for _, o := range obstacles {
				if cost >= best {
					break
				}
				if overlap(at, o.Rectangle) {
					cost += o.cost
				}
			}
			if cost < best {
				best, n.at = cost, at
			}
		}
		if !math.IsInf(best, 1) {
			taken = append(taken, n.at)
		}
		roomy = roomy && best < coverMarker
	}
	return roomy
}

// candidates returns the places to try: beside, above and below what the note
// belongs to, outward from a ring, then a grid over the whole plan.
func (n *note) candidates(rim vg.Rectangle, w, h vg.Length) []vg.Rectangle {
	near := n.near
	const inset, grid = 2, 6
	var all []vg.Rectangle
	try := func(x, y vg.Length) {
		at := vg.Rectangle{Min: vg.Point{X: x, Y: y}, Max: vg.Point{X: x + w, Y: y + h}}
		if at.Min.X >= rim.Min.X+inset && at.Max.X <= rim.Max.X-inset && at.Min.Y >= rim.Min.Y+inset && at.Max.Y <= rim.Max.Y-inset {
			all = append(all, at)
		}
	}
	if n.line != nil {
		around := rectOf(n.line)
		for _, q := range n.line {
			x, y := float64(2*q.X-around.Min.X-around.Max.X), float64(2*q.Y-around.Min.Y-around.Max.Y)
			out := max(1e-9, math.Hypot(x, y))
			try(q.X+(w/2+noteGap)*vg.Length(x/out)-w/2, q.Y+(h/2+noteGap)*vg.Length(y/out)-h/2)
		}
	}
	midX, midY := (near.Min.X+near.Max.X-w)/2, (near.Min.Y+near.Max.Y-h)/2
	for _, y := range []vg.Length{midY, near.Max.Y - h, near.Min.Y} {
		try(near.Max.X+noteGap, y)
		try(near.Min.X-noteGap-w, y)
	}
	for _, x := range []vg.Length{midX, near.Max.X - w, near.Min.X} {
		try(x, near.Max.Y+noteGap)
		try(x, near.Min.Y-noteGap-h)
	}
	for y := rim.Min.Y + inset; y < rim.Max.Y; y += grid {
		for x := rim.Min.X + inset; x < rim.Max.X; x += grid {
			try(x, y)
		}
	}
	return all
}

// distance returns how far at is from what the note belongs to, with a little
// more on the side that is not preferred.
func (n *note) distance(at vg.Rectangle) float64 {
	if n.line != nil {
		nearest := math.Inf(1) // squared: this runs for every point of a ring at every place
		for _, q := range n.line {
			x, y := float64(max(0, at.Min.X-q.X, q.X-at.Max.X)), float64(max(0, at.Min.Y-q.Y, q.Y-at.Max.Y))
			nearest = min(nearest, x*x+y*y)
		}
		return math.Sqrt(nearest)
	}
	d := n.gap(at)
	if left := at.Min.X+at.Max.X < n.near.Min.X+n.near.Max.X; left != n.leftward {
		d += wrongSide
	}
	return d
}

// gap returns how far at is from what the note stands near.
func (n *note) gap(at vg.Rectangle) float64 {
	x, y := max(0, at.Min.X-n.near.Max.X, n.near.Min.X-at.Max.X), max(0, at.Min.Y-n.near.Max.Y, n.near.Min.Y-at.Max.Y)
	return math.Hypot(float64(x), float64(y))
}

func overlap(a, b vg.Rectangle) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

func overlapsAny(a vg.Rectangle, others []vg.Rectangle) bool {
	for _, o := range others {
		if overlap(a, o) {
			return true
		}
	}
	return false
}
