package compare

import (
	"context"
	"fmt"
	"math"
	"sync"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// An evaluator takes one statistic of resamples of some stages' shots. Each
// goroutine has its own.
type evaluator interface {
	// resampled takes it of as many resamples as there are values to be filled in,
	// NaN where it has none, and returns the first error. Units are those drawn for
	// each stage, resample after resample.
	resampled(units [][]uint32, values []float64) error

	// of takes it of the given shots of each stage.
	of(shots [][]int) (float64, error)

	// without takes it of the shots last given to of, less the one at the given
	// place of the given stage.
	without(stage, place int) (float64, error)
}

// A job is a statistic to be resampled.
type job struct {
	plans       []*resample.Plan // one for each stage
	sizes       []int
	evaluator   func() evaluator
	block       int  // shots in a row drawn together
	batch       int  // resamples evaluated at a time
	studentised bool // whether to take a standard error within each resample
}

func newJob(groups []*dispersion.Group, block, batch int) job {
	j := job{block: block, batch: batch}
	smallest := math.MaxInt
	for _, g := range groups {
		j.plans = append(j.plans, resample.NewPlan(g.N(), block))
		j.sizes = append(j.sizes, g.N())
		smallest = min(smallest, g.N())
	}
	j.studentised = smallest < studentBelow
	return j
}

// Replicates are what a job's resamples gave, in the order drawn.
type replicates struct {
	values    []float64 // NaN where the statistic has no value
	variances []float64 // within the resample, NaN likewise; nil if not asked for
	firstErr  error     // of the first resample without a value
}

// run draws o.Resamples resamples.
func (j job) run(ctx context.Context, o Options) (replicates, error) {
	r := replicates{values: make([]float64, o.Resamples)}
	if j.studentised {
		r.variances = make([]float64, o.Resamples)
	}
	failures := make([]error, (o.Resamples-1)/resample.ChunkSize+1)
	rooms := sync.Pool{New: func() any { return j.newRoom() }} // one for each goroutine, and not for each chunk
	err := resample.Chunks(ctx, o.Resamples, resample.ChunkSize, o.Progress, func(chunk, lo, hi int) error {
		room := rooms.Get().(*room)
		defer rooms.Put(room)
		stream := resample.NewStream(o.Seed, "bootstrap", chunk)
		for ; lo < hi; lo += j.batch {
			values := r.values[lo:min(lo+j.batch, hi)]
			room.draw(j.plans, len(values), stream)
			if err := room.evaluator.resampled(room.units, values); err != nil && failures[chunk] == nil {
				failures[chunk] = err
			}
			if j.studentised {
				for i, v := range values {
					r.variances[lo+i] = room.within.varianceOf(ctx, room.evaluator, room.resample(j.plans, i), v)
				}
			}
			if err := ctx.Err(); err != nil { // last, since it may have cut a variance short
				return err
			}
		}
		return nil
	})
	for _, failure := range failures {
		if failure != nil {
			r.firstErr = failure
			break
		}
	}
	return r, err
}

// A room is where one goroutine works.
type room struct {
	evaluator evaluator
	units     [][]uint32 // of each stage, for a batch of resamples
	one       [][]uint32 // the part of units that belongs to one resample
	within    *jackknife
}

func (j job) newRoom() *room {
	r := &room{evaluator: j.evaluator(), within: j.newJackknife(), one: make([][]uint32, len(j.plans))}
	for _, p := range j.plans {
		r.units = append(r.units, make([]uint32, p.Count()*j.batch))
	}
	return r
}

// draw draws the units of so many resamples, one resample after the other.
func (r *room) draw(plans []*resample.Plan, resamples int, stream *resample.Stream) {
	for i := range resamples {
		for s, p := range plans {
			p.Draw(r.units[s][i*p.Count():], stream)
		}
	}
}

// resample returns the units of resample i of the batch.
func (r *room) resample(plans []*resample.Plan, i int) [][]uint32 {
	for s, p := range plans {
		r.one[s] = r.units[s][i*p.Count() : (i+1)*p.Count()]
	}
	return r.one
}

// finite turns a value that is none into NaN with an error.
func finite(v float64, err error) (float64, error) {
	if err != nil {
		return math.NaN(), err
	}
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return math.NaN(), fmt.Errorf("compare: the statistic is %g", v)
	}
	return v, nil
}

// A jackknife leaves out one shot at a time.
type jackknife struct {
	plans  []*resample.Plan
	shots  [][]int     // of each stage
	values [][]float64 // the statistic without each of them
	memo   [][]float64 // by shot: shots drawn twice are left out once
	order  bool        // with blocks a statistic may look at the order: then each is left out by itself
}

func (j job) newJackknife() *jackknife {
	k := &jackknife{plans: j.plans, order: j.block > 1}
	for _, n := range j.sizes {
		shots := make([]int, n)
		for i := range shots {
			shots[i] = i
		}
		k.shots = append(k.shots, shots)
		k.values = append(k.values, make([]float64, n))
		k.memo = append(k.memo, make([]float64, n))
	}
	return k
}

// leaveOut fills in the values for the shots.
func (k *jackknife) leaveOut(ctx context.Context, e evaluator) error {
	if _, err := finite(e.of(k.shots)); err != nil {
		return err
	}
	for s, shots := range k.shots {
		for i := range k.memo[s] {
			k.memo[s][i] = math.NaN()
		}
		for place, shot := range shots {
			if k.order || math.IsNaN(k.memo[s][shot]) {
				if err := ctx.Err(); err != nil {
					return err
				}
				v, err := finite(e.without(s, place))
				if err != nil {
					return fmt.Errorf("compare: without shot %d: %w", shot, err)
				}
				k.memo[s][shot] = v
			}
			k.values[s][place] = k.memo[s][shot]
		}
	}
	return nil
}

// varianceOf returns the jackknife variance of a resample, NaN if the resample
// has no value or loses it without one of its shots.
func (k *jackknife) varianceOf(ctx context.Context, e evaluator, units [][]uint32, value float64) float64 {
	if math.IsNaN(value) {
		return math.NaN()
	}
	for s, p := range k.plans {
		p.Shots(k.shots[s], units[s])
	}
	if err := k.leaveOut(ctx, e); err != nil {
		return math.NaN()
	}
	return k.variance()
}

// variance returns Σ (nⱼ-1)/nⱼ · Σ (θ₍ᵢ₎-θ₍.₎ⱼ)².
func (k *jackknife) variance() float64 {
	var variance float64
	for _, values := range k.values {
		n, mean := float64(len(values)), meanOf(values)
		var squares float64
		for _, v := range values {
			squares += float64((v - mean) * (v - mean))
		}
		variance += float64(squares * ((n - 1) / n))
	}
	return variance
}

// acceleration returns Σ(Uᵢ/nⱼ)³ / 6[Σ(Uᵢ/nⱼ)²]^1.5, 0 if no shot matters.
func (k *jackknife) acceleration() float64 {
	var squares, cubes float64
	for _, values := range k.values {
		n, mean := float64(len(values)), meanOf(values)
		for _, v := range values {
			u := (n - 1) / n * (mean - v)
			squares += float64(u * u)
			cubes += float64(float64(u*u) * u)
		}
	}
	if squares == 0 {
		return 0
	}
	return cubes / (6 * squares * math.Sqrt(squares))
}

func meanOf(values []float64) float64 {
	var rest float64
	for _, v := range values {
		rest += v - values[0]
	}
	return values[0] + rest/float64(len(values))
}
