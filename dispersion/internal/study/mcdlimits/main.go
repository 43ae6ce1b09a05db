// Mcdlimits simulates how far normal shots lie from their MCD fit and prints
// the table of dispersion/mcdlimits.go.
//
//	go run ./dispersion/internal/study/mcdlimits
//
// For each n it draws normal groups and collects three squared distances in the
// metric of the reweighted fit: n times that of the true centre, that of a new
// shot, and those of the group's own shots. To the quantiles of each it fits
//
//	q(level) = s·b·((1-level)^(-1/b) - 1)
//
// the law that s/2·2F(2, 2b) follows, by least squares in the logarithms. The
// own shots are fitted from level 0.95 on, where cut-offs are wanted.
package main

import (
	"flag"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

func main() {
	effort := flag.Float64("effort", 1, "share of the usual number of groups")
	flag.Parse()
	for _, row := range []struct{ n, groups int }{
		{6, 20000}, {7, 20000}, {8, 20000}, {9, 20000}, {10, 20000}, {11, 20000}, {12, 20000}, {13, 20000}, {14, 16000},
		{15, 16000}, {16, 16000}, {17, 16000}, {18, 16000}, {19, 16000}, {20, 16000}, {24, 3000}, {28, 3000}, {36, 3000}, {48, 3000},
		{64, 2000}, {100, 4000}, {200, 2000}, {500, 1000},
	} {
		centre, next, own, err := distances(row.n, int(float64(row.groups)**effort))
		if err != nil {
			log.Fatal(err)
		}
		cs, cb := fit(centre, []float64{.5, .8, .9, .95, .975, .99})
		ns, nb := fit(next, []float64{.5, .8, .9, .95, .975, .99})
		os, ob := fit(own, []float64{.95, .975, .99, .995, .999})
		fmt.Printf("\t{%d, pareto{%.3f, %.3f}, pareto{%.3f, %.3f}, pareto{%.3f, %.3f}},\n", row.n, cs, cb, ns, nb, os, ob)
	}
}

func distances(n, groups int) (centre, next, own []float64, err error) {
	rng := rand.New(resample.NewStream(1, "study/mcdlimits", n))
	draw := func() dispersion.Point { return dispersion.Point{X: rng.NormFloat64(), Y: rng.NormFloat64()} }
	points := make([]dispersion.Point, n)
	for range groups {
		for i := range points {
			points[i] = draw()
		}
		g, err := dispersion.NewGroup(points)
		if err != nil {
			return nil, nil, nil, err
		}
		m, err := g.MCD(dispersion.MCDOptions{})
		if err != nil {
			return nil, nil, nil, err
		}
		away := func(p dispersion.Point) float64 {
			x, y := p.X-m.Centre.X, p.Y-m.Centre.Y
			return (m.Cov.YY*x*x - 2*m.Cov.XY*x*y + m.Cov.XX*y*y) / m.Cov.Det()
		}
		centre = append(centre, float64(n)*away(dispersion.Point{}))
		for range 4 {
			next = append(next, away(draw()))
		}
		for _, d := range m.Distances {
			own = append(own, d*d)
		}
	}
	return centre, next, own, nil
}

// fit tries every b on a fine grid; the best s for each is a mean.
func fit(values, levels []float64) (s, b float64) {
	slices.Sort(values)
	least := math.Inf(1)
	for step := range 2000 {
		tryB := math.Exp(float64(step)/200 - .7)
		var ratio []float64
		var mean float64
		for _, l := range levels {
			r := math.Log(values[int(l*float64(len(values)))] / (tryB * math.Expm1(-math.Log1p(-l)/tryB)))
			ratio = append(ratio, r)
			mean += r / float64(len(levels))
		}
		var loss float64
		for _, r := range ratio {
			loss += (r - mean) * (r - mean)
		}
		if loss < least {
			least, s, b = loss, math.Exp(mean), tryB
		}
	}
	return s, b
}
