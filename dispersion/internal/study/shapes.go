package main

import (
	"math"
	"math/rand/v2"

	"github.com/landfall-golf/landfall/dispersion"
)

// A shape is a distribution of shots. All have the same body: standard
// deviations of 6 and 8 yards, correlation -0.3, around 2 yards right and 150
// of carry.
type shape struct {
	name string
	draw func(*rand.Rand) dispersion.Point
	// symmetric tells that the middle is a centre of symmetry, so that all
	// centres agree on it.
	symmetric bool
	// inflate is the factor from the covariance of the body to that of the
	// shots, where the shape is symmetric.
	inflate float64
	// short is by how much mishits shorten the mean carry.
	short float64
}

var (
	middle = dispersion.Point{X: 2, Y: 150}
	body   = dispersion.Cov{XX: 36, XY: -.3 * 6 * 8, YY: 64}
)

var shapes = []shape{
	{"normal", func(r *rand.Rand) dispersion.Point { return bodyShot(r, 1) }, true, 1, 0},
	{"t(5)", func(r *rand.Rand) dispersion.Point { return bodyShot(r, tails(r, 5)) }, true, 5.0 / 3, 0},
	{"t(3)", func(r *rand.Rand) dispersion.Point { return bodyShot(r, tails(r, 3)) }, true, 3, 0},
	{"10 % mishits", func(r *rand.Rand) dispersion.Point {
		p := bodyShot(r, 1)
		if r.Float64() < .1 {
			p.Y *= 1 - (.25 + .2*r.Float64()) // carries 25 to 45 % short
		}
		return p
	}, false, 0, .1 * .35 * 150},
}

func bodyShot(r *rand.Rand, stretch float64) dispersion.Point {
	u, v := r.NormFloat64(), r.NormFloat64()
	sx := math.Sqrt(body.XX)
	return dispersion.Point{
		X: middle.X + stretch*sx*u,
		Y: middle.Y + stretch*(body.XY/sx*u+math.Sqrt(body.YY-body.XY*body.XY/body.XX)*v),
	}
}

// tails returns what a normal shot is stretched by to be one of a t
// distribution with df degrees of freedom.
func tails(r *rand.Rand, df int) float64 {
	var chi2 float64
	for range df {
		z := r.NormFloat64()
		chi2 += z * z
	}
	return math.Sqrt(float64(df) / chi2)
}

// A truth is what the methods aim at.
type truth struct {
	mean, geometric, coordinatewise, deepest dispersion.Point
	radius                                   float64            // |Σ|^(1/4)
	circular                                 float64            // √(trace Σ / 2)
	sample                                   []dispersion.Point // shots by which to tell what share a region holds
}

// truthOf returns the truth about a shape, by its symmetry or from many shots.
func truthOf(s shape, seed uint64) (truth, error) {
	t, err := aims(s, seed)
	r := rand.New(rand.NewPCG(seed, 1))
	for range 4000 {
		t.sample = append(t.sample, s.draw(r))
	}
	return t, err
}

func aims(s shape, seed uint64) (truth, error) {
	if s.symmetric {
		c := dispersion.Cov{XX: body.XX * s.inflate, XY: body.XY * s.inflate, YY: body.YY * s.inflate}
		return truth{
			mean: middle, geometric: middle, coordinatewise: middle, deepest: middle,
			radius: math.Sqrt(c.SqrtDet()), circular: math.Sqrt((c.XX + c.YY) / 2),
		}, nil
	}
	const many, deep = 1_000_000, 2001 // depths take the square of the shots
	r := rand.New(rand.NewPCG(seed, 0))
	points := make([]dispersion.Point, many)
	for i := range points {
		points[i] = s.draw(r)
	}
	g, err := dispersion.NewGroup(points)
	if err != nil {
		return truth{}, err
	}
	c, err := g.Cov()
	if err != nil {
		return truth{}, err
	}
	t := truth{mean: g.Mean(), geometric: g.GeometricMedian().Point, radius: math.Sqrt(c.SqrtDet()), circular: math.Sqrt((c.XX + c.YY) / 2)}
	median, err := g.MedianCentre(.95)
	if err != nil {
		return truth{}, err
	}
	t.coordinatewise = median.Point
	// The deepest point, averaged over parts.
	const parts = 20
	for i := range parts {
		part, err := dispersion.NewGroup(points[i*deep : (i+1)*deep])
		if err != nil {
			return truth{}, err
		}
		m, err := part.TukeyMedian(.5)
		if err != nil {
			return truth{}, err
		}
		t.deepest.X += m.Point.X / parts
		t.deepest.Y += m.Point.Y / parts
	}
	return t, nil
}
