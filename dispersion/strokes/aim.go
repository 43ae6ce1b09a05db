package strokes

import (
	"context"
	"fmt"

	"github.com/landfall-golf/landfall/dispersion"
)

// An Aim is where to aim with a pattern, and what that is worth.
type Aim struct {
	Surface  Surface
	Point    dispersion.Point // the best aim, metres of the view
	Expected float64          // strokes with the best aim

	// The extremes of the good aims, which cost at most Surface.Within more: they
	// are a region, of which Point is one.
	Left, Right, Short, Long float64

	// Straight is the aim at the flag, or where the aims that were looked at
	// do not reach it, as near as they come on the target line.
	Straight         dispersion.Point
	StraightExpected float64 // strokes with it
	Straightened     float64 // strokes with it if the bias were gone and the spread the same

	// Warnings: *[EdgeWarning].
	Warnings []error
}

// AimingSaves returns how many strokes the best aim saves over the straight one.
// A bias that is known can be aimed off entirely, so this is what fixing the
// bias saves and what choosing the safer side saves, together.
func (a Aim) AimingSaves() float64 { return a.StraightExpected - a.Expected }

// FixingSaves returns how many strokes a pupil saves who aims straight, if the
// bias is fixed and the spread stays. It is negative where the bias happens to
// lead away from trouble.
func (a Aim) FixingSaves() float64 { return a.StraightExpected - a.Straightened }

// An EdgeWarning tells that the best aim lies at the edge of those looked at, so
// that a better one may lie beyond.
type EdgeWarning struct {
	Point dispersion.Point
}

func (w *EdgeWarning) Error() string {
	return fmt.Sprintf("the best aim, side %.0f m and carry %.0f m, lies at the edge of the aims looked at: look farther", w.Point.X, w.Point.Y)
}

// BestAim returns the aim that costs least, with the whole region of good ones
// and with what aiming there and fixing the bias are worth.
//
// With the shots themselves the surface follows every one of them: with few
// shots the best point moves by metres from lesson to lesson, which
// [View.AimDoubt] shows, and looks better than it is. Read the region, not the
// point.
//
// Errors and cost: those of [View.Surface].
func (v *View) BestAim(ctx context.Context, p Pattern, o AimOptions) (Aim, error) {
	s, err := v.Surface(ctx, p, o)
	if err != nil {
		return Aim{}, err
	}
	i, j := s.Best()
	g := s.Grid
	a := Aim{Surface: s, Point: g.At(i, j), Expected: s.Expected(i, j)}
	a.Left, a.Right, a.Short, a.Long = s.goodExtremes()
	if g.Across > 1 && (i == 0 || i == g.Across-1) || g.Up > 1 && (j == 0 || j == g.Up-1) {
		a.Warnings = append(a.Warnings, &EdgeWarning{a.Point})
	}
	a.Straight = dispersion.Point{
		X: clamp(0, g.At(0, 0).X, g.At(g.Across-1, 0).X),
		Y: clamp(v.toFlag, g.At(0, 0).Y, g.At(0, g.Up-1).Y),
	}
	if a.StraightExpected, err = v.mean(ctx, p, a.Straight, g.Step); err != nil {
		return Aim{}, err
	}
	a.Straightened, err = v.mean(ctx, p.Straightened(), a.Straight, g.Step)
	return a, err
}

func clamp(v, low, high float64) float64 { return min(max(v, low), high) }

func (s Surface) goodExtremes() (left, right, short, long float64) {
	best := s.Grid.At(s.Best())
	left, right, short, long = best.X, best.X, best.Y, best.Y
	for at := range s.values {
		i, j := at%s.Grid.Across, at/s.Grid.Across
		if !s.Good(i, j) {
			continue
		}
		p := s.Grid.At(i, j)
		left, right = min(left, p.X), max(right, p.X)
		short, long = min(short, p.Y), max(long, p.Y)
	}
	return left, right, short, long
}
