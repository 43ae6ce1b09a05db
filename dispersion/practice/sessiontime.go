package practice

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// The ways to write a time, as docs/data-format.md lists them, with a date and
// without; the first states its zone.
var (
	dateLayouts = []string{time.RFC3339, "2006-01-02T15:04:05", "2006-01-02 15:04:05", "2006-01-02T15:04", "2006-01-02 15:04"}
	hourLayouts = []string{"15:04:05", "15:04", "3:04:05 PM", "3:04 PM"}
)

// readDateTime returns the time that a text with a date in it means, and whether
// it states its zone.
func readDateTime(text string, in *time.Location) (at time.Time, zoned, ok bool) {
	for i, layout := range dateLayouts {
		if t, err := time.ParseInLocation(layout, strings.ToUpper(text), in); err == nil {
			return t, i == 0, true
		}
	}
	return time.Time{}, false, false
}

// readHour returns how long after midnight a text without a date means.
func readHour(text string) (time.Duration, bool) {
	for _, layout := range hourLayouts {
		if t, err := time.Parse(layout, strings.ToUpper(text)); err == nil {
			return t.Sub(time.Date(0, 1, 1, 0, 0, 0, 0, time.UTC)), true
		}
	}
	return 0, false
}

// readDate returns the date that a session's name begins with.
func readDate(name string, in *time.Location) (time.Time, bool) {
	if len(name) < len(time.DateOnly) {
		return time.Time{}, false
	}
	t, err := time.ParseInLocation(time.DateOnly, name[:len(time.DateOnly)], in)
	return t, err == nil
}

// newSession finds out when a lesson was. zoned tells whether it states the zone.
func newSession(l *lesson.Lesson, in *time.Location) (s Session, zoned bool, err error) {
	s = Session{Name: l.Session, Lesson: l}
	date, dated := readDate(l.Session, in)
	for _, shot := range l.Shots {
		text, ok := shot.Text("time")
		if !ok {
			continue
		}
		at, zone, ok := readDateTime(text, in)
		if !ok {
			hour, isHour := readHour(text)
			if !isHour || !dated {
				continue
			}
			// By the calendar: a day with a change of clocks is not 24 hours.
			at = time.Date(date.Year(), date.Month(), date.Day(), 0, 0, int(hour/time.Second), int(hour%time.Second), in)
			if s.Clock && at.Before(s.Start) && s.Start.Sub(at) > 12*time.Hour {
				at = at.AddDate(0, 0, 1) // past midnight
			}
		}
		if !s.Clock || at.Before(s.Start) {
			s.Start = at
		}
		if !s.Clock || at.After(s.End) {
			s.End = at
		}
		s.Clock, zoned = true, zoned || zone
	}
	switch {
	case s.Clock:
	case dated:
		s.Start, s.End = date, date
	default:
		return s, false, &SeasonError{Session: l.Session, Reason: "nothing says when it was: write the date into the column time, 2006-01-02T15:04:05, or begin the session's name with it, 2006-01-02"}
	}
	if s.Name == "" {
		s.Name = s.Start.Format(time.DateOnly)
	}
	return s, zoned, nil
}

// A timedShot is a place in a lesson's shots with its time.
type timedShot struct {
	index int
	at    time.Time
}

// splitByTime takes a lesson apart at every pause of three hours or more between
// two times, whatever order the rows are in. A shot without a time goes with the
// one before it. A lesson without dates stays whole.
func splitByTime(l *lesson.Lesson, in *time.Location) []*lesson.Lesson {
	var timed []timedShot
	for i, s := range l.Shots {
		if text, ok := s.Text("time"); ok {
			if at, _, ok := readDateTime(text, in); ok {
				timed = append(timed, timedShot{i, at})
			}
		}
	}
	if len(timed) == 0 {
		return []*lesson.Lesson{l}
	}
	slices.SortStableFunc(timed, func(a, b timedShot) int { return a.at.Compare(b.at) })
	session := make([]int, len(l.Shots))
	for i := range session {
		session[i] = -1
	}
	starts := []time.Time{timed[0].at}
	for i, t := range timed {
		if i > 0 && t.at.Sub(timed[i-1].at) >= sessionGap {
			starts = append(starts, t.at)
		}
		session[t.index] = len(starts) - 1
	}
	parts := make([]*lesson.Lesson, len(starts))
	names := map[string]int{}
	for i, start := range starts {
		name := start.Format(time.DateOnly)
		if names[name]++; names[name] > 1 {
			name = fmt.Sprintf("%s (%d)", name, names[name])
		}
		parts[i] = &lesson.Lesson{Pupil: l.Pupil, Session: name, Unit: l.Unit, Columns: l.Columns, Warnings: l.Warnings}
	}
	part := session[slices.IndexFunc(session, func(i int) bool { return i >= 0 })]
	rejected := l.Rejected
	for i, s := range l.Shots {
		if session[i] >= 0 {
			part = session[i]
		}
		for len(rejected) > 0 && rejected[0].Line < s.Line {
			parts[part].Rejected, rejected = append(parts[part].Rejected, rejected[0]), rejected[1:]
		}
		parts[part].Shots = append(parts[part].Shots, s)
	}
	parts[part].Rejected = append(parts[part].Rejected, rejected...)
	for _, p := range parts {
		p.Rows = len(p.Shots) + len(p.Rejected)
		for _, stage := range l.Stages {
			if slices.ContainsFunc(p.Shots, func(s lesson.Shot) bool { return s.Stage == stage.Name }) {
				p.Stages = append(p.Stages, stage)
			}
		}
	}
	return parts
}
