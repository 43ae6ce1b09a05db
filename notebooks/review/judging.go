package review

import (
	"context"
	"slices"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A judged is the verdict on one effect of one pair, with what it was held
// against.
type judged struct {
	verdict compare.Verdict
	ends    *compare.Bookended // of a gain held against the old swing at both ends; nil otherwise
	err     error              // why there is none
}

// judge says what an effect of the pair allows. The carry gain of a headline
// stands as it is; all else was also seen and has to be surer, the more so the
// more there is.
func (r *Review) judge(ctx context.Context, p lesson.Pair, name string) judged {
	own := r.alone(ctx, p, name)
	if own.err != nil || p.Headline && question(name) == compare.NameCarryGain {
		return own
	}
	family := []compare.Verdict{own.verdict}
	at := r.place(p)
	for i, other := range r.Pairs {
		if other.Before.Club != p.Before.Club {
			continue
		}
		for _, q := range questions {
			same := i == at && q == question(name)
			if same || other.Headline && q == compare.NameCarryGain {
				continue
			}
			if q == question(name) {
				q = name // the same answer to it in all pairs
			}
			if j := r.alone(ctx, other, q); j.err == nil {
				family = append(family, j.verdict)
			}
		}
	}
	seen, err := compare.AlsoSeen(family)
	if err != nil {
		return judged{err: err}
	}
	own.verdict = seen[0]
	return own
}

// questions are what every pair is asked, by the effect that answers first; how
// many looks there were is counted in questions, not in ways to answer them.
var questions = []string{compare.NameMishitRateChange, compare.NameCarryGain, compare.NameSpreadRatio}

func question(name string) string {
	switch name {
	case NameCarryGainAll:
		return compare.NameCarryGain
	case compare.NameAreaRatio, compare.NameAngleSpreadRatio:
		return compare.NameSpreadRatio
	}
	return name
}

// place is where a pair stands among those of the review; -1 for one of
// somebody's own.
func (r *Review) place(p lesson.Pair) int {
	return slices.IndexFunc(r.Pairs, func(o lesson.Pair) bool {
		return o.Before.Stage.Name == p.Before.Stage.Name && o.After.Stage.Name == p.After.Stage.Name && o.Before.Club == p.Before.Club
	})
}

// alone is the verdict on one effect as if nothing else had been looked at. It is
// worked out once for the pairs of the review.
func (r *Review) alone(ctx context.Context, p lesson.Pair, name string) judged {
	type key struct {
		place int
		name  string
	}
	k := key{r.place(p), name}
	if j, ok := r.judgements.Load(k); ok {
		return j.(judged)
	}
	j := r.workOut(ctx, p, name)
	if k.place >= 0 && ctx.Err() == nil {
		r.judgements.Store(k, j)
	}
	return j
}

// workOut judges an effect. A gain over the first stage must hold against the
// old swing at the end too, if that was hit; without that, no verdict exceeds
// "probably".
func (r *Review) workOut(ctx context.Context, p lesson.Pair, name string) judged {
	smallest, err := r.smallest(name, p)
	if err != nil {
		return judged{err: err}
	}
	bookend := p.Bookend != nil && r.isFirst(p.Before)
	if bookend && question(name) == compare.NameCarryGain {
		if ends, err := r.ends(ctx, p, name); err == nil {
			v, err := ends.Judge(smallest)
			return judged{v, &ends, err}
		}
	}
	v, err := r.verdict(ctx, p.Before, p.After, name, smallest)
	switch {
	case err != nil:
		return judged{err: err}
	case p.After.Stage.Bookend:
		return judged{verdict: v} // the old swing is the question here, not the witness
	case p.Bookend == nil:
		return judged{verdict: v.WithoutBookend()}
	case !bookend:
		return judged{verdict: v}
	}
	atEnd, err := r.verdict(ctx, *p.Bookend, p.After, name, smallest)
	if err != nil { // too few balls at the end to witness anything
		return judged{verdict: v.WithThinBookend()}
	}
	v, err = v.MoreCautious(atEnd)
	return judged{verdict: v, err: err}
}

// ends holds a carry gain against the old swing at both ends of the lesson.
func (r *Review) ends(ctx context.Context, p lesson.Pair, name string) (compare.Bookended, error) {
	values := func(g lesson.Group) []float64 { return g.Values("carry") }
	if name == NameCarryGainAll {
		values = carries
	}
	return compare.BookendGain(ctx, name, string(r.Lesson.Unit), values(p.Before), values(p.After), values(*p.Bookend), r.options)
}

func (r *Review) verdict(ctx context.Context, before, after lesson.Group, name string, smallest float64) (compare.Verdict, error) {
	e, err := r.effect(ctx, before, after, name, r.options)
	if err != nil {
		return compare.Verdict{}, err
	}
	if name != compare.NameSpreadRatio {
		return compare.Judge(e, smallest)
	}
	area, err := r.effect(ctx, before, after, compare.NameAreaRatio, r.options)
	if err != nil {
		return compare.Verdict{}, err
	}
	return compare.JudgeSpread(e, area, smallest)
}

// isFirst tells whether g opens the comparisons of its club: whether it is the
// old swing that a bookend returns to.
func (r *Review) isFirst(g lesson.Group) bool {
	for _, p := range r.Headlines() {
		if p.Before.Club == g.Club {
			return p.Before.Stage.Name == g.Stage.Name
		}
	}
	return false
}

// smallest returns the smallest change worth having, set by the first stage so
// that it is the same at both ends of the lesson.
func (r *Review) smallest(name string, p lesson.Pair) (float64, error) {
	switch name {
	case compare.NameMishitRateChange:
		return compare.SmallestMishitRate, nil
	case compare.NameCarryGain, NameCarryGainAll:
		perYard := 0.9144 / r.Lesson.Unit.Metres()
		return compare.SmallestCarry(summary(p.Before.Values("carry")).Mean, perYard)
	case compare.NameSideShift:
		return 0, compare.ErrNoBetter
	}
	return compare.SmallestSpread, nil
}
