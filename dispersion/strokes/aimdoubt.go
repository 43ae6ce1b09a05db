package strokes

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// An AimDoubt is how sure an aim is: what comes out when the shots are drawn
// again from themselves.
type AimDoubt struct {
	Side, Carry dispersion.Interval // of the best aim, metres of the view, by percentiles
	Saves       dispersion.Interval // of what it saves over the straight aim, strokes; see Optimism

	// Optimism is how many strokes more the best aim of a resample seems to
	// save than it does save for the shots that were drawn from. The best aim
	// of the shots themselves is likely to look better than it is by as much.
	Optimism float64

	Grid      Grid // of the aims
	N         int  // shots
	Resamples int
	Seed      uint64

	// Warnings: *[FewShotsWarning].
	Warnings []error

	good []float64 // for each aim, in what share of resamples it is good
}

// Good returns in what share of resamples the aim in column i and row j costs
// at most as much more than the best as a good aim may.
func (d AimDoubt) Good(i, j int) float64 { return d.good[j*d.Grid.Across+i] }

// A FewShotsWarning tells that there are too few shots for what follows them one
// by one.
type FewShotsWarning struct {
	Have, Need int    // shots there are, and from how many on the answer says something
	For        string // the answer in doubt
}

func (w *FewShotsWarning) Error() string {
	return fmt.Sprintf("%d shots are few for %s: %d are a fair basis", w.Have, w.For, w.Need)
}

// fewForAim is below how many shots resamples of them stand for few others: of
// ten shots a resample has six or seven different ones.
const fewForAim = 10

const (
	defaultAimResamples = 1000
	aimChunk            = 25 // resamples between two reports of progress
	doubtLevel          = 0.95
)

// AimDoubt returns how sure the best aim of a pattern as hit is, by the
// bootstrap of its shots: n shots are drawn from the n with replacement, their
// median carry is the carry meant, and the best aim is looked for again. Where
// Short equals Long the carry is held, and only the side of the aim is in doubt.
//
// With c.Resamples of 0 it takes 1,000. Percentile intervals of few shots are
// too narrow rather than too wide: at 10 shots take them for a lower bound of
// the doubt.
//
// Errors: those of [View.Surface]; [ErrAsHit]; *[dispersion.TooFewError] below 3
// shots; [dispersion.ErrLevel], [compare.ErrResamples]. Warnings:
// *[FewShotsWarning].
//
// The answer depends on the seed and not on the number of cores. 1,000
// resamples of 20 shots over 200 by 200 aims take a few seconds.
//
// Reference: B. Efron, R. J. Tibshirani, An Introduction to the Bootstrap,
// Chapman & Hall 1993, chapters 13 and 17 (optimism).
func (v *View) AimDoubt(ctx context.Context, p Pattern, o AimOptions, c compare.Options) (AimDoubt, error) {
	if err := v.ready(ctx, p); err != nil {
		return AimDoubt{}, err
	}
	if c.Level == 0 {
		c.Level = doubtLevel
	}
	if c.Resamples == 0 {
		c.Resamples = defaultAimResamples
	}
	switch {
	case p.law != AsHit:
		return AimDoubt{}, fmt.Errorf("strokes: the doubt of an aim, pattern %v: %w", p.law, ErrAsHit)
	case p.n < 3:
		return AimDoubt{}, fmt.Errorf("strokes: %w", &dispersion.TooFewError{Have: p.n, Need: 3, For: "the doubt of an aim"})
	case !(c.Level > 0 && c.Level < 1):
		return AimDoubt{}, fmt.Errorf("strokes: level %g: %w", c.Level, dispersion.ErrLevel)
	case c.Resamples < 0 || c.Resamples > resample.Most:
		return AimDoubt{}, fmt.Errorf("strokes: %d resamples: %w", c.Resamples, compare.ErrResamples)
	}
	g, o, err := o.grid(v)
	if err != nil {
		return AimDoubt{}, err
	}
	points := p.points(g.Step)
	k, err := kernelOf(points, g.Step)
	if err != nil {
		return AimDoubt{}, err
	}
	costs, err := v.costsAround(ctx, k, g)
	if err != nil {
		return AimDoubt{}, err
	}
	b := aimBootstrap{v: v, points: points, costs: costs, grid: g, within: o.Within, whole: k.mean(costs, g).values}
	return b.run(ctx, c)
}

// An aimBootstrap is the work of AimDoubt.
type aimBootstrap struct {
	v      *View
	points []weighted
	costs  field
	grid   Grid
	within float64
	whole  []float64 // the surface of all shots
}

// A drawnAim is what one resample gave.
type drawnAim struct {
	aim      dispersion.Point
	saves    float64
	optimism float64
}

func (b aimBootstrap) run(ctx context.Context, c compare.Options) (AimDoubt, error) {
	drawn := make([]drawnAim, c.Resamples)
	good := make([]int, len(b.whole)) // in how many resamples
	var mu sync.Mutex
	err := resample.Chunks(ctx, c.Resamples, aimChunk, c.Progress, func(chunk, lo, hi int) error {
		stream := resample.NewStream(c.Seed, "aim doubt", chunk)
		here := make([]uint16, len(b.whole))
		for r := lo; r < hi; r++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			var err error
			if drawn[r], err = b.draw(stream, here); err != nil {
				return err
			}
		}
		mu.Lock()
		defer mu.Unlock()
		for at, n := range here { // whole numbers: the order of the chunks can't change them
			good[at] += int(n)
		}
		return nil
	})
	if err != nil {
		return AimDoubt{}, err
	}
	d := AimDoubt{Grid: b.grid, N: len(b.points), Resamples: c.Resamples, Seed: c.Seed, good: make([]float64, len(b.whole))}
	for at, n := range good {
		d.good[at] = float64(n) / float64(c.Resamples)
	}
	var side, carry, saves []float64
	for _, a := range drawn {
		side, carry, saves = append(side, a.aim.X), append(carry, a.aim.Y), append(saves, a.saves)
		d.Optimism += a.optimism / float64(len(drawn))
	}
	d.Side, d.Carry, d.Saves = percentiles(side, c.Level), percentiles(carry, c.Level), percentiles(saves, c.Level)
	if d.N < fewForAim {
		d.Warnings = append(d.Warnings, &FewShotsWarning{Have: d.N, Need: fewForAim, For: "the doubt of an aim"})
	}
	return d, nil
}

// draw draws one resample and marks its good aims. Its median carry differs
// from that of all shots by some rows of the grid: by as many the aim meant is
// farther out.
func (b aimBootstrap) draw(stream *resample.Stream, good []uint16) (drawnAim, error) {
	n := len(b.points)
	again, carries := make([]weighted, n), make([]float64, n)
	for i := range again {
		again[i] = b.points[stream.Below(n)]
		carries[i] = again[i].at.Y
	}
	shift := int(math.Round(median(carries) / b.grid.Step))
	if b.grid.Up == 1 { // the carry is held, so it is the club's own, whatever that is
		shift = 0
	}
	k, err := kernelOf(again, b.grid.Step)
	if err != nil {
		return drawnAim{}, err
	}
	values := k.mean(b.costs, b.grid).values
	best := lowest(values)
	across, up := b.grid.Across, b.grid.Up
	for at, e := range values {
		if e > values[best]+b.within {
			continue
		}
		if row := at/across + shift; row >= 0 && row < up {
			good[row*across+at%across]++
		}
	}
	flag := b.straight(shift)
	return drawnAim{
		aim:      b.grid.At(best%across, best/across+shift),
		saves:    values[flag] - values[best],
		optimism: (values[flag] - values[best]) - (b.whole[flag] - b.whole[best]),
	}, nil
}

// straight returns where the straight aim is for shots whose median carry is
// shift rows beyond that of all.
func (b aimBootstrap) straight(shift int) int {
	g := b.grid
	i := int(math.Round((clamp(0, g.Left, g.At(g.Across-1, 0).X) - g.Left) / g.Step))
	j := int(math.Round((clamp(b.v.toFlag, g.Short, g.At(0, g.Up-1).Y) - g.Short) / g.Step))
	return min(max(j-shift, 0), g.Up-1)*g.Across + i
}

// percentiles returns the ends that cut off (1-level)/2 of the values on either
// side.
func percentiles(values []float64, level float64) dispersion.Interval {
	slices.Sort(values)
	n := float64(len(values))
	k := max(int(math.Floor((n+1)*(1-level)/2)), 1)
	k = min(k, (len(values)+1)/2)
	return dispersion.Interval{Low: values[k-1], High: values[len(values)-k], Level: level}
}
