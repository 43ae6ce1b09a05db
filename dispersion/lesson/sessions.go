package lesson

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"time"
)

// ReadSessions returns the lessons of one pupil in a file as [Read] takes it, one
// for each name in the column session, in the order they first appear. A file
// that names none is split wherever gap or more passes between two balls,
// whatever order the rows are in: the lessons are then named by their day, and a
// row without a time goes with the one before it. A gap of 0 or less, or times
// without a day, leave it whole. Times that state no zone are in the one given;
// nil means UTC.
//
// Each lesson is what Read makes of its rows alone: stages and bookends are told
// within it, and balls are counted within it. The file is read once.
//
// Errors: those of Read, but for several sessions; and mark-up in o, whose ball
// numbers are those of one session. Warnings are in the lessons.
func ReadSessions(r io.Reader, o ReadOptions, gap time.Duration, in *time.Location) ([]*Lesson, error) {
	lessons, err := readSessions(r, o, gap, in)
	if err != nil {
		return nil, fmt.Errorf("lesson: %w", err)
	}
	return lessons, nil
}

func readSessions(r io.Reader, o ReadOptions, gap time.Duration, in *time.Location) ([]*Lesson, error) {
	if o.Stages != "" || o.StagesFile != nil {
		return nil, errors.New("stages are marked up by the balls of one session: read the sessions one by one")
	}
	f, err := openFile(r, o)
	if err != nil {
		return nil, err
	}
	var parts []part
	names, _ := tally(f.rows, f.header.session, false)
	switch {
	case o.Session != "" || len(names) == 1:
		l, err := f.lesson(o)
		if err != nil {
			return nil, err
		}
		return []*Lesson{l}, nil
	case len(names) > 1:
		parts = f.bySession(names)
	default:
		parts = f.byTime(gap, in)
	}
	lessons := make([]*Lesson, len(parts))
	for i, p := range parts {
		if lessons[i], err = f.label(p.rows, p.name, o); err != nil {
			return nil, fmt.Errorf("session %q: %w", clip(p.name), err)
		}
	}
	return lessons, nil
}

// A part is the rows of one session.
type part struct {
	name string
	rows []row
}

// bySession deals the rows out by the column session. A rejected row of none of
// them goes with the row before it, so that it is reported once.
func (f *file) bySession(names []string) []part {
	parts, place := make([]part, len(names)), make(map[string]int, len(names))
	for i, name := range names {
		parts[i].name, place[name] = name, i
	}
	unnamed, last := 0, 0
	for _, r := range f.rows {
		name := ""
		if r.cells != nil {
			name = r.cells[f.header.session]
		}
		if i, ok := place[name]; ok {
			last = i
		} else if r.rejected == nil {
			unnamed++
			continue
		}
		parts[last].rows = append(parts[last].rows, r)
	}
	if unnamed > 0 {
		f.warnings = append(f.warnings, leftOut(unnamed, "session"))
	}
	return parts
}

// byTime deals the rows out at every pause of gap or more between two times.
func (f *file) byTime(gap time.Duration, in *time.Location) []part {
	type timedRow struct {
		index int
		at    time.Time
	}
	var timed []timedRow
	for i, r := range f.rows {
		if f.header.time < 0 || r.rejected != nil || gap <= 0 {
			continue
		}
		if m, ok := ReadTime(r.cells[f.header.time], in); ok && m.Day {
			timed = append(timed, timedRow{i, m.Time})
		}
	}
	if len(timed) == 0 {
		return []part{{rows: f.rows}}
	}
	first := timed[0].index
	slices.SortStableFunc(timed, func(a, b timedRow) int { return a.at.Compare(b.at) })
	var parts []part
	days, session := map[string]int{}, make(map[int]int, len(timed))
	for i, t := range timed {
		if i == 0 || t.at.Sub(timed[i-1].at) >= gap {
			name := t.at.Format(time.DateOnly)
			if days[name]++; days[name] > 1 {
				name = fmt.Sprintf("%s (%d)", name, days[name])
			}
			parts = append(parts, part{name: name})
		}
		session[t.index] = len(parts) - 1
	}
	last := session[first]
	for i, r := range f.rows {
		if at, ok := session[i]; ok {
			last = at
		}
		parts[last].rows = append(parts[last].rows, r)
	}
	return parts
}

// A Moment is what a text in the column time says.
type Moment struct {
	Time time.Time // on 0000-01-01 where there is no day
	Day  bool      // whether it has a day
	Zone bool      // whether it states its zone
}

// ReadTime returns what a text in the column time means, in one of the ways that
// docs/data-format.md lists, and false for any other. Where it states no zone it
// is in the one given; nil means UTC.
func ReadTime(text string, in *time.Location) (Moment, bool) {
	_, layout, ok := readTime(text)
	if !ok {
		return Moment{}, false
	}
	t, err := parseTime(layout, text, cmp.Or(in, time.UTC))
	return Moment{t, hasDay(layout), hasZone(layout)}, err == nil
}
