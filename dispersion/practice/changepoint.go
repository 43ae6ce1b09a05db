package practice

import (
	"context"
	"fmt"
	"math"
	"math/bits"
	"sync/atomic"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// A ChangePoint says after which ball a measure is most likely to have changed.
type ChangePoint struct {
	N int
	K int // the largest |U|

	// Last is how many balls came before the change: the first of several where
	// |U| is as large.
	Last int

	// Before and After are the means on either side. Their difference is that of
	// the place where it looks largest, so it looks larger than it is.
	Before, After float64

	P         float64 // of a K so large or larger in a random order
	Method    string  // how P was obtained
	Seed      uint64
	Resamples int // random orders tried for P; 0 if it comes from all of them or a formula
}

const (
	pettittExact   = 18 // balls of which every order is accounted for
	pettittFormula = 30 // balls from which on the formula does
)

// Pettitt returns the place at which a measure changed from one level to
// another, found by ranks. With ranks r, ties sharing the mean of theirs,
//
//	U(t) = 2·Σ r - t(n+1) over the first t balls,  K = max |U(t)|
//
// Up to 18 balls p is the share of all orders of these balls with so large a K;
// up to 29 that of o.Resamples random orders, (b+1)/(m+1); from 30 on
//
//	p ≈ 2·exp(-6K²/(n³+n²)), at most 1
//
// which is a little too large, the more so the fewer balls.
//
// It assumes independent balls but for one change. A drift gives a small p too,
// with a change point somewhere in its middle: [RunChart.DriftOrStages] and the
// run chart tell the two apart. Where to look was not decided beforehand, and p
// allows for that; Before and After do not.
//
// Errors: [ErrMissing] for a nil context; *[dispersion.TooFewError] below six
// balls; *[ValueError]; [dispersion.ErrDegenerate] where all values are equal;
// [ErrResamples]; the context's error. The same inputs give the same bits on any
// number of cores.
//
// Reference: A. N. Pettitt, "A Non-Parametric Approach to the Change-Point
// Problem", Applied Statistics 28(2), 1979, pp. 126-135.
func Pettitt(ctx context.Context, values []float64, o compare.Options) (ChangePoint, error) {
	if ctx == nil {
		return ChangePoint{}, fmt.Errorf("practice: %w", ErrMissing)
	}
	if err := checkSeries(values, 6, "a change point"); err != nil {
		return ChangePoint{}, err
	}
	resamples, err := checkResamples(o.Resamples)
	if err != nil {
		return ChangePoint{}, err
	}
	ranks := doubledRanks(values)
	n := len(ranks)
	c := ChangePoint{N: n, Seed: o.Seed}
	c.K, c.Last = largestU(ranks)
	if c.K == 0 {
		return ChangePoint{}, fmt.Errorf("practice: change point: %w", dispersion.ErrDegenerate)
	}
	c.Before, c.After = meanOf(values[:c.Last]), meanOf(values[c.Last:])
	switch {
	case n <= pettittExact:
		c.Method = "p by permutation of K, all orders"
		c.P = 1 - shareBelow(ranks, c.K)
	case n < pettittFormula:
		c.Method, c.Resamples = fmt.Sprintf("p by permutation of K, %d random orders", resamples), resamples
		c.P, err = drawnP(ctx, o, resamples, "pettitt", func() func(*resample.Stream) bool {
			order := append([]int(nil), ranks...)
			return func(s *resample.Stream) bool {
				shuffle(s, order)
				k, _ := largestU(order)
				return k >= c.K
			}
		})
		if err != nil {
			return ChangePoint{}, err
		}
	default:
		c.Method = "p by the formula of A. N. Pettitt"
		k, m := float64(c.K), float64(n)
		c.P = min(1, 2*math.Exp(-6*k*k/(m*m*m+m*m)))
	}
	return c, nil
}

// largestU returns the largest |U| of doubled ranks and how many balls it takes
// to reach it first.
func largestU(ranks []int) (k, last int) {
	sum, mean := 0, len(ranks)+1
	for t, r := range ranks {
		sum += r - mean
		if u := max(sum, -sum); u > k {
			k, last = u, t+1
		}
	}
	return k, last
}

// shareBelow returns the share of all orders in which every |U| stays below k.
// U depends only on which balls have come, not on their order, so that the share
// of the orders of a set that stay below is the mean of those of the set without
// its last ball, over which ball that is, and 0 where its own U is too large.
func shareBelow(ranks []int, k int) float64 {
	n := len(ranks)
	share := make([]float64, 1<<n)
	sums := make([]int32, 1<<n)
	share[0] = 1
	for set := 1; set < len(share); set++ {
		low := bits.TrailingZeros(uint(set))
		u := sums[set&(set-1)] + int32(ranks[low]-n-1)
		sums[set] = u
		if int(max(u, -u)) >= k {
			continue
		}
		var total float64
		for rest := uint(set); rest != 0; rest &= rest - 1 {
			total += share[set&^(1<<bits.TrailingZeros(rest))]
		}
		share[set] = total / float64(bits.OnesCount(uint(set)))
	}
	return share[len(share)-1]
}

// drawnP returns (b+1)/(m+1), b being how many of m random trials hold. Each
// chunk gets a trial of its own.
func drawnP(ctx context.Context, o compare.Options, m int, tag string, trial func() func(*resample.Stream) bool) (float64, error) {
	var held atomic.Int64 // a sum of whole numbers: the order of the chunks can't change it
	err := resample.Chunks(ctx, m, resample.ChunkSize, o.Progress, func(chunk, lo, hi int) error {
		stream, holds, found := resample.NewStream(o.Seed, tag, chunk), trial(), 0
		for range hi - lo {
			if err := ctx.Err(); err != nil {
				return err
			}
			if holds(stream) {
				found++
			}
		}
		held.Add(int64(found))
		return nil
	})
	return float64(held.Load()+1) / float64(m+1), err
}

// shuffle puts the values into a random order, in place.
func shuffle[T any](s *resample.Stream, values []T) {
	for i := len(values) - 1; i > 0; i-- {
		j := s.Below(i + 1)
		values[i], values[j] = values[j], values[i]
	}
}

// meanOf returns the mean of at least one value, exact where all are equal.
func meanOf(values []float64) float64 {
	var rest float64
	for _, v := range values {
		rest += v - values[0]
	}
	return values[0] + rest/float64(len(values))
}
