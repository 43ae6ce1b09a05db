package main

import (
	"context"
	"fmt"
	"io"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// A printer writes lines and remembers the first error.
type printer struct {
	w   io.Writer
	err error
}

func (p *printer) whole(name string, v uint64) { p.line("exact %s = %d", name, v) }

func (p *printer) exact(name string, v float64) {
	p.line("exact %s = %016x", name, math.Float64bits(v))
}

func (p *printer) near(name string, v float64) { p.line("near %s = %.17g", name, v) }

func (p *printer) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}

func (p *printer) failed(err error) bool {
	if p.err == nil {
		p.err = err
	}
	return p.err != nil
}

// lines prints all values.
func lines(ctx context.Context, w io.Writer) error {
	p := &printer{w: w}
	p.draws()
	before, after := p.group(17, 1), p.group(12, 2)
	if p.err != nil {
		return p.err
	}
	p.moments(before, after)
	p.replicates(ctx, before, after)
	p.effects(ctx, before, after)
	return p.err
}

// draws prints words, indices and splits of a stream.
func (p *printer) draws() {
	s := resample.NewStream(7, "bits", 3)
	for range 100 {
		p.whole("word", s.Uint64())
	}
	for n := 2; n < 100; n++ {
		p.whole("index", uint64(s.Below(n)))
	}
	for _, block := range []int{1, 3} {
		plan := resample.NewPlan(11, block)
		units, shots := make([]uint32, plan.Count()), make([]int, 11)
		for range 20 {
			plan.Draw(units, s)
			plan.Shots(shots, units)
			for _, shot := range shots {
				p.whole("shot drawn", uint64(shot))
			}
		}
	}
	split := resample.NewSplit(6, 7)
	for range 20 {
		split.Shuffle(s)
		for _, i := range split.Order[:split.First] {
			p.whole("first part", uint64(i))
		}
	}
}

// group returns n shots around 150 yards, thirds of whole numbers, so that sums
// must be rounded.
func (p *printer) group(n, chunk int) *dispersion.Group {
	s := resample.NewStream(11, "bits of shots", chunk)
	points := make([]dispersion.Point, n)
	for i := range points {
		points[i] = dispersion.Point{X: float64(s.Below(61)-30) / 3, Y: 150 + float64(s.Below(91)-45)/3}
	}
	g, err := dispersion.NewGroup(points)
	p.failed(err)
	return g
}

func (p *printer) moments(before, after *dispersion.Group) {
	one, two := before.Moments(), after.Moments()
	one.Merge(two)
	for _, v := range []float64{one.Mean.X, one.Mean.Y, one.SXX, one.SXY, one.SYY} {
		p.exact("merged moments", v)
	}
	c, err := before.Cov()
	if p.failed(err) {
		return
	}
	p.exact("root of the determinant", c.SqrtDet())
}

// replicates prints those of statistics that take no logarithm: each product is
// rounded before it is added, as in the library.
func (p *printer) replicates(ctx context.Context, before, after *dispersion.Group) {
	gain := func(b, a dispersion.Moments) (float64, error) { return a.Mean.Y - b.Mean.Y, nil }
	area := func(b, a dispersion.Moments) (float64, error) {
		root := func(m dispersion.Moments) float64 {
			return math.Sqrt(float64(m.SXX*m.SYY) - float64(m.SXY*m.SXY))
		}
		return root(a) / root(b), nil
	}
	distance := func(b, a []dispersion.Point) (float64, error) {
		var sum float64
		for _, q := range a {
			for _, r := range b {
				dx, dy := q.X-r.X, q.Y-r.Y
				sum += math.Sqrt(float64(dx*dx) + float64(dy*dy))
			}
		}
		return sum, nil
	}
	for _, block := range []int{1, 3} {
		o := compare.Options{Resamples: 1500, Seed: 5, Block: block}
		for _, statistic := range []func(b, a dispersion.Moments) (float64, error){gain, area} {
			b, err := compare.BootstrapMoments(ctx, before, after, statistic, o)
			p.bootstrapped(b, err)
		}
		b, err := compare.Bootstrap(ctx, before, after, distance, o)
		p.bootstrapped(b, err)
	}
}

func (p *printer) bootstrapped(b compare.Bootstrapped, err error) {
	if p.failed(err) {
		return
	}
	p.exact("estimate", b.Estimate)
	for _, v := range b.Replicates {
		p.exact("replicate", v)
	}
	p.exact("standard error", b.SE)
	p.exact("jackknife standard error", b.JackknifeSE)
	for _, i := range []dispersion.Interval{b.Interval, b.Percentile, b.BCa} {
		p.near("end", i.Low)
		p.near("end", i.High)
	}
}

// effects prints what every comparison makes of the groups.
func (p *printer) effects(ctx context.Context, before, after *dispersion.Group) {
	o := compare.Options{Resamples: 499, Seed: 5}
	for _, f := range []func(context.Context, *dispersion.Group, *dispersion.Group, compare.Options) (compare.Effect, error){
		compare.CarryGain, compare.SideShift, compare.SpreadRatio, compare.AreaRatio, compare.AngleSpreadRatio, compare.RobustSpreadRatio,
	} {
		e, err := f(ctx, before, after, o)
		if p.failed(err) {
			return
		}
		for _, v := range []float64{e.Estimate, e.Interval.Low, e.Interval.High, e.P} {
			p.near(e.Name, v)
		}
	}
	b, err := compare.BootstrapMoments(ctx, before, after, compare.LogAreaRatio, o)
	if p.failed(err) {
		return
	}
	for _, v := range append(b.Replicates, b.T.Low, b.T.High, b.BCa.Low, b.BCa.High) {
		p.near("log area ratio", v)
	}
	d, err := compare.AnyDifference(ctx, before, after, o)
	if p.failed(err) {
		return
	}
	p.near("energy", d.Statistic)
	p.whole("splits as far apart", uint64(d.AtLeast))
}
