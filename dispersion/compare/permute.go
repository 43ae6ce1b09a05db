package compare

import (
	"context"
	"fmt"
	"math"
	"sync/atomic"

	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// maxSplits is how many splits are tried one by one: up to 10 against 10.
const maxSplits = 200_000

// tie is how close, relative to the larger of 1 and the observed statistic, two
// statistics are taken for equal. Splits that are equal in exact arithmetic
// differ by a few units of 1e-16; without the allowance chance would decide
// which of them count.
const tie = 1e-9

// A permutation is the outcome of a permutation test.
type permutation struct {
	p, floor float64
	splits   int
	exact    bool // all splits were tried
}

func (r permutation) method() string {
	if r.exact {
		return fmt.Sprintf("p by permutation of the studentised difference, all %d splits", r.splits)
	}
	return fmt.Sprintf("p by permutation of the studentised difference, %d random splits", r.splits)
}

// permute returns the share of the splits into n1 and n2 whose statistic is at
// least that of the split observed, which is the one of rank 0. A statistic is
// never NaN, and doesn't care which part is called the first.
func permute(ctx context.Context, n1, n2 int, tag string, o Options, statistic func(resample.Split) float64) (permutation, error) {
	limit := statistic(resample.NewSplit(n1, n2))
	if !math.IsInf(limit, 1) {
		limit -= tie * max(1, limit)
	}
	count := resample.CountSplits(n1, n2, maxSplits)
	r := permutation{splits: o.Resamples}
	if r.exact = count <= maxSplits; r.exact {
		r.splits = count
	}
	var atLeast atomic.Int64 // a sum of whole numbers: the order of the chunks can't change it
	err := resample.Chunks(ctx, r.splits, resample.ChunkSize, o.Progress, func(chunk, lo, hi int) error {
		var s resample.Split
		var next func()
		if r.exact {
			s = resample.NthSplit(n1, n2, lo)
			next = func() { s.Next() }
		} else {
			stream := resample.NewStream(o.Seed, tag, chunk)
			s = resample.NewSplit(n1, n2)
			next = func() { s.Shuffle(stream) }
			next()
		}
		found := 0
		for i := lo; i < hi; i++ {
			if statistic(s) >= limit {
				found++
			}
			if i+1 < hi {
				next()
			}
		}
		atLeast.Add(int64(found))
		return nil
	})
	if err != nil {
		return permutation{}, err
	}
	b := atLeast.Load()
	if r.exact {
		r.p, r.floor = float64(b)/float64(count), floorOf(n1, n2)
	} else {
		r.p, r.floor = float64(b+1)/float64(r.splits+1), 1/float64(r.splits+1)
	}
	return r, nil
}

// floorOf returns the smallest two-sided p that trying all splits can give. At
// equal sizes every split has a mirror image with the same statistic.
func floorOf(n1, n2 int) float64 {
	count := float64(resample.CountSplits(n1, n2, maxSplits))
	if n1 == n2 {
		return 2 / count
	}
	return 1 / count
}
