package review

import (
	"context"
	"fmt"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// headline returns what answers the first question for a headline pair: the
// carry gain of the clean shots, or that of all of them where the mishit rates
// differ, since then the clean shots alone would flatter one side.
func (r *Review) headline(ctx context.Context, p lesson.Pair) (f Finding, mixture bool, err error) {
	rate, err := r.Find(ctx, p, compare.NameMishitRateChange)
	if err != nil {
		return f, false, err
	}
	name := compare.NameCarryGain
	if mixture = rate.Effect != nil && compare.MishitsDiffer(*rate.Effect); mixture {
		name = NameCarryGainAll
	}
	f, err = r.Find(ctx, p, name)
	return f, mixture, err
}

// Evidence says, for each headline, what speaks for and against its gain: the old
// swing hit again, neighbouring balls that resemble each other, a stated shift of
// the device, one drift through the whole lesson, what was expected, and what the
// next practice needs.
func (r *Review) Evidence(ctx context.Context) ([]string, error) {
	var out []string
	for _, p := range r.Headlines() {
		f, _, err := r.headline(ctx, p)
		if err != nil {
			return nil, err
		}
		if f.Ends != nil {
			out = append(out, f.Ends.Sentence())
		}
		if gain := f.gain(); gain != nil {
			s, err := compare.SerialSentence(*gain)
			if err != nil {
				return nil, err
			}
			behind, err := r.device.gainSentence(*gain)
			if err != nil {
				return nil, err
			}
			out = append(append(out, s), behind...)
		}
		out = append(out, r.driftSentence(p)...)
		out = append(out, r.expectSentence(p, f)...)
		out = append(out, r.planSentence(p)...)
	}
	if out == nil {
		out = []string{"There are no two like stages, so there is no gain to weigh."}
	}
	return out, nil
}

// gain is the effect that the verdict of a finding is about; nil where there is
// no effect.
func (f Finding) gain() *compare.Effect {
	if f.Ends != nil {
		return &f.Ends.Gain
	}
	return f.Effect
}

// likeStages are the stages of a pair's club that are no drills.
func (r *Review) likeStages(p lesson.Pair) []Stage {
	var like []Stage
	for _, s := range r.Stages {
		if s.Club == p.Before.Club && s.Stage.Intent != lesson.Drill {
			like = append(like, s)
		}
	}
	return like
}

// driftSentence says whether one drift through the lesson does as well as the
// stages; nothing where that can't be told.
func (r *Review) driftSentence(p lesson.Pair) []string {
	var runs []compare.Run
	for _, s := range r.likeStages(p) {
		var run compare.Run
		for i, shot := range s.Shots {
			if !s.Mishit[i] {
				run.At = append(run.At, float64(shot.Ball))
				run.Values = append(run.Values, shot.Carry)
			}
		}
		if run.At != nil {
			runs = append(runs, run)
		}
	}
	d, err := compare.DriftOrStages("carry", string(r.Lesson.Unit), runs, r.options.Level)
	if err != nil {
		return nil
	}
	return []string{d.Sentence()}
}

// planSentence says what the next practice needs, from the spread of the clean
// shots within the like stages; nothing where too few were hit.
func (r *Review) planSentence(p lesson.Pair) []string {
	const power = 0.80
	smallest, err := r.smallest(compare.NameCarryGain, p)
	if err != nil {
		return nil
	}
	var values [][]float64
	fewest := 0
	for _, s := range r.likeStages(p) {
		values = append(values, s.Values("carry"))
		if n := len(values[len(values)-1]); fewest == 0 || n < fewest {
			fewest = n
		}
	}
	plan, err := compare.PlanCarry(values, smallest, power, r.options.Level)
	if err != nil {
		return nil
	}
	unit := string(r.Lesson.Unit)
	s := "For the next practice: " + lowerFirst(plan.Sentence(unit))
	if shows, err := compare.SmallestCarryShown(plan.SD, fewest, power, r.options.Level); err == nil {
		s += fmt.Sprintf(" %s a stage show a gain of %.0f %s or more, four times in five.", upperFirst(count(fewest, "ball")), shows, unit)
	}
	return []string{s}
}

// WorkedOn says which of the measured columns changed between the stages of the
// headlines: the check that the thing worked on moved at all, before any result.
// The more columns there are, the surer each has to be.
func (r *Review) WorkedOn(ctx context.Context) ([]string, error) {
	var out []string
	for _, p := range r.Headlines() {
		var moves []compare.Move
		var ps []float64
		for _, c := range r.Lesson.Columns {
			if !c.Numeric {
				continue
			}
			m, err := compare.Manipulation(ctx, Label(c.Name), c.Unit, p.Before.Values(c.Name), p.After.Values(c.Name), r.options)
			switch {
			case ctx.Err() != nil:
				return nil, ctx.Err()
			case err == nil: // else the table says what there is of it
				moves, ps = append(moves, m), append(ps, m.Effect.P)
			}
		}
		adjusted, err := compare.Holm(ps)
		if err != nil {
			return nil, err
		}
		seen := 0
		for i, m := range moves {
			if m.Kind == compare.Moved && adjusted[i] <= 1-r.options.Level {
				seen++
				out = append(out, pairName(p)+": "+m.Sentence())
			}
		}
		if len(moves) > 0 && seen == 0 {
			out = append(out, fmt.Sprintf("%s: of %s measured none can be seen to have changed, which so few balls may not show. If one of them is what was worked on, a gain may have come from somewhere else.", pairName(p), count(len(moves), "thing")))
		}
	}
	if out == nil {
		out = []string{"Nothing else was measured in two like stages, so whether the thing worked on changed can't be seen here."}
	}
	return out, nil
}
