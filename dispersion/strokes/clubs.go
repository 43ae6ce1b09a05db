package strokes

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// A Club is a club with its pattern.
type Club struct {
	Name    string
	Pattern Pattern
}

// A ClubAim is what one club costs from a place.
type ClubAim struct {
	Club     Club
	Aim      dispersion.Point // the best one at the carry of the club, metres of the view
	Expected float64          // strokes
	Straight float64          // strokes, aimed straight at the flag

	// Behind is what the first club gains on this one: strokes gained a shot of
	// the first, minus those of this. It is nil for the first itself and where
	// one of the two patterns has too few shots for it or is a stated one.
	Behind *compare.Effect
}

// CompareClubs returns the clubs from the one that costs least to the one that
// costs most, each with its best aim at its own carry: Left, Right, Step and
// Within of the options hold, Short and Long don't.
//
// The interval of Behind takes both aims as given. The first of several clubs
// is picked for being first, and so looks a little better than it is: where the
// interval holds 0 take either.
//
// Errors: [ErrMissing] for no clubs; those of [View.Surface] and of
// [compare.MeanGain], with the name of the club.
func (v *View) CompareClubs(ctx context.Context, clubs []Club, o AimOptions, c compare.Options) ([]ClubAim, error) {
	if len(clubs) == 0 {
		return nil, fmt.Errorf("strokes: no clubs: %w", ErrMissing)
	}
	var all []ClubAim
	for _, club := range clubs {
		if err := v.ready(ctx, club.Pattern); err != nil {
			return nil, fmt.Errorf("%w (club %q)", err, clip(club.Name))
		}
		o := o
		if o.Left == 0 && o.Right == 0 {
			o.Left, o.Right = -defaultAround, defaultAround
		}
		o.Short, o.Long = club.Pattern.carry, club.Pattern.carry
		a, err := v.BestAim(ctx, club.Pattern, o)
		if err != nil {
			return nil, fmt.Errorf("%w (club %q)", err, clip(club.Name))
		}
		all = append(all, ClubAim{Club: club, Aim: a.Point, Expected: a.Expected, Straight: a.StraightExpected})
	}
	slices.SortStableFunc(all, func(a, b ClubAim) int {
		switch {
		case a.Expected < b.Expected:
			return -1
		case a.Expected > b.Expected:
			return 1
		}
		return 0
	})
	for i := 1; i < len(all); i++ {
		e, err := v.behind(ctx, all[i], all[0], c)
		if err != nil {
			return nil, fmt.Errorf("%w (club %q)", err, clip(all[i].Club.Name))
		}
		all[i].Behind = e
	}
	return all, nil
}

func (v *View) behind(ctx context.Context, this, first ClubAim, c compare.Options) (*compare.Effect, error) {
	if min(len(this.Club.Pattern.shots), len(first.Club.Pattern.shots)) < 2 {
		return nil, nil
	}
	before, err := v.gained(this.Club.Pattern, this.Aim)
	if err != nil {
		return nil, err
	}
	after, err := v.gained(first.Club.Pattern, first.Aim)
	if err != nil {
		return nil, err
	}
	e, err := compare.MeanGain(ctx, NameClubGain, "strokes", before, after, c)
	if errors.Is(err, dispersion.ErrDegenerate) {
		return nil, nil
	}
	return &e, err
}
