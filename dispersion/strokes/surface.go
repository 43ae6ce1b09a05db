package strokes

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// AimOptions say which aims are looked at. The zero value stands for the
// defaults.
type AimOptions struct {
	// The aims, in metres of the view: from Left to Right (left of the target
	// line is negative) and from Short to Long. All 0 stands for 50 m around
	// the flag. Short equal to Long holds the carry: the aims of one club.
	Left, Right, Short, Long float64

	Step   float64 // between two aims, metres; 0 means 1
	Within float64 // how many strokes more than the best a good aim may cost; 0 means 0.05
}

const (
	defaultAround = 50.0
	defaultStep   = 1.0
	defaultWithin = 0.05
)

// grid returns the aims as a grid that the target line and the distance of the
// flag are lines of, and the options with the defaults put in.
func (o AimOptions) grid(v *View) (Grid, AimOptions, error) {
	if o.Step == 0 {
		o.Step = defaultStep
	}
	if o.Within == 0 {
		o.Within = defaultWithin
	}
	if o.Left == 0 && o.Right == 0 && o.Short == 0 && o.Long == 0 {
		o.Left, o.Right = -defaultAround, defaultAround
		o.Short, o.Long = v.toFlag-defaultAround, v.toFlag+defaultAround
	}
	if !(o.Within > 0) || !(o.Left <= o.Right) || !(o.Short <= o.Long) || !(o.Step > 0) ||
		!((o.Right-o.Left)/o.Step < mostGridPoints && (o.Long-o.Short)/o.Step < mostGridPoints) {
		return Grid{}, o, fmt.Errorf("strokes: aims %+v: %w", o, ErrGrid)
	}
	g := Grid{Step: o.Step}
	g.Left, g.Across = lattice(o.Left, o.Right, 0, o.Step)
	g.Short, g.Up = lattice(o.Short, o.Long, v.toFlag, o.Step)
	return g, o, g.check()
}

// lattice returns the first and the number of the points from low to high that
// are whole steps from anchor; low alone where there is none.
func lattice(low, high, anchor, step float64) (first float64, n int) {
	const slack = 1e-9
	from, to := math.Ceil((low-anchor)/step-slack), math.Floor((high-anchor)/step+slack)
	if from > to {
		return low, 1
	}
	return anchor + from*step, int(to-from) + 1
}

// A Surface is what a stroke costs on average for every aim of a grid, with one
// pattern: one, and what is then expected for the player of the baseline.
type Surface struct {
	Grid   Grid
	Within float64 // how many strokes more than the best a good aim costs at most

	values []float64 // row by row
	best   int       // the place of the lowest, the first of several
}

// Surface returns the expected strokes for every aim,
//
//	S(a) = Σ w(o) · strokes(a + o)
//
// over the landing points o of the pattern with their shares w. The cost of a
// landing ball is taken at points one step apart and is bilinear between them;
// a law with a density is taken on a lattice finer than that. The pattern is
// carried to the aim as it is, neither turned nor stretched.
//
// Errors: [ErrMissing]; [ErrPattern] for the zero pattern; [ErrGrid];
// *[RangeError] where a ball may land beyond what the baseline reaches; the
// context's error.
//
// It is deterministic. An area of 200 by 200 m takes some tens of milliseconds.
func (v *View) Surface(ctx context.Context, p Pattern, o AimOptions) (Surface, error) {
	if err := v.ready(ctx, p); err != nil {
		return Surface{}, err
	}
	g, o, err := o.grid(v)
	if err != nil {
		return Surface{}, err
	}
	return v.surface(ctx, p, g, o.Within)
}

func (v *View) ready(ctx context.Context, p Pattern) error {
	switch {
	case ctx == nil || v == nil:
		return fmt.Errorf("strokes: an aim: %w", ErrMissing)
	case p.law == 0:
		return fmt.Errorf("strokes: an aim: %w", ErrPattern)
	}
	return ctx.Err()
}

func (v *View) surface(ctx context.Context, p Pattern, g Grid, within float64) (Surface, error) {
	k, err := kernelOf(p.points(g.Step), g.Step)
	if err != nil {
		return Surface{}, err
	}
	costs, err := v.costsAround(ctx, k, g)
	if err != nil {
		return Surface{}, err
	}
	values := k.mean(costs, g).values
	return Surface{Grid: g, Within: within, values: values, best: lowest(values)}, nil
}

func (v *View) costsAround(ctx context.Context, k kernel, g Grid) (field, error) {
	around := k.around(g)
	if err := around.check(); err != nil {
		return field{}, err
	}
	return v.costs(ctx, around)
}

// mean returns what a stroke costs on average at one aim.
func (v *View) mean(ctx context.Context, p Pattern, aim dispersion.Point, step float64) (float64, error) {
	s, err := v.surface(ctx, p, Grid{Left: aim.X, Short: aim.Y, Step: step, Across: 1, Up: 1}, defaultWithin)
	if err != nil {
		return 0, err
	}
	return s.values[0], nil
}

// Expected returns the expected strokes at the aim in column i and row j.
func (s Surface) Expected(i, j int) float64 { return s.values[j*s.Grid.Across+i] }

// Best returns the column and row of the aim that costs least, the first of
// several.
func (s Surface) Best() (i, j int) { return s.best % s.Grid.Across, s.best / s.Grid.Across }

func lowest(values []float64) int {
	best := 0
	for at, v := range values {
		if v < values[best] {
			best = at
		}
	}
	return best
}

// Good tells whether the aim in column i and row j costs at most Within strokes
// more than the best.
func (s Surface) Good(i, j int) bool {
	return s.Expected(i, j) <= s.values[s.best]+s.Within
}
