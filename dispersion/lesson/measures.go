package lesson

import (
	"fmt"
	"slices"
	"strings"
)

// A measure is one of the columns of docs/data-format.md: what a column of a
// file can be.
type measure struct {
	name  string
	kind  measureKind
	units []string // that it comes in, as at the end of a column's name; the only one where there is one
	sided bool     // right of something is positive, so that it turns round in a mirror
}

type measureKind int

const (
	textMeasure measureKind = iota
	numberMeasure
	timeMeasure
)

var (
	lengthUnits = []string{"yd", "m", "ft"}
	speedUnits  = []string{"mph", "mps", "kmh"}
)

// measures are in the order in which shot columns are told everywhere.
var measures = []measure{
	{name: "pupil"}, {name: "session"}, {name: "time", kind: timeMeasure}, {name: "place"}, {name: "surface"}, {name: "ball"},
	{name: "stage"}, {name: "intent"}, {name: "club"},
	{"target_carry", numberMeasure, lengthUnits, false}, {"target_side", numberMeasure, lengthUnits, true},
	{name: "expect"}, {name: "feel"}, {name: "note"}, {name: "cue"}, {name: "void"},
	{"club_speed", numberMeasure, speedUnits, false},
	{"path_deg", numberMeasure, []string{"deg"}, true}, {"face_deg", numberMeasure, []string{"deg"}, true},
	{"approach_deg", numberMeasure, []string{"deg"}, false}, {"loft_deg", numberMeasure, []string{"deg"}, false},
	{"strike_across_mm", numberMeasure, []string{"mm"}, false}, {"strike_up_mm", numberMeasure, []string{"mm"}, false},
	{"ball_speed", numberMeasure, speedUnits, false},
	{"start_line_deg", numberMeasure, []string{"deg"}, true}, {"launch_deg", numberMeasure, []string{"deg"}, false},
	{"spin_rpm", numberMeasure, []string{"rpm"}, false}, {"spin_tilt_deg", numberMeasure, []string{"deg"}, true},
	{"apex", numberMeasure, lengthUnits, false}, {"descent_deg", numberMeasure, []string{"deg"}, false}, {"flight_s", numberMeasure, []string{"s"}, false},
	{"carry", numberMeasure, lengthUnits, false}, {"side", numberMeasure, lengthUnits, true}, {"total", numberMeasure, lengthUnits, false},
}

// findMeasure returns the measure of a name, and false for none.
func findMeasure(name string) (measure, bool) {
	i := slices.IndexFunc(measures, func(m measure) bool { return m.name == name })
	if i < 0 {
		return measure{}, false
	}
	return measures[i], true
}

// measureOf returns the measure that a canonical name of a column stands for,
// with or without its unit: apex_ft, launch_deg.
func measureOf(column string) (measure, bool) {
	if m, ok := findMeasure(column); ok {
		return m, true
	}
	i := strings.LastIndexByte(column, '_')
	if i < 0 {
		return measure{}, false
	}
	base, ending := column[:i], column[i+1:]
	if u, ok := lengthSuffixes[ending]; ok {
		ending = string(u)
	}
	m, ok := findMeasure(base)
	return m, ok && slices.Contains(m.units, ending)
}

// column returns the canonical name of a column that holds the measure in a
// unit, "" where the file does not say.
func (m measure) column(unit string) string {
	if len(m.units) < 2 || unit == "" { // a single unit is part of the name
		return m.name
	}
	return m.name + "_" + unit
}

// checkUnit returns what is wrong with a unit, "" for nothing.
func (m measure) checkUnit(unit string) (fault string) {
	switch {
	case unit == "" || slices.Contains(m.units, unit):
		return ""
	case len(m.units) == 0:
		return fmt.Sprintf("%s has no unit: leave it out", m.name)
	}
	return fmt.Sprintf("%s is in %s, not %s: leave the measure out, so that the column is kept under its own name, or convert the file", m.name, strings.Join(m.units, ", "), unit)
}

func measureNames() string {
	names := make([]string, len(measures))
	for i, m := range measures {
		names[i] = m.name
	}
	return strings.Join(names, ", ")
}
