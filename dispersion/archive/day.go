package archive

import (
	"time"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// dayOf returns the day of a session as 2006-01-02: that of the first shot whose
// time says one, else the one that the session's name begins with, else "".
func dayOf(l *lesson.Lesson) string {
	for _, s := range l.Shots {
		if text, ok := s.Text("time"); ok {
			if day := leadingDay(text); day != "" {
				return day
			}
		}
	}
	return leadingDay(l.Session)
}

func leadingDay(text string) string {
	if len(text) < len(time.DateOnly) {
		return ""
	}
	text = text[:len(time.DateOnly)]
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return ""
	}
	return text
}

// epochDays returns a day as Parquet has it, in days since 1970-01-01.
func epochDays(day string) (int32, bool) {
	t, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return 0, false
	}
	return int32(t.Unix() / 86400), true // whole: days in UTC; years from 0 to 9999
}
