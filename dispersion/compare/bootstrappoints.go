package compare

import (
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// pointsJob is the job of a statistic of points. It is handed copies that it
// may reorder.
func pointsJob(groups []*dispersion.Group, block int, statistic func(samples [][]dispersion.Point) (float64, error)) job {
	j := newJob(groups, block, 1)
	points := make([][]dispersion.Point, len(groups))
	for s, g := range groups {
		points[s] = g.Points()
	}
	j.evaluator = func() evaluator {
		e := &pointsEvaluator{plans: j.plans, points: points, statistic: statistic, samples: make([][]dispersion.Point, len(points))}
		for _, n := range j.sizes {
			e.shots = append(e.shots, make([]int, n))
			e.room = append(e.room, make([]dispersion.Point, n))
		}
		return e
	}
	return j
}

type pointsEvaluator struct {
	plans     []*resample.Plan
	points    [][]dispersion.Point // of each stage
	statistic func(samples [][]dispersion.Point) (float64, error)
	shots     [][]int              // of the resample, by stage
	room      [][]dispersion.Point // for samples
	samples   [][]dispersion.Point
}

func (e *pointsEvaluator) resampled(units [][]uint32, values []float64) error {
	var first error
	for i := range values {
		for s, p := range e.plans {
			p.Shots(e.shots[s], units[s][i*p.Count():(i+1)*p.Count()])
		}
		v, err := finite(e.value(-1, 0))
		if err != nil && first == nil {
			first = err
		}
		values[i] = v
	}
	return first
}

func (e *pointsEvaluator) of(shots [][]int) (float64, error) {
	for s := range shots {
		copy(e.shots[s], shots[s])
	}
	return e.value(-1, 0)
}

func (e *pointsEvaluator) without(stage, place int) (float64, error) { return e.value(stage, place) }

// value gathers all samples afresh, since the statistic may have reordered them.
func (e *pointsEvaluator) value(stage, place int) (float64, error) {
	for s, shots := range e.shots {
		sample := e.room[s][:0]
		for i, shot := range shots {
			if s != stage || i != place {
				sample = append(sample, e.points[s][shot])
			}
		}
		e.samples[s] = sample
	}
	return e.statistic(e.samples)
}
