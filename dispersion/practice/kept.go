package practice

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// A Question says what of a season is asked about. The zero value asks about the
// carry of a file without clubs.
type Question struct {
	Club   string
	Column string // as lesson.Shot.Value takes it; "" means carry

	// Session is the one whose first balls tell; "" means the last one that has
	// first balls of retention with this club.
	Session string

	// DaySD is how much days differ by themselves: the standard deviation of a
	// day's true mean, in the unit of the column, such as [FitMixed] finds from
	// [Season.Measured]. 0 leaves it out, with a warning.
	DaySD float64

	// Smallest is the smallest change worth having, in the unit of the column, and
	// LessIsBetter says which way is better: what a verdict needs, agreed on before
	// the balls are hit, such as those of the [Sheet]. 0 asks for none, as where
	// neither way is better.
	Smallest     float64
	LessIsBetter bool
}

// An Outcome is what a season says of a gain.
type Outcome string

// The outcomes, by intervals of one level. A first gain is one whose interval
// excludes 0; later balls still differ where that of [Keeping.Kept] excludes 0 on
// the same side, and have lost some where that of [Keeping.Since] excludes 0 on the
// other. That balls do not surely differ from the baseline is no loss yet: it takes
// less than half of the first gain, by [Keeping.ShareAtMost]. Half is our own
// choice, no source.
const (
	GainKept    Outcome = "kept"         // a first gain, and the later balls still differ from the baseline that way
	GainPartly  Outcome = "partly kept"  // that, and they have lost some of it
	GainLost    Outcome = "lost"         // a first gain, and the later balls have lost some, no longer differ that way, and surely hold less than half of it
	GainLater   Outcome = "came later"   // no sure first gain, and yet the later balls differ from the baseline
	GainUnclear Outcome = "can't tell"   // a first gain, and the later balls fit both kept and lost
	GainNone    Outcome = "none sure"    // neither the end of the session nor the later balls surely differ from the baseline
	GainUnseen  Outcome = "end not seen" // nobody looked at the end of the session: Kept stands alone
)

// A Keeping is what became of a gain.
type Keeping struct {
	Club, Column, Unit             string // whose shots, and what of them was compared
	Baseline, Immediate, Retention Balls  // what each mean is made of

	// First is what the session showed at its end, immediate minus baseline: that
	// is performance. HasFirst is false where no session that ended before retention has two
	// such balls: nobody looked, which is not the same as nothing there.
	First    compare.Effect
	HasFirst bool

	// Kept is retention minus baseline, first balls against first balls: what was
	// learned, the headline. Since is retention minus immediate, with HasFirst.
	Kept, Since compare.Effect

	// Share is Kept over First with Fieller's interval, with HasShare only: where
	// the interval of First excludes 0. Elsewhere read the differences.
	Share         float64
	ShareInterval dispersion.Interval
	HasShare      bool

	// ShareAtMost is the one-sided bound of the share at the level of the intervals,
	// with HasShare: the upper end of Fieller's interval at 2·level-1, such as 90 %.
	ShareAtMost float64

	// Taught is how many sessions with teaching lie between the one whose gain this is
	// and retention. What they added is in Kept, Since and Share too.
	Taught int

	Days    float64 // from the end of the teaching session, or of the baseline without one, to the first balls of retention
	Outcome Outcome

	// Verdict is that of [compare.Judge] on Kept, with HasVerdict only: where the
	// question says what is worth having. Else all three effects have NoBetter.
	Verdict    compare.Verdict
	HasVerdict bool

	Warnings []error
}

// Kept returns whether a gain is still there at the first balls of a later
// session: it compares the first balls of the baseline with those of delayed
// retention, both hit before any teaching, and so like with like. The gain seen
// at the end of the first session with balls of [Immediate] after the baseline is
// given beside it and is performance; that session has ended before the one of
// retention starts.
//
// All three differences are [compare.MeanGain] of the clean balls. With
// q.DaySD = σ those between days have the interval
//
//	gain ± t(ν)·√(se² + σ²·D)
//
//	D  1 + Σw²        of the kept gain, w being the share of the baseline's balls that a day has
//	   2              since the end of the session
//	   1 - 2w + Σw²   of the first gain, w being that of its own day: 0 with one day of baseline
//
// and no p. Without it they hold for these two days alone: days differ by
// themselves, and ten balls of one day can't show by how much. Simulated with
// 1,000 seasons of 10, 14 and 10 balls with σ a quarter of the spread of single
// shots, the 95 % interval of the kept gain holds it in 95 to 96 %, and in 86 to
// 88 % with σ left out.
//
// Beware of the intake. Pupils come when they are bad, so that the baseline is
// likely to be worse than they are, and part of any gain over it would have come
// without a lesson. No number here allows for that: [Keeping.Sentence] says so.
// More than one session before any teaching is the remedy.
//
// Errors: [ErrMissing] for a nil context or season; *[PhaseError] where there are
// no balls of the baseline, or of retention, with this club: a pupil who has
// changed clubs in between can't be compared; *[ValueError] for a DaySD below 0, not
// finite or beyond [dispersion.MaxCoordinate]; those of [compare.MeanGain], so *[dispersion.TooFewError] for a
// single ball; with a smallest change those of [compare.Judge], which takes 4. Warnings: [ErrDays], [ErrMishits] where how often the ball was
// mishit changed as well, [ErrSession] where one side has fewer than ten balls, or
// the end of the session a single one, [ErrTaught] where teaching went on in
// between, as it did wherever retention is not the next session.
//
// References: N. C. Soderstrom, R. A. Bjork, "Learning Versus Performance",
// Perspectives on Psychological Science 10(2), 2015, pp. 176-199; for the share
// E. C. Fieller, "Some Problems in Interval Estimation", Journal of the Royal
// Statistical Society B 16(2), 1954, pp. 175-185.
func Kept(ctx context.Context, s *Season, q Question, o compare.Options) (Keeping, error) {
	if ctx == nil || s == nil {
		return Keeping{}, fmt.Errorf("practice: %w", ErrMissing)
	}
	level, err := checkLevel(o.Level)
	if err != nil {
		return Keeping{}, err
	}
	o.Level = level
	if !(q.DaySD >= 0 && q.DaySD <= dispersion.MaxCoordinate) {
		return Keeping{}, fmt.Errorf("practice: spread between days: %w", &ValueError{0, q.DaySD, "give a standard deviation from 0 up that can be squared"})
	}
	if q.Column == "" {
		q.Column = "carry"
	}
	baseline, immediate, retention, err := s.find(q)
	if err != nil {
		return Keeping{}, fmt.Errorf("practice: %w", err)
	}
	k := Keeping{
		Club: q.Club, Column: q.Column, Unit: unitOf(s.Sessions[0].Lesson, q.Column),
		Baseline: baseline.balls(s), Immediate: immediate.balls(s), Retention: retention.balls(s), HasFirst: len(immediate.values) > 1,
	}
	b, i, r := baseline.values, immediate.values, retention.values
	if k.Kept, err = compare.MeanGain(ctx, "kept_gain", k.Unit, b, r, o); err != nil {
		return Keeping{}, err
	}
	days := weightsOf(baseline, immediate, q.DaySD)
	k.Kept = betweenDays(q.better(k.Kept), days.kept())
	from, teacher := baseline.end, baseline.sessions
	if k.HasFirst {
		from, teacher = immediate.end, immediate.sessions
		if k.First, err = compare.MeanGain(ctx, "first_gain", k.Unit, b, i, o); err != nil {
			return Keeping{}, err
		}
		k.First = betweenDays(q.better(k.First), days.first())
		if k.Since, err = compare.MeanGain(ctx, "change_since", k.Unit, i, r, o); err != nil {
			return Keeping{}, err
		}
		k.Since = betweenDays(q.better(k.Since), days.since())
		if excludes(k.First, 0) {
			k.Share, k.ShareInterval, k.HasShare = keptShare(summarise(b), summarise(i), summarise(r), days, level)
			_, oneSided, _ := keptShare(summarise(b), summarise(i), summarise(r), days, max(0, 2*level-1))
			k.ShareAtMost = oneSided.High
		}
	}
	k.Days = retention.start.Sub(from).Hours() / 24
	k.Taught = s.taught(teacher[len(teacher)-1], retention.sessions[0])
	k.Outcome = k.outcome()
	if q.Smallest != 0 {
		if k.Verdict, err = compare.Judge(k.Kept, q.Smallest); err != nil {
			return Keeping{}, err
		}
		k.Verdict.MoreBalls = 0 // more balls of two days do not make days alike
		k.HasVerdict = true
	}
	k.Warnings = k.warnings(q)
	return k, nil
}

// better says of a gain which way is better, if the question does.
func (q Question) better(e compare.Effect) compare.Effect {
	e.NoBetter, e.LessIsBetter = q.Smallest == 0, q.Smallest != 0 && q.LessIsBetter
	return e
}

// betweenDays widens the interval of a gain by the variance that days put into it.
func betweenDays(e compare.Effect, variance float64) compare.Effect {
	if variance == 0 {
		return e
	}
	t := tQuantile(e.Interval.Level, e.DF)
	half := t * math.Hypot((e.Interval.High-e.Interval.Low)/2/t, math.Sqrt(variance))
	e.Interval.Low, e.Interval.High = e.Estimate-half, e.Estimate+half
	e.Method = "difference of means; Welch-Satterthwaite interval, the spread between days as given"
	e.P, e.PFloor, e.HasP, e.Resamples = 0, 0, false, 0
	return e
}

// excludes tells whether the interval lies on one side of a value.
func excludes(e compare.Effect, v float64) bool { return e.Interval.Low > v || e.Interval.High < v }

func (k Keeping) outcome() Outcome {
	there := excludes(k.Kept, 0)
	if !k.HasFirst {
		return GainUnseen
	}
	if !excludes(k.First, 0) {
		if there {
			return GainLater
		}
		return GainNone
	}
	same := k.Kept.Estimate*k.First.Estimate > 0
	fell := excludes(k.Since, 0) && k.Since.Estimate*k.First.Estimate < 0
	switch {
	case there && same && fell:
		return GainPartly
	case there && same:
		return GainKept
	case fell && k.HasShare && k.ShareAtMost < 0.5:
		return GainLost
	}
	return GainUnclear
}

func (k Keeping) warnings(q Question) []error {
	var all []error
	if q.DaySD == 0 {
		all = append(all, warning(ErrDays, "the intervals between days hold for these days alone: give how much days differ by themselves"))
	}
	for _, b := range []Balls{k.Baseline, k.Retention} {
		if b.N < firstBalls {
			all = append(all, warning(ErrSession, "%s has %d first balls that count, and not %d", b.Phase, b.N, firstBalls))
		}
	}
	if k.Taught > 0 {
		all = append(all, warning(ErrTaught, "%s with teaching between, so that what was kept of the first gain and what was added can't be told apart: ask about the first balls of the next session", sessions(k.Taught)))
	}
	if k.Immediate.N == 1 {
		all = append(all, warning(ErrSession, "the session's end has 1 ball that counts, and it takes 2 to compare it"))
	}
	e, err := compare.MishitRateChange(k.Baseline.Mishits, k.Baseline.N+k.Baseline.Mishits, k.Retention.Mishits, k.Retention.N+k.Retention.Mishits, compare.Options{})
	if err == nil && compare.MishitsDiffer(e) {
		all = append(all, warning(ErrMishits, "%d of %d balls were mishit at the baseline and %d of %d at retention: the means are of the others alone",
			k.Baseline.Mishits, k.Baseline.N+k.Baseline.Mishits, k.Retention.Mishits, k.Retention.N+k.Retention.Mishits))
	}
	return all
}
