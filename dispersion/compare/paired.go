package compare

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"sync/atomic"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// BlockBalls is how many balls of one swing make a block.
const BlockBalls = 2

// maxPairs is the most pairs of blocks that can be asked for.
const maxPairs = 10_000

// BlockOrder returns in which order to hit pairs of blocks of [BlockBalls], one
// with the old swing (false) and one with the new (true): a coin decides in each
// pair which goes first. So neither swing gets the warm start or the tired end,
// and [PairedGain] needs no further assumption than that the coin was thrown.
//
// The same pairs and seed give the same order. Errors: [ErrPlan] for fewer than
// two pairs or more than 10,000.
func BlockOrder(pairs int, seed uint64) ([]bool, error) {
	if pairs < 2 || pairs > maxPairs {
		return nil, fmt.Errorf("compare: %d pairs of blocks, where it takes 2 to %d: %w", pairs, maxPairs, ErrPlan)
	}
	stream := resample.NewStream(seed, "block order", 0)
	order := make([]bool, 0, 2*pairs)
	for range pairs {
		newFirst := stream.Below(2) == 1
		order = append(order, newFirst, !newFirst)
	}
	return order, nil
}

// PairedGain returns the mean gain of pairs of blocks: old[i] and fresh[i] are
// the means of the i-th block with either swing. With the differences dᵢ, their
// mean d̄ and standard deviation s,
//
//	d̄ ± t(n-1)·s/√n
//
// P is the share of the 2ⁿ ways to swap old and new within pairs in which |d̄| is
// at least as large: all of them up to 17 pairs, else o.Resamples at random with
// p = (b+1)/(m+1). If a coin decided which block of a pair came first, p needs
// no normal shots, no equal spreads and no absence of drift.
//
// N1 and N2 count blocks. It takes two pairs; below six p can't fall under 0.05.
//
// Errors: [ErrMissing]; [ErrPairs] for different numbers of blocks; those of
// [MeanGain]. Warnings: *[FloorWarning]. The same bits on any number of cores.
//
// Reference: R. A. Fisher, The Design of Experiments, Oliver & Boyd 1935,
// section 21.
func PairedGain(ctx context.Context, name, unit string, old, fresh []float64, o Options) (Effect, error) {
	if ctx == nil {
		return Effect{}, fmt.Errorf("compare: %w", ErrMissing)
	}
	o, err := o.resolved()
	if err != nil {
		return Effect{}, err
	}
	if err := checkValues(old, fresh); err != nil {
		return Effect{}, err
	}
	n := len(old)
	if n != len(fresh) {
		return Effect{}, fmt.Errorf("compare: %d blocks with the old swing, %d with the new: %w", n, len(fresh), ErrPairs)
	}
	if err := enough(n, n, 2, "a comparison of pairs"); err != nil {
		return Effect{}, err
	}
	z, ok := standardise(old, fresh)
	differences := make([]float64, n)
	for i := range differences {
		differences[i] = (fresh[i] - old[i]) / z.scale // as given: exactly alike where they are
	}
	s := summaryOf(differences)
	if !ok || s.ss == 0 {
		return Effect{}, fmt.Errorf("compare: %s: all pairs differ by the same: %w", name, dispersion.ErrDegenerate)
	}
	flips, err := flipSigns(ctx, differences, o)
	if err != nil {
		return Effect{}, err
	}
	df := s.n - 1
	half := studentQuantile((1+o.Level)/2, df) * math.Sqrt(s.ss/df/s.n) * z.scale
	estimate := s.mean * z.scale
	e := Effect{
		Name: name, Unit: unit,
		Method: fmt.Sprintf("mean of paired differences; t interval; p by swapping within pairs, %d ways", flips.ways),
		Before: z.centre + z.scale*summaryOf(z.values[:n]).mean, After: z.centre + z.scale*summaryOf(z.values[n:]).mean,
		N1: n, N2: n,
		Estimate: estimate,
		Interval: dispersion.Interval{Low: estimate - half, High: estimate + half, Level: o.Level},
		DF:       df,
		P:        flips.p, PFloor: flips.floor, HasP: true,
		Seed: o.Seed, Resamples: flips.ways,
	}
	if line := 1 - o.Level; flips.exact && flips.floor > line {
		need := int(math.Ceil(1 - math.Log2(line)))
		e.Warnings = append(e.Warnings, &FloorWarning{Floor: flips.floor, Line: line, Need: need})
	}
	return e.checked()
}

// A signFlips is the outcome of swapping old and new within pairs.
type signFlips struct {
	p, floor float64
	ways     int
	exact    bool // all ways were tried
}

// flipSigns returns the share of the sign changes of the differences whose sum
// is at least as far from 0 as that seen.
func flipSigns(ctx context.Context, differences []float64, o Options) (signFlips, error) {
	const maxExact = 17 // 131,072 ways, below maxSplits
	n := len(differences)
	r := signFlips{ways: o.Resamples}
	if r.exact = n <= maxExact; r.exact {
		r.ways = 1 << n
	}
	sumOf := func(signs []uint64) float64 {
		var sum float64
		for i, d := range differences {
			if signs[i/64]>>(i%64)&1 == 1 {
				d = -d
			}
			sum += d
		}
		return math.Abs(sum)
	}
	words := (n + 63) / 64
	limit := sumOf(make([]uint64, words)) - tie
	var atLeast atomic.Int64
	err := resample.Chunks(ctx, r.ways, resample.ChunkSize, o.Progress, func(chunk, lo, hi int) error {
		signs := make([]uint64, words)
		var source rand.Source = resample.NewStream(o.Seed, "paired gain", chunk)
		found := 0
		for i := lo; i < hi; i++ {
			if r.exact {
				signs[0] = uint64(i)
			} else {
				for w := range signs {
					signs[w] = source.Uint64()
				}
			}
			if sumOf(signs) >= limit {
				found++
			}
		}
		atLeast.Add(int64(found))
		return nil
	})
	if err != nil {
		return signFlips{}, err
	}
	b := atLeast.Load()
	if r.exact {
		r.p, r.floor = float64(b)/float64(r.ways), 2/float64(r.ways)
	} else {
		r.p, r.floor = float64(b+1)/float64(r.ways+1), 1/float64(r.ways+1)
	}
	return r, nil
}
