package archive

import (
	"fmt"
	"strings"
	"time"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A Query selects groups. The zero value selects all; of every other field that
// is set, a group must be.
type Query struct {
	Pupil  string
	Club   string // in any case
	Stage  string // in any case
	Intent lesson.Intent
	Unit   lesson.Unit

	// From and To are days as 2006-01-02, both included. Once one is set, a
	// session of no known day is an error of kind [ErrUndated], and not part of
	// the answer.
	From, To string

	// Part selects the pupils of one of several parts, for processes that share
	// the work.
	Part Part
}

// A Part is one of Of equal shares of the pupils, Index counting from 0. A pupil
// is in one part alone, the same on every machine. The zero value is all.
type Part struct{ Index, Of int }

func (q Query) check() error {
	fail := func(field, format string, args ...any) error {
		return fmt.Errorf("archive: %w", &QueryError{field, fmt.Sprintf(format, args...)})
	}
	for _, d := range []struct{ field, day string }{{"From", q.From}, {"To", q.To}} {
		if d.day == "" {
			continue
		}
		if _, err := time.Parse(time.DateOnly, d.day); err != nil {
			return fail(d.field, "%q is no day: write 2006-01-02", d.day)
		}
	}
	if q.From != "" && q.To != "" && q.From > q.To {
		return fail("From", "%s is after %s", q.From, q.To)
	}
	if q.Unit != "" && q.Unit.Metres() == 0 {
		return fail("Unit", "%q is none: yd, m or ft", string(q.Unit))
	}
	switch q.Intent {
	case "", lesson.Baseline, lesson.Drill, lesson.Full, lesson.Check:
	default:
		return fail("Intent", "%q is none: baseline, drill, full or check", string(q.Intent))
	}
	if q.Part != (Part{}) && (q.Part.Index < 0 || q.Part.Index >= q.Part.Of) {
		return fail("Part", "part %d of %d: the first of n is 0, the last n-1", q.Part.Index, q.Part.Of)
	}
	return nil
}

// hasDays tells whether the query asks for days.
func (q Query) hasDays() bool { return q.From != "" || q.To != "" }

func (q Query) day(day string) bool {
	return (q.From == "" || day >= q.From) && (q.To == "" || day <= q.To)
}

func (q Query) group(stage string, intent lesson.Intent, club string) bool {
	return (q.Stage == "" || strings.EqualFold(q.Stage, stage)) &&
		(q.Intent == "" || q.Intent == intent) &&
		(q.Club == "" || strings.EqualFold(q.Club, club))
}

// session tells whether groups of a lesson can be selected at all.
func (q Query) session(pupil string, unit lesson.Unit) bool {
	return (q.Pupil == "" || q.Pupil == pupil) && (q.Unit == "" || q.Unit == unit)
}
