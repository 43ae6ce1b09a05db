package main

import (
	"fmt"
	"os"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/practice"
)

// A crossoverCell is what many studies of one size say.
type crossoverCell struct {
	pupils, studies                      int
	mean, spread                         float64 // of the estimates of the drills' difference
	width, planned                       float64 // half of the interval: median, and as planned
	drill, schedule, period, oneOfPupils float64 // shares of intervals that hold
	excludesZero                         float64 // share of studies whose interval of the drills excludes 0
}

// simulateCrossovers draws studies from the truth of the demo study.
func simulateCrossovers(seed uint64, pupils []int, studies int) (cells []crossoverCell, err error) {
	p, _, truth, err := practice.DemoStudy(seed)
	if err != nil {
		return nil, err
	}
	for i, n := range pupils {
		fmt.Fprintf(os.Stderr, "mixed: crossover of %d pupils\n", n)
		p.Pupils = n
		c := crossoverCell{pupils: n, studies: studies}
		if c.planned, err = p.HalfWidth(level); err != nil {
			return nil, err
		}
		var drill, schedule, period, one tally
		var sum, squares, excludes float64
		for k := range studies {
			p.Seed = seed + uint64(i*studies+k)
			trials, got, err := p.Simulate(truth, 4, p.Seed)
			if err != nil {
				return nil, err
			}
			r, err := practice.Crossover(p, trials, practice.FitOptions{Level: level})
			if err != nil {
				return nil, err
			}
			someone := r.PupilGains[k%n]
			for _, x := range []struct {
				t     *tally
				in    dispersion.Interval
				truth float64
			}{
				{&drill, r.Drill.Interval, truth.Drill}, {&schedule, r.Schedule.Interval, truth.Schedule},
				{&period, r.Period.Interval, truth.Period}, {&one, someone.Interval, got.Pupils[someone.Of]},
			} {
				if err := x.t.add(x.in.Low <= x.truth && x.truth <= x.in.High, (x.in.High-x.in.Low)/2, nil); err != nil {
					return nil, err
				}
			}
			sum += r.Drill.Estimate
			squares += (r.Drill.Estimate - truth.Drill) * (r.Drill.Estimate - truth.Drill)
			if r.Drill.Interval.Low > 0 || r.Drill.Interval.High < 0 {
				excludes++
			}
		}
		share := func(t tally) float64 { return float64(t.held) / float64(t.tries()) }
		s := float64(studies)
		c.mean, c.spread, c.width = sum/s, rootMean(squares, s), drill.width()
		c.drill, c.schedule, c.period, c.oneOfPupils = share(drill), share(schedule), share(period), share(one)
		c.excludesZero = excludes / s
		cells = append(cells, c)
	}
	return cells, nil
}
