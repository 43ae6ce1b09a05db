package lesson

import (
	"slices"
	"strings"
)

// designColumns are the names that docs/data-format.md lists, without the unit
// of a length. The separator of a file is recognised by them.
var designColumns = nameSet(`pupil session time place surface ball
	stage intent club target_carry target_side expect feel note
	club_speed_mph club_speed_mps club_speed_kmh path_deg face_deg approach_deg loft_deg strike_across_mm strike_up_mm
	ball_speed_mph ball_speed_mps ball_speed_kmh start_line_deg launch_deg spin_rpm spin_tilt_deg
	apex descent_deg flight_s carry side total from to from_shot to_shot cue void why`)

// measuredColumns are those of them that should hold numbers.
var measuredColumns = nameSet(`target_carry target_side
	club_speed_mph club_speed_mps club_speed_kmh path_deg face_deg approach_deg loft_deg strike_across_mm strike_up_mm
	ball_speed_mph ball_speed_mps ball_speed_kmh start_line_deg launch_deg spin_rpm spin_tilt_deg
	apex descent_deg flight_s total`)

func nameSet(names string) map[string]bool {
	set := map[string]bool{}
	for _, name := range strings.Fields(names) {
		set[name] = true
	}
	return set
}

// describeColumns returns the further columns, decides which are numeric, and
// warns of a measurement that is not.
func describeColumns(h *header, rows []row) (columns []Column, index *columnIndex, warnings []error) {
	index = &columnIndex{at: map[string]int{}, numeric: map[string]bool{}, decimalComma: h.decimalComma()}
	taken := []int{h.pupil, h.session, h.stage, h.intent, h.club, h.carry, h.side}
	for i, name := range h.names {
		if slices.Contains(taken, i) {
			continue
		}
		text, present := firstText(rows, i, h.decimalComma())
		if !present && h.written[i] == "" {
			continue // a separator at the end of the header
		}
		c := Column{Name: name, Numeric: present && text == nil}
		if c.Numeric {
			c.Unit = unitOf(name)
		}
		base, _ := cutUnit(name)
		if text != nil && (measuredColumns[base] || measuredColumns[name]) {
			warnings = append(warnings, warning(ErrColumn, "%q is kept as text, since line %d has %q there: leave a cell empty where nothing was measured",
				clip(h.written[i]), text.line, clip(text.cells[i])))
		}
		columns = append(columns, c)
		index.at[name], index.numeric[name] = i, c.Numeric
	}
	return columns, index, warnings
}

// firstText returns the first row whose cell in a column is neither empty nor a
// number, and whether any cell is not empty. Rejected rows have no say.
func firstText(rows []row, column int, decimalComma bool) (text *row, present bool) {
	for i := range rows {
		if rows[i].rejected != nil || rows[i].cells[column] == "" {
			continue
		}
		present = true
		if _, fault := parseNumber(rows[i].cells[column], decimalComma); fault != "" {
			return &rows[i], true
		}
	}
	return nil, present
}

// unitOf returns the unit at the end of a column's name.
func unitOf(name string) string {
	if _, u := cutUnit(name); u != "" {
		return string(u)
	}
	return otherSuffixes[name[strings.LastIndexByte(name, '_')+1:]]
}
