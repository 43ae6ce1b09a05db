package chart

import (
	"bytes"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// A name that stands off its point is led to it; one beside it, and one of a group,
// are not.
func TestNotesLeadToTheirPoints(t *testing.T) {
	lines := func(n note) int {
		canvas := vgsvg.New(200, 200)
		n.draw(draw.New(canvas))
		var b bytes.Buffer
		if _, err := canvas.WriteTo(&b); err != nil {
			t.Fatal(err)
		}
		p, err := parse(b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		drawn := 0
		for _, path := range p.paths {
			if path.style["fill"] == "none" {
				drawn++
			}
		}
		return drawn
	}
	box := func(x, y float64) vg.Rectangle {
		return vg.Rectangle{Min: vg.Point{X: vg.Length(x), Y: vg.Length(y)}, Max: vg.Point{X: vg.Length(x + 40), Y: vg.Length(y + 12)}}
	}
	near := square(vg.Point{X: 50, Y: 50}, 5)
	for _, c := range []struct {
		name string
		note note
		want int
	}{
		{"beside", note{detail: "mean", near: near, point: true, at: box(59, 44)}, 0},
		{"to the left", note{detail: "mean", near: near, point: true, at: box(1, 44)}, 0},
		{"far off", note{detail: "mean", near: near, point: true, at: box(100, 100)}, 1},
		{"far off, of a group", note{detail: "mean", near: near, at: box(100, 100)}, 0},
	} {
		if got := lines(c.note); got != c.want {
			t.Errorf("%s: %d lines, want %d", c.name, got, c.want)
		}
	}
}
