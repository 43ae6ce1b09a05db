package compare

import (
	"errors"
	"fmt"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// WallDeals is how many pictures hang on a wall: the real one and eleven others.
const WallDeals = 12

// A Deal is the balls of a lesson as a before and an after, each in the order hit.
type Deal struct{ Before, After []dispersion.Point }

// A Wall is a real before and after hidden among others that were made by dealing
// the same balls anew.
type Wall struct {
	Deals  []Deal // WallDeals of them
	Real   int    // which of them is real, from 0; see [Wall.Key]
	N1, N2 int    // shots before, after
	Block  int    // shots in a row that were dealt together; 1 if each by itself
	Seed   uint64

	// Warnings tell what a reader must know before trusting the wall, such as
	// *[DriftWarning].
	Warnings []error
}

// A DriftWarning tells that the balls moved within the stages, while nothing was
// changed on purpose, so that dealing them anew one by one is not fair.
type DriftWarning struct {
	Column string // "carry" or "side"
	Slope  Effect // per ball
	Block  int    // shots in a row that were dealt together instead
}

func (w *DriftWarning) Error() string {
	return fmt.Sprintf("the %s moved by %.2g a ball within the stages, so that dealing single balls anew is not fair: they were dealt in runs of %d, and who picks the real one may still have seen nothing but the drift", w.Column, w.Slope.Estimate, w.Block)
}

// ShuffleWall returns the real before and after among eleven others, each made by
// dealing all balls at random into n₁ before and n₂ after; no two are the same.
// Where the real one hangs depends on the seed alone.
//
// If nothing changed, so that every ball might as well have been hit in the other
// stage, the real one looks like the rest, and whoever picks a picture without
// knowing picks it with a chance of 1/12. So if nobody can pick it, "can't tell"
// needs no statistics; if somebody can, that is evidence as strong as p = 0.083,
// and no stronger.
//
// Balls that drift through the lesson can't be exchanged one by one. Where the
// slope within the stages, by [DriftOrStages], leaves out 0 in carry or in side,
// the balls are dealt in runs of BlockLength in the order hit, each cut within
// its stage, at most one of which is cut again to keep n₁ and n₂; o.Block above 1
// asks for that length in any case. Runs keep what neighbours have in common. A
// drift that lasts still shows: a *[DriftWarning] says so. Simulated with 4,000
// lessons of ten and ten normal balls without a change, but with a steady drift of
// 1.5 standard deviations from the first ball to the last, it is noticed in one of
// five; of those the picture of the largest gain in carry is the real one in 34 %
// with runs and in 50 % ball by ball. So look for a drift yourself as well.
//
// It takes three shots a side, and three runs where runs are dealt.
//
// Errors: [ErrMissing]; [dispersion.ErrLevel], [ErrResamples], [ErrBlock];
// *[dispersion.TooFewError]. The same inputs give the same bits.
//
// Reference: A. Buja, D. Cook et al., "Statistical Inference for Exploratory Data
// Analysis and Model Diagnostics", Philosophical Transactions of the Royal Society
// A 367(1906), 2009, pp. 4361-4383 (the lineup; from memory).
func ShuffleWall(before, after *dispersion.Group, o Options) (Wall, error) {
	if before == nil || after == nil {
		return Wall{}, fmt.Errorf("compare: %w", ErrMissing)
	}
	o, err := o.resolved()
	if err != nil {
		return Wall{}, err
	}
	const runs = 3 // a side: with fewer there are not enough ways to deal
	w := Wall{N1: before.N(), N2: after.N(), Block: max(1, o.Block), Seed: o.Seed}
	if err := enough(w.N1, w.N2, runs, "a wall"); err != nil {
		return Wall{}, err
	}
	if w.Block == 1 {
		drift, err := driftWithin(before, after, o.Level)
		if err != nil {
			return Wall{}, err
		}
		if drift != nil {
			w.Block = max(2, BlockLength(min(w.N1, w.N2)))
			drift.Block = w.Block
			w.Warnings = append(w.Warnings, drift)
		}
	}
	if err := enough(w.N1, w.N2, runs*w.Block, fmt.Sprintf("a wall of balls dealt in runs of %d", w.Block)); err != nil {
		return Wall{}, err
	}
	stream := resample.NewStream(o.Seed, "shuffle wall", 0)
	w.Real = stream.Below(WallDeals)
	points := append(before.Points(), after.Points()...)
	asHit := resample.NewSplit(w.N1, w.N2).Order
	firsts := [][]int{asHit[:w.N1]}
	for len(w.Deals) < WallDeals {
		order := asHit
		if len(w.Deals) != w.Real {
			order = dealRuns(w.N1, w.N2, w.Block, stream)
			seen := func(first []int) bool { return slices.Equal(first, order[:w.N1]) }
			if slices.ContainsFunc(firsts, seen) {
				continue
			}
			firsts = append(firsts, order[:w.N1])
		}
		var d Deal
		for place, shot := range order {
			if place < w.N1 {
				d.Before = append(d.Before, points[shot])
			} else {
				d.After = append(d.After, points[shot])
			}
		}
		w.Deals = append(w.Deals, d)
	}
	return w, nil
}

// driftWithin returns the drift within the stages that the interval at the given
// level leaves no doubt of, nil if there is none.
func driftWithin(before, after *dispersion.Group, level float64) (*DriftWarning, error) {
	for _, column := range []struct {
		name string
		of   func(dispersion.Point) float64
	}{
		{"carry", func(p dispersion.Point) float64 { return p.Y }},
		{"side", func(p dispersion.Point) float64 { return p.X }},
	} {
		var stages []Run
		place := 0.0
		for _, g := range []*dispersion.Group{before, after} {
			var r Run
			for _, p := range g.Points() {
				r.At, r.Values = append(r.At, place), append(r.Values, column.of(p))
				place++
			}
			stages = append(stages, r)
		}
		d, err := DriftOrStages(column.name, "", stages, level)
		if errors.Is(err, dispersion.ErrDegenerate) {
			continue // no spread, no drift
		}
		if err != nil {
			return nil, err
		}
		if i := d.Within.Interval; i.Low > 0 || i.High < 0 {
			return &DriftWarning{Column: column.name, Slope: d.Within}, nil
		}
	}
	return nil, nil
}

// dealRuns returns the shots in a random order of their runs, those of either
// part sorted.
func dealRuns(n1, n2, block int, stream *resample.Stream) []int {
	var runs [][]int
	for _, stage := range [][2]int{{0, n1}, {n1, n1 + n2}} {
		for from := stage[0]; from < stage[1]; from += block {
			var run []int
			for shot := from; shot < min(from+block, stage[1]); shot++ {
				run = append(run, shot)
			}
			runs = append(runs, run)
		}
	}
	for i := len(runs) - 1; i > 0; i-- {
		j := stream.Below(i + 1)
		runs[i], runs[j] = runs[j], runs[i]
	}
	order := slices.Concat(runs...)
	slices.Sort(order[:n1])
	slices.Sort(order[n1:])
	return order
}

// Sentence asks the reader to pick, and says what to make of it.
func (w Wall) Sentence() string {
	s := fmt.Sprintf("One of these %d pictures is the real before and after; the others are the same balls, dealt anew at random. Pick the one that stands out. If nobody can, these balls can't tell, and that needs no statistics; a lucky pick is right once in %d.", WallDeals, WallDeals)
	for _, err := range w.Warnings {
		var drift *DriftWarning
		if errors.As(err, &drift) {
			s += fmt.Sprintf(" Not a fair game today: the %s drifted within the stages, so the balls were dealt in runs of %d, and the drift may give the real one away.", drift.Column, drift.Block)
		}
	}
	return s
}

// Key says which picture is the real one. It belongs on another page.
func (w Wall) Key() string {
	return fmt.Sprintf("The real before and after is picture %d of %d.", w.Real+1, WallDeals)
}
