package lesson

import (
	"slices"
	"strings"
)

// knownColumn tells whether docs/data-format.md lists a name, in canonical form
// and with or without its unit. The separator of a file is recognised by them.
func knownColumn(name string) bool {
	if slices.Contains(sideColumns, strings.TrimSuffix(name, "_shot")) {
		return true
	}
	_, ok := measureOf(name)
	return ok
}

// describeColumns returns the further columns, decides which are numeric, and
// warns of a measurement that is not.
func describeColumns(h *header, rows []row) (columns []Column, index *columnIndex, warnings []error) {
	index = &columnIndex{at: map[string]int{}, numeric: map[string]bool{}, turned: map[string]bool{}, decimalComma: map[string]bool{}}
	taken := []int{h.pupil, h.session, h.stage, h.intent, h.club, h.carry, h.side, h.void}
	for i, name := range h.names {
		if slices.Contains(taken, i) {
			continue
		}
		text, present := firstText(rows, i, h.decimalComma(i))
		if !present && h.written[i] == "" {
			continue // a separator at the end of the header
		}
		asText := h.fields[i] != nil && h.fields[i].Type == "string"
		c := Column{Name: name, Numeric: present && text == nil && !asText}
		if c.Numeric {
			c.Unit = unitOf(name)
		}
		if m, ok := measureOf(name); text != nil && ok && m.kind == numberMeasure {
			warnings = append(warnings, warning(ErrColumn, "%q is kept as text, since line %d has %q there: leave a cell empty where nothing was measured",
				clip(h.written[i]), text.line, clip(text.cells[i])))
		}
		columns = append(columns, c)
		index.at[name], index.numeric[name], index.decimalComma[name] = i, c.Numeric, h.decimalComma(i)
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

// unitCode returns the unit at the end of a column's name as names have it: kmh,
// pct.
func unitCode(name string) string {
	if _, u := cutUnit(name); u != "" {
		return string(u)
	}
	if ending := name[strings.LastIndexByte(name, '_')+1:]; otherSuffixes[ending] != "" {
		return ending
	}
	return ""
}
