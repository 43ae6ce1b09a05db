package archive

import (
	"context"
	"fmt"
	"math"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// Pool streams the totals of the pupils that a query selects and pools a
// statistic of each pupil's clean shots, such as [MeanCarry]: see the function
// [Pool]. It is for one club, in any case, in one unit, and for sessions that are
// all mirrored or none.
//
// Errors: the first of [Archive.Totals], so that no pupil is left out for a
// damaged file; [ErrMixed]; a *[PupilError] for what
// the statistic says, as of a pupil with too few shots; those of the function Pool.
// Warnings: those of the function, and [lesson.ErrMirrored].
func (a *Archive) Pool(ctx context.Context, q Query, statistic func(dispersion.Moments) (float64, error), o compare.Options) (Pooled, error) {
	if statistic == nil {
		return Pooled{}, fmt.Errorf("archive: %w", ErrMissing)
	}
	var values []PupilValue
	var first Total
	var shots int64
	for t, err := range a.Totals(ctx, q) {
		if err != nil {
			return Pooled{}, err
		}
		if values == nil {
			first = t
		}
		if t.Unit != first.Unit || !strings.EqualFold(t.Club, first.Club) {
			return Pooled{}, fmt.Errorf("archive: %q in %s and %q in %s: %w", first.Club, first.Unit, t.Club, t.Unit, ErrMixed)
		}
		if t.Mirrored != first.Mirrored {
			return Pooled{}, fmt.Errorf("archive: right and left are exchanged for pupil %q or pupil %q and not for both: %w", first.Pupil, t.Pupil, ErrMixed)
		}
		v, err := statistic(t.Clean.Moments)
		if err != nil {
			return Pooled{}, fmt.Errorf("archive: %w", &PupilError{t.Pupil, err})
		}
		values = append(values, PupilValue{t.Pupil, v})
		shots += t.Clean.Moments.N
	}
	p, err := Pool(ctx, values, o)
	if err != nil {
		return Pooled{}, err
	}
	p.Shots, p.Unit, p.Mirrored = shots, first.Unit, first.Mirrored
	if p.Mirrored {
		p.Warnings = append(p.Warnings, fmt.Errorf("%w: right and left are exchanged in all of these sessions", lesson.ErrMirrored))
	}
	return p, nil
}

// MeanCarry returns the mean carry of a pupil's shots.
func MeanCarry(m dispersion.Moments) (float64, error) { return m.Mean.Y, atLeastOne(m) }

// MeanSide returns the mean side of a pupil's shots.
func MeanSide(m dispersion.Moments) (float64, error) { return m.Mean.X, atLeastOne(m) }

// Radius returns the radius of the one-sigma circle of a pupil's shots, the
// fourth root of the determinant of their covariance.
func Radius(m dispersion.Moments) (float64, error) {
	c, err := m.Cov()
	if err != nil {
		return 0, err
	}
	det := float64(c.XX*c.YY) - float64(c.XY*c.XY)
	if !(det > 0) {
		return 0, dispersion.ErrDegenerate
	}
	return math.Sqrt(math.Sqrt(det)), nil
}

func atLeastOne(m dispersion.Moments) error {
	if m.N == 0 {
		return &dispersion.TooFewError{Have: 0, Need: 1, For: "a mean"}
	}
	return nil
}
