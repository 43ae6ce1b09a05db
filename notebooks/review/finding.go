package review

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// NameCarryGainAll is the carry gain with the mishits: what the mean of all
// balls did.
const NameCarryGainAll = compare.NameCarryGain + "_all"

// Names are the effects of every pair, in the order in which they are told.
var Names = []string{
	compare.NameMishitRateChange,
	compare.NameCarryGain,
	NameCarryGainAll,
	compare.NameSideShift,
	compare.NameSpreadRatio,
	compare.NameAreaRatio,
	compare.NameAngleSpreadRatio,
}

// A Finding is one effect of one pair and what it allows to be said.
type Finding struct {
	Name    string
	Pair    lesson.Pair
	Effect  *compare.Effect  // nil where it can't be computed
	Verdict *compare.Verdict // nil where there is none

	// Ends is the gain against the old swing at both ends of the lesson, which
	// the verdict is then about; nil where it is about Effect itself.
	Ends *compare.Bookended

	// Warnings are those of the effect, and why there is no effect or no
	// verdict.
	Warnings []error
}

// Find computes one effect of a pair. What can't be computed is no error: the
// finding then has no effect and a warning that says why. An error is that of
// the context, or an unknown name.
func (r *Review) Find(ctx context.Context, p lesson.Pair, name string) (Finding, error) {
	f := Finding{Name: name, Pair: p}
	effect, err := r.effect(ctx, p.Before, p.After, name, r.options)
	if errors.Is(err, errUnknown) || ctx.Err() != nil {
		return Finding{}, errors.Join(err, ctx.Err())
	}
	if err != nil {
		f.Warnings = append(f.Warnings, err)
		return f, nil
	}
	f.Effect = &effect
	f.Warnings = append(f.Warnings, effect.Warnings...)
	if r.Lesson.Mirrored && name == compare.NameSideShift {
		f.Warnings = append(f.Warnings, errors.New(mirrored))
	}
	j := r.judge(ctx, p, name)
	switch {
	case ctx.Err() != nil:
		return Finding{}, ctx.Err()
	case j.err != nil:
		f.Warnings = append(f.Warnings, fmt.Errorf("no verdict: %s", plain(j.err)))
	default:
		f.Verdict, f.Ends = &j.verdict, j.ends
		for _, c := range j.verdict.Caveats {
			f.Warnings = append(f.Warnings, errors.New(c.String()))
		}
	}
	return f, nil
}

var errUnknown = errors.New("unknown effect")

func (r *Review) effect(ctx context.Context, before, after lesson.Group, name string, o compare.Options) (compare.Effect, error) {
	type comparison func(context.Context, *dispersion.Group, *dispersion.Group, compare.Options) (compare.Effect, error)
	clean := func(c comparison) (compare.Effect, error) {
		b, err := cleanOf(before)
		if err != nil {
			return compare.Effect{}, err
		}
		a, err := cleanOf(after)
		if err != nil {
			return compare.Effect{}, err
		}
		return c(ctx, b, a, o)
	}
	unit := string(r.Lesson.Unit)
	var e compare.Effect
	var err error
	switch name {
	case compare.NameMishitRateChange:
		return compare.MishitRateChange(before.Mishits(), len(before.Shots), after.Mishits(), len(after.Shots), o)
	case compare.NameCarryGain:
		e, err = clean(compare.CarryGain)
	case NameCarryGainAll:
		return compare.MeanGain(ctx, NameCarryGainAll, unit, carries(before), carries(after), o)
	case compare.NameSideShift:
		e, err = clean(compare.SideShift)
	case compare.NameSpreadRatio:
		return clean(compare.SpreadRatio)
	case compare.NameAreaRatio:
		return clean(compare.AreaRatio)
	case compare.NameAngleSpreadRatio:
		return clean(compare.AngleSpreadRatio)
	default:
		return compare.Effect{}, fmt.Errorf("review: %w %q: there are %s", errUnknown, name, strings.Join(Names, ", "))
	}
	e.Unit = unit
	return e, err
}

func cleanOf(g lesson.Group) (*dispersion.Group, error) {
	if g.Mishits() == len(g.Shots) {
		return nil, fmt.Errorf("%s has no clean shot", quoted(g.Stage.Name))
	}
	return g.Clean()
}

func carries(g lesson.Group) []float64 {
	all := make([]float64, len(g.Shots))
	for i, s := range g.Shots {
		all[i] = s.Carry
	}
	return all
}
