package compare

import (
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// momentsBatch is how many resamples are summed up before the statistic is taken
// of them: two short loops over all of them, whose rounds don't wait for each
// other, take less time than one long round after the other.
const momentsBatch = 40

// momentsJob is the job of a statistic of moments.
func momentsJob(groups []*dispersion.Group, block int, statistic func(m []dispersion.Moments) (float64, error)) job {
	j := newJob(groups, block, momentsBatch)
	stages := make([]stageSums, len(groups))
	for s, g := range groups {
		stages[s] = sumsOf(g, j.plans[s])
	}
	j.evaluator = func() evaluator {
		e := &momentsEvaluator{
			stages: stages, statistic: statistic, shots: make([][]int, len(stages)),
			whole: make([]dispersion.Moments, len(stages)), left: make([]dispersion.Moments, len(stages)),
			batch: make([]dispersion.Moments, len(stages)*momentsBatch),
		}
		for s, n := range j.sizes {
			e.shots[s] = make([]int, n)
		}
		return e
	}
	return j
}

// sums are those of some points around the mean of their group, and of their
// products.
type sums struct{ x, y, xx, xy, yy float64 }

func (t *sums) add(p dispersion.Point) {
	t.x += p.X
	t.y += p.Y
	t.xx += float64(p.X * p.X)
	t.xy += float64(p.X * p.Y)
	t.yy += float64(p.Y * p.Y)
}

// stageSums are the sums of everything that can be drawn from one stage.
type stageSums struct {
	plan         *resample.Plan
	n            float64
	centre       dispersion.Point
	points       []dispersion.Point // around the centre
	whole, short []sums             // of the units of either kind
}

func sumsOf(g *dispersion.Group, plan *resample.Plan) stageSums {
	t := stageSums{plan: plan, n: float64(g.N()), centre: g.Mean(), points: g.Points()}
	for i, p := range t.points {
		t.points[i] = dispersion.Point{X: p.X - t.centre.X, Y: p.Y - t.centre.Y}
	}
	t.whole = t.unitSums(plan.Whole())
	t.short = t.unitSums(plan.Short())
	return t
}

func (t *stageSums) unitSums(shots []int, length int) []sums {
	if length == 0 {
		return nil
	}
	units := make([]sums, len(shots)/length)
	for i := range units {
		for _, shot := range shots[:length] {
			units[i].add(t.points[shot])
		}
		shots = shots[length:]
	}
	return units
}

// cancelled is the share of a sum of squares below which what is left after
// taking the mean out has lost too many digits: then two passes are made.
const cancelled = 0.01

// moments writes those of the units into m. Shots is room for as many shots.
func (t *stageSums) moments(m *dispersion.Moments, units []uint32, shots []int) {
	// Five plain variables stay in registers, where one struct would not.
	var sx, sy, sxx, sxy, syy float64
	inWhole := units
	if len(t.short) > 0 {
		last := len(units) - 1
		unit := &t.short[units[last]]
		sx, sy, sxx, sxy, syy = unit.x, unit.y, unit.xx, unit.xy, unit.yy
		inWhole = units[:last]
	}
	whole := t.whole
	for _, u := range inWhole {
		unit := &whole[u]
		sx += unit.x
		sy += unit.y
		sxx += unit.xx
		sxy += unit.xy
		syy += unit.yy
	}
	x, y := sx/t.n, sy/t.n
	m.N = int64(len(t.points))
	m.Mean.X, m.Mean.Y = t.centre.X+x, t.centre.Y+y
	m.SXX = sxx - float64(sx*x)
	m.SXY = sxy - float64(sx*y)
	m.SYY = syy - float64(sy*y)
	if m.SXX < cancelled*sxx || m.SYY < cancelled*syy {
		t.plan.Shots(shots, units)
		*m = t.twoPasses(shots, -1)
	}
}

// twoPasses returns the moments of the shots but the one at place skip, with
// sums of exactly 0 for equal shots.
func (t *stageSums) twoPasses(shots []int, skip int) dispersion.Moments {
	first := t.points[shots[0]]
	if skip == 0 {
		first = t.points[shots[1]]
	}
	m := dispersion.Moments{N: int64(len(shots))}
	if skip >= 0 {
		m.N--
	}
	var x, y float64
	for i, shot := range shots {
		if i != skip {
			x += t.points[shot].X - first.X
			y += t.points[shot].Y - first.Y
		}
	}
	x /= float64(m.N)
	y /= float64(m.N)
	for i, shot := range shots {
		if i != skip {
			dx, dy := t.points[shot].X-first.X-x, t.points[shot].Y-first.Y-y
			m.SXX += float64(dx * dx)
			m.SXY += float64(dx * dy)
			m.SYY += float64(dy * dy)
		}
	}
	m.Mean = dispersion.Point{X: t.centre.X + (first.X + x), Y: t.centre.Y + (first.Y + y)}
	return m
}

// without returns the moments m of the shots, less the shot at a place.
func (t *stageSums) without(m dispersion.Moments, shots []int, place int) dispersion.Moments {
	p := t.points[shots[place]]
	dx, dy := p.X-(m.Mean.X-t.centre.X), p.Y-(m.Mean.Y-t.centre.Y)
	n := float64(m.N)
	grow := n / (n - 1)
	left := dispersion.Moments{
		N: m.N - 1, Mean: dispersion.Point{X: m.Mean.X - dx/(n-1), Y: m.Mean.Y - dy/(n-1)},
		SXX: m.SXX - float64(float64(dx*dx)*grow),
		SXY: m.SXY - float64(float64(dx*dy)*grow),
		SYY: m.SYY - float64(float64(dy*dy)*grow),
	}
	if left.SXX < cancelled*m.SXX || left.SYY < cancelled*m.SYY {
		return t.twoPasses(shots, place)
	}
	return left
}

type momentsEvaluator struct {
	stages      []stageSums
	statistic   func(m []dispersion.Moments) (float64, error)
	shots       [][]int
	whole, left []dispersion.Moments // of all shots of each stage, and with one left out
	batch       []dispersion.Moments // of each stage of each resample
}

func (e *momentsEvaluator) resampled(units [][]uint32, values []float64) error {
	stages := len(e.stages)
	for s := range e.stages {
		stage, drawn := &e.stages[s], units[s]
		count := stage.plan.Count()
		for i := range values {
			stage.moments(&e.batch[i*stages+s], drawn[i*count:(i+1)*count], e.shots[s])
		}
	}
	var first error
	for i := range values {
		v, err := e.statistic(e.batch[i*stages : (i+1)*stages])
		if err != nil || v-v != 0 { // v-v is 0 but for NaN and ±Inf
			if v, err = finite(v, err); first == nil {
				first = err
			}
		}
		values[i] = v
	}
	return first
}

func (e *momentsEvaluator) of(shots [][]int) (float64, error) {
	for s := range e.stages {
		copy(e.shots[s], shots[s])
		e.whole[s] = e.stages[s].twoPasses(e.shots[s], -1)
	}
	copy(e.left, e.whole)
	return e.statistic(e.left)
}

func (e *momentsEvaluator) without(stage, place int) (float64, error) {
	copy(e.left, e.whole)
	e.left[stage] = e.stages[stage].without(e.whole[stage], e.shots[stage], place)
	return e.statistic(e.left)
}
