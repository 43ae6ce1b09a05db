package strokes

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A Law says how the next shots are taken to fall.
type Law int

const (
	// AsHit takes the shots themselves, each as likely as the other.
	AsHit Law = iota + 1
	// Normal is the bivariate normal law with the mean and covariance of the
	// shots.
	Normal
	// HeavyTailed is the bivariate t that fits the shots best. The likeliest scale
	// is a little small, by a tenth at five shots; that of Normal is not.
	HeavyTailed
)

var lawNames = [...]string{AsHit: "as hit", Normal: "normal", HeavyTailed: "heavy-tailed"}

// String returns the name of the law.
func (l Law) String() string {
	if l < AsHit || l > HeavyTailed {
		return fmt.Sprintf("Law(%d)", int(l))
	}
	return lawNames[l]
}

var (
	// ErrPattern is returned for numbers that make no pattern.
	ErrPattern = errors.New("a pattern needs a law, a unit of length, and a carry of 1 to 500 m in its middle; a stated one angles up to half a radian and shares up to one half")

	// ErrAsHit is returned where the shots themselves are needed.
	ErrAsHit = errors.New("this takes a pattern as hit, made of the shots themselves")
)

// A Pattern is where the shots of one club fall about the point that the player
// means to hit, in metres. That point is taken to lie on the target line, at the
// median carry: a side is an error, a carry only as far as it differs from the
// other carries. The zero value is no pattern; [NewPattern] and
// [StatedPattern] make one. It never changes.
type Pattern struct {
	law    Law
	carry  float64 // the median, metres
	middle float64 // median side: the bias
	n      int

	shots  []dispersion.Point // about the point meant, as hit; nil for a stated pattern
	centre dispersion.Point   // of the law, about the point meant
	scale  dispersion.Cov     // of the law
	df     float64            // +Inf for the normal law
}

// NewPattern returns the pattern of a group that was measured in a unit, all its
// shots counted: a mishit costs strokes too.
//
// Errors: [ErrMissing]; [ErrPattern]; for a law with a spread of its own those of
// [dispersion.Group.TFit], 3 shots and an area being enough for [Normal].
func NewPattern(g *dispersion.Group, unit lesson.Unit, law Law) (Pattern, error) {
	if g == nil {
		return Pattern{}, fmt.Errorf("strokes: a pattern: %w", ErrMissing)
	}
	p := Pattern{law: law, n: g.N(), shots: g.Points(), df: math.Inf(1)}
	sides, carries := make([]float64, p.n), make([]float64, p.n)
	for i, s := range p.shots {
		p.shots[i] = dispersion.Point{X: s.X * unit.Metres(), Y: s.Y * unit.Metres()}
		sides[i], carries[i] = p.shots[i].X, p.shots[i].Y
	}
	p.carry, p.middle = median(carries), median(sides)
	if law < AsHit || law > HeavyTailed || !(p.carry >= 1 && p.carry <= 500) {
		return Pattern{}, fmt.Errorf("strokes: %v, %.4g m, unit %q: %w", law, p.carry, string(unit), ErrPattern)
	}
	for i := range p.shots {
		p.shots[i].Y -= p.carry
	}
	if law == AsHit {
		return p, nil
	}
	about, err := dispersion.NewGroup(p.shots)
	if err != nil {
		return Pattern{}, fmt.Errorf("strokes: a pattern: %w", err)
	}
	if law == Normal {
		if _, err := about.PredictionEllipse(0.5); err != nil { // as for any area
			return Pattern{}, fmt.Errorf("strokes: a normal pattern: %w", err)
		}
		p.centre = about.Mean()
		p.scale, err = about.Cov()
		return p, err
	}
	t, err := about.TFit(0.95)
	if err != nil {
		return Pattern{}, fmt.Errorf("strokes: a heavy-tailed pattern: %w", err)
	}
	p.centre, p.scale, p.df = t.Centre.Point, t.Scale, t.DF
	return p, nil
}

// StatedPattern returns the normal pattern of a player described in numbers: a
// carry in metres, the standard deviation of the direction in radians, and that
// of the carry as a share of it. It has no bias.
//
// Errors: [ErrPattern].
func StatedPattern(carry, angle, share float64) (Pattern, error) {
	if !(carry >= 1 && carry <= 500 && angle > 0 && angle <= 0.5 && share > 0 && share <= 0.5) {
		return Pattern{}, fmt.Errorf("strokes: %g m, %g radians, share %g: %w", carry, angle, share, ErrPattern)
	}
	side := carry * math.Tan(angle)
	return Pattern{
		law: Normal, carry: carry, df: math.Inf(1),
		scale: dispersion.Cov{XX: side * side, YY: carry * share * carry * share},
	}, nil
}

// median returns the median of values that are there.
func median(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	return sorted[(n-1)/2]/2 + sorted[n/2]/2
}

// Law returns how the next shots are taken to fall.
func (p Pattern) Law() Law { return p.law }

// N returns how many shots the pattern was made of, 0 for a stated one.
func (p Pattern) N() int { return p.n }

// Carry returns the median carry in metres: how far the player means to hit.
func (p Pattern) Carry() float64 { return p.carry }

// Bias returns the median side in metres, right positive: how far beside the
// point that he means to hit the middle of the shots lies.
func (p Pattern) Bias() float64 { return p.middle }

// Shots returns where the shots fell about the point meant; nil for a stated
// pattern.
func (p Pattern) Shots() []dispersion.Point { return slices.Clone(p.shots) }

// Straightened returns the pattern with its spread as it is and its bias gone.
func (p Pattern) Straightened() Pattern {
	return p.mapped(1, -p.middle)
}

// Scaled returns the pattern at another carry, with the same spread in degrees
// and per cent. Errors: [ErrPattern].
func (p Pattern) Scaled(carry float64) (Pattern, error) {
	if p.law == 0 || !(carry >= 1 && carry <= 500) {
		return Pattern{}, fmt.Errorf("strokes: scaled to %g m: %w", carry, ErrPattern)
	}
	return p.mapped(carry/p.carry, 0), nil
}

// mapped returns the pattern with every length times f and then moved aside.
func (p Pattern) mapped(f, aside float64) Pattern {
	shots := p.shots
	p.shots = nil
	for _, s := range shots {
		p.shots = append(p.shots, dispersion.Point{X: s.X*f + aside, Y: s.Y * f})
	}
	p.carry *= f
	p.middle = p.middle*f + aside
	p.centre = dispersion.Point{X: p.centre.X*f + aside, Y: p.centre.Y * f}
	p.scale = dispersion.Cov{XX: p.scale.XX * f * f, XY: p.scale.XY * f * f, YY: p.scale.YY * f * f}
	return p
}
