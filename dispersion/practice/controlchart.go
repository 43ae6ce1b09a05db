package practice

import (
	"fmt"
	"math"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
)

// A WatchedShot is one landing point held against the pattern.
type WatchedShot struct {
	Point  dispersion.Point
	T2     float64 // squared distance from the centre in units of the pattern
	Signal bool    // T2 is above the limit

	// Side and Carry are how far the shot lies from the centre: to the right and
	// longer are positive. The other two say the same in standard deviations of
	// the pattern.
	Side, Carry     float64
	SideSD, CarrySD float64

	// Says explains a signal in the plane: "further left", "shorter", "longer",
	// "further right"; and "wider" where an earlier signal lies on the other side
	// of the centre. Nil without a signal.
	Says []string
}

// A ControlChart holds landing points against a pattern, ball by ball.
type ControlChart struct {
	Centre dispersion.Point // of the pattern: the mean of its shots
	Cov    dispersion.Cov

	// Pattern is the shots that the pattern was computed from, held against it
	// themselves (phase I). LimitI is exceeded by none of them in 95 of 100
	// patterns.
	Pattern []WatchedShot
	LimitI  float64

	// Watched is the shots after it (phase II), LimitII that of [LimitRunLength].
	Watched   []WatchedShot
	LimitII   float64
	RunLength int // balls that half of all unchanged practices go on for before a signal

	Warnings []error
}

const (
	defaultRunLength = 150 // three practices of 50 balls; our own choice, no source
	patternFalse     = 0.05
	usefulPattern    = 20 // shots from which the limit is within 30 % of that of a known pattern
)

// NewControlChart returns the chart of the watched shots against the pattern. With
// the pattern's mean x̄ and covariance S (divisor n-1),
//
//	T² = (x-x̄)ᵀ S⁻¹ (x-x̄)
//
// A pattern's own shot is a signal beyond [LimitPhaseI] at 1-0.95^(1/n), a later
// one beyond [LimitRunLength]. Run length 0 stands for 150 balls: in half of all
// practices without any change the first false signal comes later.
//
// A signal names what sets the shot apart. Each axis counts by what the shot's T²
// loses without it, and is named where that is a fifth of T² or more; where
// neither is, because the two hang together, both are. Two signals on opposite
// sides of the centre, (x-x̄)ᵀS⁻¹(y-x̄) < 0, say "wider".
//
// It assumes independent normal shots. Of shots with the tails of t(5), which is
// nearer to golf, half of all unchanged practices signal within 30 balls and not
// within 150 (docs/methods/practice.md), and shots that resemble the one before
// them signal sooner as well: one signal asks for a look at that ball, and only
// several that say the same speak of the swing. Leave mishits out of the pattern:
// one of them makes it so wide that nothing signals.
//
// Errors: [ErrMissing] for no pattern; *[dispersion.TooFewError] below ten
// shots; [dispersion.ErrDegenerate] for shots on one line; [ErrRunLength]; those
// of [dispersion.NewGroup] for a watched shot. Warnings: *[FewShotsWarning] below
// 20 shots. No watched shots make a chart of phase I alone. Deterministic.
//
// References: H. Hotelling, "Multivariate Quality Control", in C. Eisenhart et
// al., Techniques of Statistical Analysis, McGraw-Hill 1947; R. L. Mason, N. D.
// Tracy, J. C. Young, "Decomposition of T² for Multivariate Control Chart
// Interpretation", Journal of Quality Technology 27(2), 1995, pp. 99-108 (from
// memory).
func NewControlChart(pattern *dispersion.Group, watched []dispersion.Point, runLength int) (ControlChart, error) {
	if pattern == nil {
		return ControlChart{}, fmt.Errorf("practice: %w", ErrMissing)
	}
	if runLength == 0 {
		runLength = defaultRunLength
	}
	n := pattern.N()
	limit, err := LimitRunLength(n, runLength)
	if err != nil {
		return ControlChart{}, err
	}
	own, err := LimitPhaseI(n, -math.Expm1(math.Log1p(-patternFalse)/float64(n)))
	if err != nil {
		return ControlChart{}, err
	}
	if len(watched) > 0 {
		if _, err := dispersion.NewGroup(watched); err != nil {
			return ControlChart{}, fmt.Errorf("practice: watched shots: %w", err)
		}
	}
	c, err := centred(pattern)
	if err != nil {
		return ControlChart{}, err
	}
	c.LimitI, c.LimitII, c.RunLength = own, limit, runLength
	c.Pattern = c.hold(pattern.Points(), own)
	c.Watched = c.hold(watched, limit)
	if err := checkShots(append(c.Pattern[:n:n], c.Watched...)); err != nil {
		return ControlChart{}, err
	}
	if n < usefulPattern {
		c.Warnings = append(c.Warnings, &FewShotsWarning{n, usefulPattern, "a limit less than 1.3 times that of a known pattern"})
	}
	return c, nil
}

// centred returns a chart that knows the pattern's centre and covariance alone.
func centred(pattern *dispersion.Group) (ControlChart, error) {
	cov, err := pattern.Cov()
	if err != nil {
		return ControlChart{}, err
	}
	if !(cov.Det() > 1e-14*cov.XX*cov.YY) {
		return ControlChart{}, fmt.Errorf("practice: control chart: %w", dispersion.ErrDegenerate)
	}
	return ControlChart{Centre: pattern.Mean(), Cov: cov}, nil
}

func checkShots(shots []WatchedShot) error {
	for _, s := range shots {
		if err := checkFinite("control chart", s.T2, s.SideSD, s.CarrySD); err != nil {
			return err
		}
	}
	return nil
}

// hold holds points against the pattern, in the order hit.
func (c ControlChart) hold(points []dispersion.Point, limit float64) []WatchedShot {
	shots := make([]WatchedShot, len(points))
	var signals []WatchedShot
	for i, p := range points {
		s := WatchedShot{Point: p, Side: p.X - c.Centre.X, Carry: p.Y - c.Centre.Y}
		s.SideSD, s.CarrySD = s.Side/math.Sqrt(c.Cov.XX), s.Carry/math.Sqrt(c.Cov.YY)
		s.T2 = c.product(s, s)
		if s.Signal = s.T2 > limit; s.Signal {
			s.Says = c.explain(s, signals)
			signals = append(signals, s)
		}
		shots[i] = s
	}
	return shots
}

// product returns (x-x̄)ᵀ S⁻¹ (y-x̄).
func (c ControlChart) product(x, y WatchedShot) float64 {
	r := c.Cov.XY / math.Sqrt(c.Cov.XX) / math.Sqrt(c.Cov.YY)
	return (x.SideSD*y.SideSD - r*(x.SideSD*y.CarrySD+x.CarrySD*y.SideSD) + x.CarrySD*y.CarrySD) / (1 - r*r)
}

// explain says in which way a signal lies off, after the earlier ones.
func (c ControlChart) explain(s WatchedShot, earlier []WatchedShot) (says []string) {
	// What T² loses without an axis is T² less what the other axis gives alone.
	bySide, byCarry := s.T2-s.CarrySD*s.CarrySD, s.T2-s.SideSD*s.SideSD
	neither := max(bySide, byCarry) < s.T2/5
	if byCarry >= s.T2/5 || neither {
		says = append(says, either(s.Carry > 0, "longer", "shorter"))
	}
	if bySide >= s.T2/5 || neither {
		says = append(says, either(s.Side > 0, "further right", "further left"))
	}
	for _, e := range earlier {
		if c.product(s, e) < 0 {
			return append(says, "wider")
		}
	}
	return says
}

func either(first bool, word, other string) string {
	if first {
		return word
	}
	return other
}

// Signals returns the indices of the watched shots that signal.
func (c ControlChart) Signals() []int {
	var at []int
	for i, s := range c.Watched {
		if s.Signal {
			at = append(at, i)
		}
	}
	return at
}

// Sentence says what the watched shots show, for the pupil.
func (c ControlChart) Sentence() string {
	signals := c.Signals()
	if len(c.Watched) == 0 {
		return fmt.Sprintf("The pattern stands on %d balls; nothing was held against it yet.", len(c.Pattern))
	}
	if len(signals) == 0 {
		return fmt.Sprintf("None of these %d balls lies outside what the pattern lets expect.", len(c.Watched))
	}
	first := signals[0]
	s := fmt.Sprintf("Ball %d is the first that the pattern does not explain: %s.", first+1, strings.Join(c.Watched[first].Says, " and "))
	if more := len(signals) - 1; more > 0 {
		last := c.Watched[signals[more]]
		s += fmt.Sprintf(" There %s %d more, the last one %s.", either(more == 1, "is", "are"), more, strings.Join(last.Says, " and "))
	}
	return s + fmt.Sprintf(" Of normal shots without any change half of all practices go on for %d balls before such a ball; a wild ball now and then brings it sooner.", c.RunLength)
}
