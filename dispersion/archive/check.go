package archive

import (
	"fmt"
	"math"
	"unicode/utf8"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// What a session may have at most: what lesson.Read takes.
const (
	maxLength = 1e6
	maxShots  = 1_000_000
)

// check returns an error for a lesson that lesson.Read would not have made and
// that a file can't hold.
func check(l *lesson.Lesson) error {
	fail := func(shot int, format string, args ...any) error {
		return fmt.Errorf("archive: %w", &LessonError{shot, fmt.Sprintf(format, args...)})
	}
	if len(l.Shots) == 0 {
		return fail(-1, "it has no shots")
	}
	if len(l.Shots) > maxShots {
		return fail(-1, "it has %d shots, and a session may have %d", len(l.Shots), maxShots)
	}
	if l.Unit.Metres() == 0 {
		return fail(-1, "its unit is %q: yd, m or ft", string(l.Unit))
	}
	if !utf8.ValidString(l.Pupil) || !utf8.ValidString(l.Session) {
		return fail(-1, "the pupil or session is no UTF-8")
	}
	balls := make(map[int]bool, len(l.Shots))
	for i, s := range l.Shots {
		if !(math.Abs(s.Carry) <= maxLength && math.Abs(s.Side) <= maxLength) { // false for NaN
			return fail(i, "carry %g, side %g: both must be numbers, a million at most", s.Carry, s.Side)
		}
		if s.Line < 0 || s.Line > math.MaxInt32 || s.Ball < 0 || s.Ball > math.MaxInt32 || balls[s.Ball] {
			return fail(i, "line %d, ball %d: lines and balls count from 1, and each ball is there once", s.Line, s.Ball)
		}
		balls[s.Ball] = true
		for _, text := range []string{s.Stage, string(s.Intent), s.Club, s.Void} {
			if !utf8.ValidString(text) {
				return fail(i, "%q is no UTF-8", text)
			}
		}
		for _, c := range l.Columns {
			if text, _ := s.Text(c.Name); !utf8.ValidString(text) || !utf8.ValidString(c.Name) {
				return fail(i, "%q is no UTF-8", text)
			}
		}
	}
	return nil
}
