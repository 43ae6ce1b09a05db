package main

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
)

// A method is one interval or region under study.
type method struct {
	name    string
	aims    string  // at what
	nominal float64 // share that it should hold; 0 where it promises none
	// try tells whether it holds what it aims at, given the next shot too, and
	// its width: an interval's length or the radius √(area/π) of a region.
	try func(g *dispersion.Group, t truth, next dispersion.Point) (holds bool, width float64, err error)
	// slowFrom is the number of shots from which it sees one group in
	// slowShare; 0 for never.
	slowFrom int
}

const slowShare = 10

const level = .95

var methods = []method{
	centre("MeanCentre", "true mean", (*dispersion.Group).MeanCentre, func(t truth) dispersion.Point { return t.mean }),
	centre("GeometricMedianCentre", "true geometric median", (*dispersion.Group).GeometricMedianCentre, func(t truth) dispersion.Point { return t.geometric }),
	centre("MedianCentre", "true coordinatewise median", (*dispersion.Group).MedianCentre, func(t truth) dispersion.Point { return t.coordinatewise }),
	slow(20, centre("MCDCentre", "true centre of the good shots", (*dispersion.Group).MCDCentre, func(truth) dispersion.Point { return middle })),
	centre("TFit", "true centre", func(g *dispersion.Group, level float64) (dispersion.Centre, error) {
		t, err := g.TFit(level)
		return t.Centre, err
	}, func(t truth) dispersion.Point { return t.geometric }),
	centre("TukeyMedian", "true Tukey median", (*dispersion.Group).TukeyMedian, func(t truth) dispersion.Point { return t.deepest }),
	nextShot("PredictionEllipse", level, func(g *dispersion.Group) (dispersion.Region, error) { return g.PredictionEllipse(level) }),
	nextShot("TEllipse", level, func(g *dispersion.Group) (dispersion.Region, error) { return g.TEllipse(level) }),
	{name: "ToleranceEllipse", aims: "90 % of all shots", nominal: level, try: tolerance},
	slow(20, nextShot("MCDEllipse", level, func(g *dispersion.Group) (dispersion.Region, error) { return g.MCDEllipse(level) })),
	nextShot("ConvexHull", 0, func(g *dispersion.Group) (dispersion.Region, error) { return g.ConvexHull(), nil }),
	nextShot("EnclosingCircle", 0, func(g *dispersion.Group) (dispersion.Region, error) { return g.EnclosingCircle() }),
	size("Radius", (*dispersion.Group).Radius, func(t truth) float64 { return t.radius }),
	size("CircularSigma", (*dispersion.Group).CircularSigma, func(t truth) float64 { return t.circular }),
}

func slow(from int, m method) method {
	m.slowFrom = from
	return m
}

func centre(name, aims string, f func(*dispersion.Group, float64) (dispersion.Centre, error), at func(truth) dispersion.Point) method {
	return method{name: name, aims: aims, nominal: level, try: func(g *dispersion.Group, t truth, _ dispersion.Point) (bool, float64, error) {
		c, err := f(g, level)
		if err != nil || c.Region == nil {
			return false, 0, noneIfUnanswerable(errors.Join(append(c.Warnings, err)...))
		}
		return c.Region.Contains(at(t)), radius(c.Region), nil
	}}
}

func nextShot(name string, nominal float64, f func(*dispersion.Group) (dispersion.Region, error)) method {
	return method{name: name, aims: "next shot", nominal: nominal, try: func(g *dispersion.Group, _ truth, next dispersion.Point) (bool, float64, error) {
		r, err := f(g)
		if err != nil {
			return false, 0, noneIfUnanswerable(err)
		}
		return r.Contains(next), radius(r), nil
	}}
}

// tolerance tells whether the ellipse for 90 % of all shots holds as many.
func tolerance(g *dispersion.Group, t truth, _ dispersion.Point) (bool, float64, error) {
	e, err := g.ToleranceEllipse(.9, level)
	if err != nil {
		return false, 0, noneIfUnanswerable(err)
	}
	held := 0
	for _, p := range t.sample {
		if e.Contains(p) {
			held++
		}
	}
	return 10*held >= 9*len(t.sample), radius(e), nil
}

func size(name string, f func(*dispersion.Group, float64) (dispersion.Size, error), of func(truth) float64) method {
	return method{name: name, aims: "true value", nominal: level, try: func(g *dispersion.Group, t truth, _ dispersion.Point) (bool, float64, error) {
		s, err := f(g, level)
		if err != nil {
			return false, 0, err
		}
		return s.Interval.Low <= of(t) && of(t) <= s.Interval.High, s.Interval.High - s.Interval.Low, nil
	}}
}

func radius(r dispersion.Region) float64 { return math.Sqrt(r.Area() / math.Pi) }

// errNone marks a method that has no answer for a group.
var errNone = errors.New("no answer")

// noneIfUnanswerable tells a group that a method rightly refuses from a fault:
// too few shots or, once in a thousand groups of three, nearly on one line.
func noneIfUnanswerable(err error) error {
	if errors.As(err, new(*dispersion.TooFewError)) || errors.Is(err, dispersion.ErrDegenerate) {
		return errNone
	}
	return err
}

// A cell is one line of the result.
type cell struct {
	method   string
	aims     string
	nominal  float64
	shape    string
	n        int
	groups   int     // simulated
	coverage float64 // share of groups that held what they should
	width    float64 // median, in yards
}

var counts = []int{3, 5, 8, 10, 20, 50}

func oneGroup(out string, seed uint64) error {
	cells, err := simulateShapes(seed, shapes, counts, 4000)
	if err != nil {
		return err
	}
	return report(out, seed, cells)
}

// simulateShapes tries every method on the same groups of every shape and count.
// Slow methods see a part of the groups.
func simulateShapes(seed uint64, shapes []shape, counts []int, groups int) ([]cell, error) {
	var cells []cell
	for si, s := range shapes {
		t, err := truthOf(s, seed)
		if err != nil {
			return nil, err
		}
		for _, n := range counts {
			fmt.Fprintf(os.Stderr, "one-group: %s, n = %d\n", s.name, n)
			r := rand.New(rand.NewPCG(seed, uint64(1000*(si+1)+n)))
			row := make([]tally, len(methods))
			points := make([]dispersion.Point, n)
			for round := range groups {
				for i := range points {
					points[i] = s.draw(r)
				}
				next := s.draw(r)
				g, err := dispersion.NewGroup(points)
				if err != nil {
					return nil, err
				}
				for i, m := range methods {
					if m.slowFrom > 0 && n >= m.slowFrom && round%slowShare != 0 {
						continue
					}
					if err := row[i].add(m.try(g, t, next)); err != nil {
						return nil, fmt.Errorf("%s on %s, n = %d: %w", m.name, s.name, n, err)
					}
				}
			}
			for i, m := range methods {
				if row[i].tries() == 0 {
					continue // no answer at this n
				}
				cells = append(cells, cell{
					method: m.name, aims: m.aims, nominal: m.nominal, shape: s.name, n: n, groups: row[i].tries(),
					coverage: float64(row[i].held) / float64(row[i].tries()), width: row[i].width(),
				})
			}
		}
	}
	return cells, nil
}

// A tally counts how often a method held what it should.
type tally struct {
	held   int
	widths []float64
}

func (t *tally) add(holds bool, width float64, err error) error {
	if err == errNone {
		return nil
	}
	if err != nil {
		return err
	}
	if holds {
		t.held++
	}
	t.widths = append(t.widths, width)
	return nil
}

func (t *tally) tries() int { return len(t.widths) }

func (t *tally) width() float64 {
	slices.Sort(t.widths)
	return t.widths[len(t.widths)/2]
}
