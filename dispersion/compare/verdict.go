package compare

import (
	"fmt"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
)

// A VerdictKind is one of the five things that an effect allows to be said.
type VerdictKind int

// Of C, the confidence that the gain exceeds the smallest change worth having:
const (
	CantTell    VerdictKind = iota // none of the others
	WorthHaving                    // C is at least 97.5 %
	Probably                       // C is at least 80 %
	NoGainWorth                    // the whole 95 % interval lies below the smallest change worth having
	Worse                          // the confidence that the loss exceeds that change is at least 97.5 %
)

// A Caveat is a reason to trust a verdict less.
type Caveat int

const (
	// NoBookend: there was no return to the old swing at the end, so warm-up,
	// practice and fatigue ride along.
	NoBookend Caveat = iota
	// WildBalls: the two ways of measuring spread lead to different verdicts,
	// so the answer may rest on one or two wild balls.
	WildBalls
	// ThinBookend: the old swing was hit again at the end, with too few balls to
	// witness anything.
	ThinBookend
	// Drifted: the old swing itself moved so much that the answer depends on the
	// end of the lesson that the new one is held against.
	Drifted
	// OneOfSeveral: the verdict was weakened because several were looked at.
	OneOfSeveral
)

// A Verdict is what an effect allows to be said about a gain.
type Verdict struct {
	Kind            VerdictKind // the verdict itself
	Confidence      float64     // C: one-sided, that the gain exceeds Smallest
	ConfidenceWorse float64     // one-sided, that the loss exceeds Smallest
	Smallest        float64     // the smallest change worth having, as given to Judge
	Effect          Effect      // of two effects judged together, the first

	// Fits is the interval of the effect, that of the radius for an area. Of two
	// effects judged together it reaches from the lower low to the higher high.
	Fits dispersion.Interval

	// MoreBalls is how many more balls of each stage would settle it, from
	// today's spread: with so many, a lesson in which nothing has changed has
	// four chances in five to show "no gain worth having", and one in which
	// twice the smallest change was gained to show "worth having". It is 0
	// where the verdict is settled or more balls are not what is missing.
	MoreBalls int

	Caveats []Caveat // what keeps it from saying more; nil for none
}

// WithoutBookend returns the verdict as it stands when the lesson had no return
// to the old swing at its end: never above "probably", with the caveat
// [NoBookend]. A loss stays a loss, with the same caveat.
func (v Verdict) WithoutBookend() Verdict { return v.capped(NoBookend) }

// WithThinBookend returns the verdict as it stands when the return to the old
// swing had too few balls: never above "probably", like [Verdict.WithoutBookend],
// with the caveat [ThinBookend].
func (v Verdict) WithThinBookend() Verdict { return v.capped(ThinBookend) }

func (v Verdict) capped(why Caveat) Verdict {
	if v.Kind == WorthHaving {
		v.Kind = Probably
	}
	return v.withCaveat(why)
}

func (v Verdict) withCaveat(c Caveat) Verdict {
	if !slices.Contains(v.Caveats, c) {
		// A new slice: verdicts are copied by value and must not share this one.
		v.Caveats = append(slices.Clone(v.Caveats), c)
	}
	return v
}

// MoreCautious returns the verdict that both v and o allow: a gain must hold
// against the old swing at the start and at the end, and a spread by both ways
// of measuring it. It is a verdict of a gain, of no gain or of a loss only where
// both agree on that; then it is the weaker of the two, else "can't tell".
// Confidences are the smaller ones, Fits covers both intervals, MoreBalls is
// the larger number. The effect is that of v.
//
// Errors: [ErrUnlike] where the smallest changes worth having or the levels
// differ, or one is about a gain and the other about a ratio, or less is better
// in one alone.
func (v Verdict) MoreCautious(o Verdict) (Verdict, error) {
	if v.Smallest != o.Smallest || v.Fits.Level != o.Fits.Level || v.Effect.Null != o.Effect.Null || v.Effect.LessIsBetter != o.Effect.LessIsBetter {
		return Verdict{}, fmt.Errorf("compare: %s and %s: %w", v.Effect.Name, o.Effect.Name, ErrUnlike)
	}
	both := v
	both.Kind = weaker(v.Kind, o.Kind)
	both.Confidence = min(v.Confidence, o.Confidence)
	both.ConfidenceWorse = min(v.ConfidenceWorse, o.ConfidenceWorse)
	both.Fits.Low, both.Fits.High = min(v.Fits.Low, o.Fits.Low), max(v.Fits.High, o.Fits.High)
	both.MoreBalls = 0
	if both.Kind.open() {
		both.MoreBalls = max(v.MoreBalls, o.MoreBalls)
	}
	for _, c := range o.Caveats {
		both = both.withCaveat(c)
	}
	return both, nil
}

// open tells whether more balls could say more.
func (k VerdictKind) open() bool { return k == CantTell || k == Probably }

// weaker returns what both kinds allow to be said.
func weaker(a, b VerdictKind) VerdictKind {
	pair := func(x, y VerdictKind) bool { return a == x && b == y || a == y && b == x }
	switch {
	case a == b:
		return a
	case pair(WorthHaving, Probably):
		return Probably
	case pair(Worse, NoGainWorth): // worse is also no gain
		return NoGainWorth
	}
	return CantTell
}
