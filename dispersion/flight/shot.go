package flight

import (
	"fmt"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A Shot is one struck ball with what a device measured of it. The zero value of
// what comes after Side means that it was not measured; a start line or a tilt
// that is 0 for every shot counts as not measured too.
type Shot struct {
	Launch
	Carry, Side float64 // where it landed, m
	Apex        float64 // m above where it lay
	Descent     float64 // radians below level
	ClubSpeed   float64 // m/s
}

// Curve returns how far the ball landed to the right of its start line, in
// metres: side - carry·tan(start line).
func (s Shot) Curve() float64 { return s.Side - s.Carry*math.Tan(s.Direction) }

// startLines tells whether the start lines of some shots were measured.
func startLines(shots []Shot) bool {
	return slices.ContainsFunc(shots, func(s Shot) bool { return s.Direction != 0 })
}

// mostStart is how far a shot may start off line, in degrees: its curve is counted
// from a start line that has to reach as far as the ball.
const mostStart = 45

// check tells whether a shot can be reckoned with.
func (s Shot) check() error {
	if err := s.Launch.check(); err != nil {
		return err
	}
	for _, err := range []error{
		within("start line of a shot", s.Direction/Degree, -mostStart, mostStart, "degrees"),
		within("carry", s.Carry, 0, 600, "m"),
		within("side", s.Side, -600, 600, "m"),
		within("apex", s.Apex, 0, 300, "m"),
		within("descent", s.Descent/Degree, -90, 90, "degrees"),
		within("club speed", s.ClubSpeed, 0, 100, "m/s"),
	} {
		if err != nil {
			return err
		}
	}
	return nil
}

// checkShots checks shots and how many there are.
func checkShots(shots []Shot, need int, what string) error {
	if len(shots) < need {
		return tooFew(len(shots), need, what)
	}
	for i, s := range shots {
		if err := s.check(); err != nil {
			return &ShotError{Index: i, Err: err}
		}
	}
	return nil
}

// A ShotError says which shot can't be reckoned with, and why. It is always
// returned as *ShotError.
type ShotError struct {
	Index int // from 0
	Err   error
}

func (e *ShotError) Error() string { return fmt.Sprintf("shot %d: %v", e.Index+1, e.Err) }
func (e *ShotError) Unwrap() error { return e.Err }

// Measured are the shots of a group that a flight can be reckoned for.
type Measured struct {
	Shots []Shot
	At    []int // where each is in the shots given

	// Left says why the others were left out, by their place in the shots given.
	Left map[int]string
}

// ShotsOf reads what is needed of a lesson's shots: the columns ball_speed,
// launch and spin, and where there are any start_line, spin_tilt, apex, descent
// and club_speed, with the units that docs/data-format.md names. Apex is taken
// to be above where the ball lay.
//
// A shot that lacks a value of ball speed, launch or spin is left out, or of
// start line or tilt where the lesson has that column, and so is one that was not
// launched upward. So there may be no shots.
//
// Errors: *[ColumnError] where the lesson has no such column; [ErrMissing] for
// no lesson.
func ShotsOf(l *lesson.Lesson, shots []lesson.Shot) (Measured, error) {
	if l == nil {
		return Measured{}, fmt.Errorf("flight: no lesson: %w", ErrMissing)
	}
	c, err := columnsOf(l)
	if err != nil {
		return Measured{}, err
	}
	m := Measured{Left: map[int]string{}}
	for i, from := range shots {
		s, reason := c.read(from)
		s.Carry, s.Side = from.Carry*l.Unit.Metres(), from.Side*l.Unit.Metres()
		if reason == "" && s.Angle <= 0 {
			reason = "it was not launched upward"
		}
		if reason == "" {
			if err := s.check(); err != nil {
				reason = err.Error()
			}
		}
		if reason != "" {
			m.Left[i] = reason
			continue
		}
		m.Shots, m.At = append(m.Shots, s), append(m.At, i)
	}
	return m, nil
}
