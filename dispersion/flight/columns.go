package flight

import (
	"fmt"
	"slices"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A ColumnError says which columns of a lesson are missing. It is always
// returned as *ColumnError, wrapped.
type ColumnError struct {
	Missing []string // such as "spin_rpm", the unit being one of several
}

func (e *ColumnError) Error() string {
	return fmt.Sprintf("a flight needs ball speed, launch angle and spin; the lesson has no column %s", strings.Join(e.Missing, ", no column "))
}

// A source is a column to read: its name without the unit, the units it may
// have, the first being the one to suggest, and where the value belongs.
type source struct {
	name  string
	units []unit
	kind  kind
	into  func(s *Shot) *float64
}

type kind int

const (
	needed kind = iota // by every flight
	aside              // needed of each shot where the lesson has it
	extra              // of help where it is there
)

type unit struct {
	suffix string
	size   float64
}

var (
	speeds  = []unit{{"mph", MPH}, {"mps", 1}, {"kmh", KMH}}
	angles  = []unit{{"deg", Degree}}
	heights = []unit{{"ft", Foot}, {"yd", Yard}, {"m", 1}}
	spins   = []unit{{"rpm", RPM}}
)

// sources are all columns that a flight has a use for.
var sources = []source{
	{"ball_speed", speeds, needed, func(s *Shot) *float64 { return &s.Speed }},
	{"launch", angles, needed, func(s *Shot) *float64 { return &s.Angle }},
	{"spin", spins, needed, func(s *Shot) *float64 { return &s.Spin }},
	{"start_line", angles, aside, func(s *Shot) *float64 { return &s.Direction }},
	{"spin_tilt", angles, aside, func(s *Shot) *float64 { return &s.Tilt }},
	{"apex", heights, extra, func(s *Shot) *float64 { return &s.Apex }},
	{"descent", angles, extra, func(s *Shot) *float64 { return &s.Descent }},
	{"club_speed", speeds, extra, func(s *Shot) *float64 { return &s.ClubSpeed }},
}

// A column is a source as one lesson has it.
type column struct {
	source
	header string
	size   float64 // of its unit
}

type columns []column

func columnsOf(l *lesson.Lesson) (columns, error) {
	var found columns
	var missing []string
	for _, s := range sources {
		at := -1
		for _, u := range s.units {
			header := s.name + "_" + u.suffix
			if at = slices.IndexFunc(l.Columns, func(c lesson.Column) bool { return c.Numeric && c.Name == header }); at >= 0 {
				found = append(found, column{s, header, u.size})
				break
			}
		}
		if at < 0 && s.kind == needed {
			missing = append(missing, s.name+"_"+s.units[0].suffix)
		}
	}
	if missing != nil {
		return nil, fmt.Errorf("flight: %w", &ColumnError{Missing: missing})
	}
	return found, nil
}

// read returns the shot as far as the columns say it, and what it lacks.
func (c columns) read(from lesson.Shot) (s Shot, lacks string) {
	for _, column := range c {
		v, ok := from.Value(column.header)
		if !ok && column.kind != extra {
			return s, "it has no " + column.header
		}
		*column.into(&s) = v * column.size
	}
	return s, ""
}
