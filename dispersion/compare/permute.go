package compare

import (
	"context"
	"fmt"
	"math"
	"sync/atomic"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// maxSplits is how many splits are tried one by one: up to 10 against 10.
const maxSplits = 200_000

// tie is the share up to which two values that were computed in different
// orders are taken for equal. Splits that are equal in exact arithmetic differ
// by a few units of 1e-16; without the allowance chance would decide which of
// them count.
const tie = 1e-9

// A Permutation is the outcome of a permutation test: how many of the ways to
// deal the same shots into a before and an after give a statistic at least as
// large as the one observed.
type Permutation struct {
	Statistic float64 // of the groups as they are
	P         float64 // one-sided: of the statistic being as large as it is or larger
	PFloor    float64 // the smallest P possible
	Splits    int     // tried or drawn
	AtLeast   int     // of those, how many have a statistic as large or larger
	Exact     bool    // every split was tried once; P = AtLeast/Splits, else (AtLeast+1)/(Splits+1)
	Method    string  // in words
	N1, N2    int     // shots before, after
	Seed      uint64  // as given; it matters where splits were drawn at random
	Warnings  []error // such as *FloorWarning

	// Values are the statistic of every split in the order tried or drawn, kept by
	// [Permute] alone; where every split was tried, the first is the one observed.
	Values []float64
}

// Permute returns the share of the ways to deal all shots into n₁ before and n₂
// after in which the statistic is at least as large as it is for the groups as
// they are. All ways are tried up to 200,000 (10 against 10), else o.Resamples
// are drawn, the one observed counts as one more, and p = (b+1)/(m+1). That is
// cautious: drawn again and again from more than 200,000 ways, the exact p would be
// smaller by 1 in 400,000 at most. Values within one part in 10⁹ of the one observed count as equally large.
//
// The p is one-sided: a difference that may go either way needs its absolute
// value as the statistic. It answers whether the shots could be of one kind,
// alike in everything; only a studentised statistic asks about means alone, as
// [MeanGain] does. Shots must be exchangeable: a drift through the lesson makes
// any two stages differ.
//
// The statistic is called from several goroutines at once, with slices that are
// its own only during the call; it may reorder them. Of equally large groups the
// attainable floor is two splits, and not one, where the statistic is the same
// after exchanging before and after as they are.
//
// It takes one shot a side, where it can say nothing.
//
// Errors: [ErrMissing]; [dispersion.ErrLevel], [ErrResamples];
// *[dispersion.TooFewError] for an empty group; the first error of the statistic, or a value of it that is no finite number; the context's
// error. Warnings: *[FloorWarning].
//
// The same inputs give the same bits on any number of cores.
//
// References: see [MeanGain].
func Permute(ctx context.Context, before, after *dispersion.Group, statistic func(before, after []dispersion.Point) (float64, error), o Options) (Permutation, error) {
	o, err := start(ctx, before, after, o)
	if err != nil {
		return Permutation{}, err
	}
	if statistic == nil {
		return Permutation{}, fmt.Errorf("compare: %w", ErrMissing)
	}
	n1, n2 := before.N(), after.N()
	if err := enough(n1, n2, 1, "a permutation"); err != nil {
		return Permutation{}, err
	}
	points := append(before.Points(), after.Points()...)
	t := splitTest{n1: n1, n2: n2, tag: "permute", what: "statistic given", keep: true}
	t.statistic = func() func(resample.Split) (float64, error) {
		dealt := make([]dispersion.Point, n1+n2)
		return func(s resample.Split) (float64, error) {
			for place, shot := range s.Order {
				dealt[place] = points[shot]
			}
			return finite(statistic(dealt[:n1:n1], dealt[n1:]))
		}
	}
	if n1 == n2 {
		as, err := finite(statistic(before.Points(), after.Points()))
		if err != nil {
			return Permutation{}, fmt.Errorf("compare: permutation: %w", err)
		}
		exchanged, err := finite(statistic(after.Points(), before.Points()))
		if err != nil {
			return Permutation{}, fmt.Errorf("compare: permutation: %w", err)
		}
		t.mirrored = math.Abs(as-exchanged) <= tie*math.Abs(as)
	}
	return t.run(ctx, o)
}

// A splitTest says what to take of every split into n1 and n2.
type splitTest struct {
	n1, n2    int
	tag       string
	what      string                                       // the statistic in words
	statistic func() func(resample.Split) (float64, error) // a new one for each goroutine; never NaN
	mirrored  bool                                         // it doesn't care which part is called the first
	unit      float64                                      // the size, if not 0, below which values are taken for equal too
	keep      bool                                         // keep the value of every split
}

// run counts the splits whose statistic is at least that of the split observed,
// which is the one of rank 0.
func (t splitTest) run(ctx context.Context, o Options) (Permutation, error) {
	observed, err := t.statistic()(resample.NewSplit(t.n1, t.n2))
	if err != nil {
		return Permutation{}, fmt.Errorf("compare: permutation: %w", err)
	}
	limit := observed
	if !math.IsInf(limit, 1) {
		limit -= tie * max(t.unit, math.Abs(limit))
	}
	count := resample.CountSplits(t.n1, t.n2, maxSplits)
	r := Permutation{Statistic: observed, Splits: o.Resamples, Exact: count <= maxSplits, N1: t.n1, N2: t.n2, Seed: o.Seed}
	if r.Exact {
		r.Splits = count
	}
	if t.keep {
		r.Values = make([]float64, r.Splits)
	}
	var atLeast atomic.Int64 // a sum of whole numbers: the order of the chunks can't change it
	err = resample.Chunks(ctx, r.Splits, resample.ChunkSize, o.Progress, func(chunk, lo, hi int) error {
		statistic := t.statistic()
		var s resample.Split
		var next func()
		if r.Exact {
			s = resample.NthSplit(t.n1, t.n2, lo)
			next = func() { s.Next() }
		} else {
			stream := resample.NewStream(o.Seed, t.tag, chunk)
			s = resample.NewSplit(t.n1, t.n2)
			next = func() { s.Shuffle(stream) }
			next()
		}
		found := 0
		for i := lo; i < hi; i++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			v, err := statistic(s)
			if err != nil {
				return fmt.Errorf("compare: permutation: %w", err)
			}
			if t.keep {
				r.Values[i] = v
			}
			if v >= limit {
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
		return Permutation{}, err
	}
	r.AtLeast = int(atLeast.Load())
	if r.Exact {
		r.P, r.PFloor = float64(r.AtLeast)/float64(count), t.floor(t.n1, t.n2)
		r.Method = fmt.Sprintf("p by permutation of the %s, all %d splits", t.what, r.Splits)
	} else {
		r.P, r.PFloor = float64(r.AtLeast+1)/float64(r.Splits+1), 1/float64(r.Splits+1)
		r.Method = fmt.Sprintf("p by permutation of the %s, %d random splits", t.what, r.Splits)
	}
	if line := 1 - o.Level; r.Exact && r.PFloor > line {
		need := 1
		for t.floor(need, need) > line && need < 1000 {
			need++
		}
		r.Warnings = append(r.Warnings, &FloorWarning{Floor: r.PFloor, Line: line, Need: need})
	}
	return r, nil
}

// floor returns the smallest p that trying all splits can give. At equal sizes
// every split has a mirror image, which may have the same statistic.
func (t splitTest) floor(n1, n2 int) float64 {
	count := float64(resample.CountSplits(n1, n2, maxSplits))
	if n1 == n2 && t.mirrored {
		return 2 / count
	}
	return 1 / count
}
