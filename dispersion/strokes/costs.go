package strokes

import (
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// ErrGrid is returned for a grid that has no points or far too many.
var ErrGrid = errors.New("a grid needs a left edge left of the right one, a short one short of the long one, a step above 0, and at most four million points")

// A Grid is a lattice of points of a view, Across by Up of them, Step metres
// apart from the point farthest left and short.
type Grid struct {
	Left, Short float64
	Step        float64
	Across, Up  int
}

// mostGridPoints is how many points a grid may have.
const mostGridPoints = 4_000_000

// At returns the point in column i and row j, from 0, left and short first.
func (g Grid) At(i, j int) dispersion.Point {
	return dispersion.Point{X: g.Left + float64(i)*g.Step, Y: g.Short + float64(j)*g.Step}
}

func (g Grid) check() error {
	if !(g.Step > 0) || g.Across < 1 || g.Up < 1 || g.Across > mostGridPoints/g.Up ||
		!finite(g.At(0, 0)) || !finite(g.At(g.Across, g.Up)) {
		return fmt.Errorf("strokes: %+v: %w", g, ErrGrid)
	}
	return nil
}

// A field is a number for every point of a grid, row by row; between the points
// it is bilinear.
type field struct {
	Grid
	values []float64
}

func newField(g Grid) field { return field{g, make([]float64, g.Across*g.Up)} }

func (f field) row(j int) []float64 { return f.values[j*f.Across : (j+1)*f.Across] }

// split returns the lattice line below t, of n lines, and how far beyond it t is.
func split(t float64, n int) (line int, beyond float64) {
	k := min(max(math.Floor(t), 0), float64(n-1))
	return int(k), min(max(t-k, 0), 1)
}

// costs returns what a landing ball costs at every point of a grid. Areas are
// laid over each other row by row, so that the time depends little on how many
// corners they have.
func (v *View) costs(ctx context.Context, g Grid) (field, error) {
	f := newField(g)
	top := make([]int, g.Across) // area on top in this row, from 1
	var buf []stretch
	for j := range g.Up {
		if err := ctx.Err(); err != nil {
			return field{}, err
		}
		y := g.At(0, j).Y
		clear(top)
		for a, area := range v.areas {
			buf = area.cut(y, buf)
			for _, s := range buf {
				from, to := g.columns(s)
				for i := from; i < to; i++ {
					top[i] = a + 1
				}
			}
		}
		row := f.row(j)
		for i := range row {
			cost, err := v.cost(top[i]-1, g.At(i, j))
			if err != nil {
				return field{}, fmt.Errorf("%w; a ball can land there, so use a baseline that reaches so far, a smaller area of aims, or a narrower pattern", err)
			}
			row[i] = cost
		}
	}
	return f, nil
}

// columns returns which columns lie in a stretch: from the first, before the
// second.
func (g Grid) columns(s stretch) (from, to int) {
	clamp := func(t float64) int { return int(min(max(t, 0), float64(g.Across))) }
	from, to = clamp(math.Ceil((s.from-g.Left)/g.Step)), clamp(math.Floor((s.to-g.Left)/g.Step)+1)
	// The division rounds: the points themselves decide.
	for from > 0 && g.At(from-1, 0).X >= s.from {
		from--
	}
	for from < g.Across && g.At(from, 0).X < s.from {
		from++
	}
	for to < g.Across && g.At(to, 0).X <= s.to {
		to++
	}
	for to > 0 && g.At(to-1, 0).X > s.to {
		to--
	}
	return from, to
}
