package strokes

import (
	"context"
	"fmt"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// NameWider is the name of the effect of [WiderOnCourse].
const NameWider = "course_over_bay"

// Relative returns the shots of a group relative to the distance that was meant,
//
//	(side/meant, carry/meant - 1)
//
// so that shots at targets near and far count alike, in radians and shares. What
// was meant is the shot's target_carry, and its target_side for the side; without
// one, the median carry of the group and the target line. All shots count,
// mishits too. The unit is that of the lesson's carry and side.
//
// Errors: [ErrMissing] for no shots; *[TargetError].
func Relative(g lesson.Group, unit lesson.Unit) (*dispersion.Group, error) {
	if len(g.Shots) == 0 {
		return nil, fmt.Errorf("strokes: shots relative to their targets: %w", ErrMissing)
	}
	carries := make([]float64, len(g.Shots))
	for i, s := range g.Shots {
		carries[i] = s.Carry
	}
	usual := median(carries)
	points := make([]dispersion.Point, len(g.Shots))
	for i, s := range g.Shots {
		meant, ok := target(s, "target_carry", unit)
		if !ok {
			meant = usual
		}
		side, _ := target(s, "target_side", unit)
		if !(meant > 0) {
			return nil, fmt.Errorf("strokes: %w", &TargetError{Line: s.Line, Carry: meant})
		}
		points[i] = dispersion.Point{X: (s.Side - side) / meant, Y: s.Carry/meant - 1}
	}
	relative, err := dispersion.NewGroup(points)
	if err != nil {
		return nil, fmt.Errorf("strokes: shots relative to their targets: %w", err)
	}
	return relative, nil
}

// A TargetError names a shot whose target is no distance to hit. It is always
// returned as *TargetError, wrapped.
type TargetError struct {
	Line  int     // of the file, as for lesson.Shot
	Carry float64 // the target, as recorded
}

func (e *TargetError) Error() string {
	return fmt.Sprintf("line %d: %g is no distance to hit: write how far the ball was meant to carry", e.Line, e.Carry)
}

// target returns a column of the target in the unit of the shot.
func target(s lesson.Shot, column string, unit lesson.Unit) (float64, bool) {
	if v, ok := s.Value(column); ok {
		return v, true
	}
	for _, u := range lengthUnits {
		if v, ok := s.Value(column + "_" + string(u)); ok {
			return v * u.Metres() / unit.Metres(), true
		}
	}
	return 0, false
}

// WiderOnCourse returns by what factor a pattern is wider on the course than in
// the bay: [compare.SpreadRatio] of the two groups, both made by [Relative].
// Before is the bay, After the course.
//
// It compares spread, not bias. Wind, slopes, lies and doubt about what was meant
// go into the course's: the factor says how much wider it is out there, not why.
//
// Errors and warnings: those of [compare.SpreadRatio].
func WiderOnCourse(ctx context.Context, bay, course *dispersion.Group, o compare.Options) (compare.Effect, error) {
	e, err := compare.SpreadRatio(ctx, bay, course, o)
	if err != nil {
		return compare.Effect{}, err
	}
	e.Name = NameWider
	return e, nil
}
