package lesson

import (
	"fmt"
	"strings"
	"time"
)

// timeLayouts are the ways to write a time that are understood; a fraction of a
// second may follow in each that has seconds.
var timeLayouts = []string{
	time.RFC3339, "2006-01-02T15:04:05-0700", "2006-01-02 15:04:05Z07:00", "2006-01-02 15:04:05 Z07:00", "2006-01-02 15:04:05 -0700",
	"2006-01-02T15:04Z07:00", "2006-01-02 15:04 Z07:00", "2006-01-02 15:04 -0700",
	"2006-01-02T15:04:05", "2006-01-02 15:04:05", "2006-01-02T15:04", "2006-01-02 15:04",
	"15:04:05", "15:04", "3:04:05 PM", "3:04 PM",
}

// doubtTimes warns where the clock runs backwards from one row to the next. The
// order of the file is the order of the lesson all the same: a clock may be set
// or midnight may pass, and a stage told by ball numbers must not move.
func doubtTimes(rows []row, at int) (warnings []error) {
	if at < 0 {
		return nil
	}
	var layout, lastText, first string
	var last time.Time
	backwards := 0
	for _, r := range rows {
		if r.cells == nil || r.cells[at] == "" {
			continue
		}
		text := r.cells[at]
		if layout == "" {
			var ok bool
			if _, layout, ok = readTime(text); !ok {
				return []error{warning(ErrTimeOrder, "line %d has %q, so the order of the rows was not checked: write 2006-01-02T15:04:05 or 15:04:05", r.line, clip(text))}
			}
		}
		t, err := parseTime(layout, text, time.UTC)
		if err != nil {
			return []error{warning(ErrTimeOrder, "line %d has %q, unlike the rows above, so the order of the rows was not checked: write all in one way", r.line, clip(text))}
		}
		if lastText != "" && t.Before(last) {
			if backwards++; backwards == 1 {
				first = fmt.Sprintf("line %d, %s after %s", r.line, clip(text), clip(lastText))
			}
		}
		last, lastText = t, text
	}
	if backwards > 0 {
		warnings = append(warnings, warning(ErrTimeOrder, "it goes backwards in %s, first on %s: the order of the file was kept", count(backwards, "place"), first))
	}
	return warnings
}

// readTime reads a time in one of the ways that need no format.
func readTime(text string) (t time.Time, layout string, ok bool) {
	for _, layout := range timeLayouts {
		if t, err := parseTime(layout, text, time.UTC); err == nil {
			return t, layout, true
		}
	}
	return time.Time{}, "", false
}

// parseTime reads a time in one layout; am, pm, T and Z come in both cases.
func parseTime(layout, text string, in *time.Location) (time.Time, error) {
	return time.ParseInLocation(layout, strings.ToUpper(text), in)
}

func hasDay(layout string) bool { return strings.Contains(layout, "2006") }

func hasZone(layout string) bool { return strings.Contains(layout, "07") }
