package practice

import (
	"time"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

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
		moment, ok := lesson.ReadTime(text, in)
		if !ok || !moment.Day && !dated {
			continue
		}
		at := moment.Time
		if !moment.Day {
			// By the calendar: a day with a change of clocks is not 24 hours.
			at = time.Date(date.Year(), date.Month(), date.Day(), at.Hour(), at.Minute(), at.Second(), at.Nanosecond(), in)
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
		s.Clock, zoned = true, zoned || moment.Zone
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
