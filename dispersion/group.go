package dispersion

import (
	"fmt"
	"slices"
)

// A Group is the landing points of one stage with one club, checked once and
// never changed. It is safe for concurrent use. The zero value has no shots, which
// is too few for anything.
type Group struct {
	points  []Point
	moments Moments
}

// NewGroup returns the group of the given points, which it copies.
//
// Errors: *[PointError] for the first point with a NaN, an infinity or a
// coordinate beyond [MaxCoordinate]; *[TooFewError] for no points at all.
func NewGroup(points []Point) (*Group, error) {
	if len(points) == 0 {
		return nil, tooFew(0, 1, "a group")
	}
	if err := checkPoints(points); err != nil {
		return nil, err
	}
	return &Group{points: slices.Clone(points), moments: momentsOf(points)}, nil
}

// N returns the number of shots.
func (g *Group) N() int { return len(g.points) }

// Points returns a copy of the landing points in the order hit.
func (g *Group) Points() []Point { return slices.Clone(g.points) }

// Moments returns the count, mean and centred sums of products of the group.
func (g *Group) Moments() Moments { return g.moments }

// Mean returns the mean landing point.
func (g *Group) Mean() Point { return g.moments.Mean }

// Cov returns the sample covariance, with divisor n-1. It fails with
// *[TooFewError] for a single shot.
func (g *Group) Cov() (Cov, error) { return g.moments.Cov() }

// solidCov returns the covariance where it has an area.
func (g *Group) solidCov(need int, what string) (Cov, error) {
	if g.N() < need {
		return Cov{}, tooFew(g.N(), need, what)
	}
	c, err := g.Cov()
	if err != nil {
		return Cov{}, err
	}
	if c.flat() {
		return Cov{}, fmt.Errorf("dispersion: %s of %s: %w", what, shots(g.N()), ErrDegenerate)
	}
	return c, nil
}
