package flight

import (
	"context"
	"math/rand/v2"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// A Sensitivity is what a little more of one thing is worth to shots like these,
// everything else as it was.
type Sensitivity struct {
	Of   string  // [PartSpeed], [PartAngle] or [PartSpin]
	Step float64 // how little: 1 mph, 1 degree, 100 rpm; in m/s, radians, rad/s
	Mean float64 // of it, over the shots

	Carry  Share // by how much a step moves the mean carry, m
	Height Share // and the mean apex, m

	// Top says how far from the top of the carry the shots are; nil for ball speed,
	// of which more always carries further.
	Top *Top

	N         int
	Level     float64
	Resamples int
	Seed      uint64
}

const (
	flatWithin  = Yard // of the top, m
	scanSteps   = 8    // either way
	angleScan   = 1 * Degree
	spinScan    = 300 * RPM
	leastAngle  = 2 * Degree // no scan takes a shot below
	leastSpin   = 300 * RPM
	mostAngle   = 89 * Degree
	scanColumns = 2*scanSteps + 1
)

// A lever is one thing to have more of.
type lever struct {
	of         string
	step, scan float64 // scan 0: no top to look for
	least      float64 // where the scan ends
	most       float64 // what a launch may have
	in         func(l *Launch) *float64
}

var levers = []lever{
	{PartSpeed, 1 * MPH, 0, 0, mostSpeed, func(l *Launch) *float64 { return &l.Speed }},
	{PartAngle, 1 * Degree, angleScan, leastAngle, mostAngle, func(l *Launch) *float64 { return &l.Angle }},
	{PartSpin, 100 * RPM, spinScan, leastSpin, mostSpin, func(l *Launch) *float64 { return &l.Spin }},
}

// Sensitivities returns what 1 mph of ball speed, 1 degree of launch and 100 rpm
// of spin are worth around the pupil's own shots: the fitted flight of each shot
// with half a step more, minus that with half a step less, averaged. A shot with
// too little to take half a step from loses half of what it has, and the
// difference is scaled to a whole step. For launch angle and spin it says where
// the top is and how flat.
//
// The misreading to prevent: no player changes one of them and keeps the others.
// More launch commonly comes with less ball speed or more spin; what moved
// together in a lesson is in [SplitGain].
//
// Intervals resample the shots and draw coefficients and form, as those of
// [SplitGain] do.
//
// Errors: [ErrMissing]; *[dispersion.TooFewError] below 5 shots; *[ShotError];
// [dispersion.ErrLevel]; [compare.ErrResamples]; *[UndeterminedError] as for
// [InAir]; the context's error.
//
// The answer depends on the seed and not on the number of cores; 12 shots take a
// fifth of a second.
func Sensitivities(ctx context.Context, shots []Shot, f Fitted, o compare.Options) ([]Sensitivity, error) {
	o, err := groupOptions(ctx, shots, "what a little more is worth", o)
	if err != nil {
		return nil, err
	}
	if err := f.check(); err != nil {
		return nil, err
	}
	doubts, err := f.doubts()
	if err != nil {
		return nil, err
	}
	out := make([]Sensitivity, len(levers))
	for i, l := range levers {
		t := leverTable{lever: l, shots: shots, conditions: f.Conditions, doubts: doubts}
		t.first, t.last = t.reach()
		if err := t.fly(ctx); err != nil {
			return nil, err
		}
		if out[i], err = t.result(ctx, o); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// A leverTable is what each shot does with more and with less.
type leverTable struct {
	lever
	shots      []Shot
	conditions Conditions
	doubts     doubts
	rows       []leverRow // one for each shot

	first, last int // columns of the scan that are flown
}

// A leverRow is one shot: a step's worth of carry and height, then the carry over
// the offsets; each with the fitted model first, then how it moves with each of
// the doubts.
type leverRow [leverValues][]float64

const (
	stepCarry = iota
	stepHeight
	scanFirst
	leverValues = scanFirst + scanColumns
)

// reach returns the columns of the scan in which every shot stays between the
// least and the most. The middle one, with the shots as they are, always counts.
func (t *leverTable) reach() (first, last int) {
	first, last = 0, scanColumns-1
	for _, s := range t.shots {
		x := *t.in(&s.Launch)
		for first < scanSteps && x+t.offset(first) < t.least {
			first++
		}
		for last > scanSteps && x+t.offset(last) > t.most {
			last--
		}
	}
	return first, last
}

// offset is by how much the shots of a column are moved.
func (t *leverTable) offset(column int) float64 { return float64(column-scanSteps) * t.scan }

func (t *leverTable) fly(ctx context.Context) error {
	t.rows = make([]leverRow, len(t.shots))
	return resample.Chunks(ctx, len(t.shots), 1, nil, func(_, i, _ int) error {
		var said leverRow // by each model
		for _, model := range t.doubts.models {
			model.Precision = usualPrecision // small differences are asked for
			values, err := t.flyShot(model, i)
			if err != nil {
				return &ShotError{Index: i, Err: err}
			}
			for c, v := range values {
				said[c] = append(said[c], v)
			}
		}
		for c, values := range said {
			t.rows[i][c] = append([]float64{values[0]}, t.doubts.slopes(values)...)
		}
		return nil
	})
}

func (t *leverTable) flyShot(model Model, i int) (values [leverValues]float64, err error) {
	l := t.shots[i].Launch
	x := *t.in(&l)
	with := func(v float64) (Flight, error) {
		*t.in(&l) = v
		return model.Fly(l, t.conditions)
	}
	low, high := x-t.step/2, min(x+t.step/2, t.most)
	if x >= 0 {
		low = max(low, x/2)
	}
	less, err := with(low)
	if err != nil {
		return values, err
	}
	more, err := with(high)
	if err != nil {
		return values, err
	}
	steps := (high - low) / t.step
	values[stepCarry], values[stepHeight] = (more.Carry-less.Carry)/steps, (more.Apex-less.Apex)/steps
	for c := t.first; c <= t.last && t.scan > 0; c++ {
		f, err := with(x + t.offset(c))
		if err != nil {
			return values, err
		}
		values[scanFirst+c] = f.Carry
	}
	return values, nil
}

// A leverDraw is what one draw of shots and coefficients gives.
type leverDraw struct {
	carry, height, offset, loss float64
}

// take averages over the shots with so much weight on each.
func (t *leverTable) take(weights, shift []float64) (d leverDraw, scan []float64) {
	var sums [leverValues]float64
	var n float64
	for i, w := range weights {
		n += w
		if w == 0 {
			continue
		}
		for c, row := range t.rows[i] {
			v := row[0]
			for k, by := range shift {
				v += by * row[1+k]
			}
			sums[c] += w * v
		}
	}
	d.carry, d.height = sums[stepCarry]/n, sums[stepHeight]/n
	for c := t.first; c <= t.last; c++ {
		scan = append(scan, sums[scanFirst+c]/n)
	}
	at, best := topOf(scan)
	d.offset, d.loss = t.offset(t.first)+at*t.scan, best-scan[scanSteps-t.first]
	return d, scan
}

func (t *leverTable) result(ctx context.Context, o compare.Options) (Sensitivity, error) {
	n := len(t.shots)
	whole, scan := t.take(once(n), t.doubts.none())
	drawn := make([]leverDraw, o.Resamples)
	err := resample.Chunks(ctx, o.Resamples, resample.ChunkSize, nil, func(chunk, lo, hi int) error {
		stream := resample.NewStream(o.Seed, "sensitivity to "+t.of, chunk)
		normal := rand.New(stream)
		for r := lo; r < hi; r++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			drawn[r], _ = t.take(drawWeights(stream, n, 0), t.doubts.draw(normal))
		}
		return nil
	})
	if err != nil {
		return Sensitivity{}, err
	}
	of := func(value func(leverDraw) float64) Share {
		values := make([]float64, len(drawn))
		for r, d := range drawn {
			values[r] = value(d)
		}
		return share(value(whole), values, o.Level, n, 0)
	}
	s := Sensitivity{Of: t.of, Step: t.step, N: n, Level: o.Level, Resamples: o.Resamples, Seed: o.Seed}
	for _, shot := range t.shots {
		s.Mean += *t.in(&shot.Launch) / float64(n)
	}
	s.Carry = of(func(d leverDraw) float64 { return d.carry })
	s.Height = of(func(d leverDraw) float64 { return d.height })
	if t.scan > 0 {
		top := t.top(scan)
		top.Best = of(func(d leverDraw) float64 { return s.Mean + d.offset })
		top.Loss = of(func(d leverDraw) float64 { return d.loss })
		top.Low, top.High = top.Low+s.Mean, top.High+s.Mean
		s.Top = &top
	}
	return s, nil
}
