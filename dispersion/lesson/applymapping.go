package lesson

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// field returns what a mapping says of a column, by the name that the header
// has: as it is written, else in another case or spacing. It is nil for nothing.
func (m *Mapping) field(written string) *Field {
	if m == nil || written == "" {
		return nil
	}
	i := slices.IndexFunc(m.Fields, func(f Field) bool { return f.Name == written })
	if i < 0 {
		name := canonical(written)
		i = slices.IndexFunc(m.Fields, func(f Field) bool { return name != "" && canonical(f.Name) == name })
	}
	if i < 0 {
		return nil
	}
	return &m.Fields[i]
}

// roles are the measures that decide what a shot is, where it landed or whose it
// is.
var roles = []string{"pupil", "session", "stage", "intent", "club", "void", "carry", "side"}

// applyMapping gives the columns the names that the mapping has for them.
func (h *header) applyMapping() (warnings []error, err error) {
	h.fields, h.turn = make([]*Field, len(h.names)), make([]translator, len(h.names))
	if h.mapping == nil {
		return nil, nil
	}
	if err := h.mapping.check(); err != nil {
		return nil, err
	}
	warnings = slices.Clone(h.mapping.Warnings)
	at := map[*Field]int{}
	for i, written := range h.written {
		f := h.mapping.field(written)
		if f == nil {
			h.turn[i] = Field{Type: "string"}.translator(h.mapping.Missing)
			continue
		}
		if other, twice := at[f]; twice {
			return nil, &HeaderError{h.written, fmt.Sprintf("two columns of the mapping's %q, %q and %q: rename one", clip(f.Name), clip(h.written[other]), clip(written))}
		}
		at[f], h.fields[i] = i, f
		inHeader := unitCode(h.names[i])
		if f.Unit != "" && inHeader != "" && inHeader != f.Unit {
			return nil, &HeaderError{h.written, fmt.Sprintf("the mapping says that %q is in %s: correct one of them", clip(written), printable(clip(f.Unit)))}
		}
		h.names[i] = f.column(inHeader)
		beside := *f // the unit beside the numbers is the column's, whoever says it
		beside.Unit = cmp.Or(f.Unit, unitCode(h.names[i]))
		if f.UnitInCells && beside.Unit == "" {
			return nil, &HeaderError{h.written, fmt.Sprintf("the mapping says that a unit stands beside the numbers of %q and not which: write its \"unit\"", clip(written))}
		}
		h.turn[i] = beside.translator(h.mapping.Missing)
		if f.Doubt != "" {
			warnings = append(warnings, warning(ErrColumn, "the mapping is not sure of %q: %s; look, and take its \"doubt\" out of the mapping", clip(f.Name), printable(clip(f.Doubt))))
		}
	}
	for i := range h.mapping.Fields {
		f := &h.mapping.Fields[i]
		if _, ok := at[f]; ok {
			continue
		}
		if m, _ := f.measure(); slices.Contains(roles, m.name) {
			return nil, &HeaderError{h.written, fmt.Sprintf("the mapping takes %s from a column %q, which the file does not have: correct the mapping", m.name, clip(f.Name))}
		}
		warnings = append(warnings, warning(ErrColumn, "the file has no column %q, which the mapping names", clip(f.Name)))
	}
	return warnings, nil
}

// column returns the canonical name for a column, given the unit in its header.
func (f Field) column(inHeader string) string {
	name, unit := canonical(f.Name), f.Unit
	m, known := f.measure()
	switch {
	case f.Measure == "" && known && unitCode(name) != "":
		return name
	case known:
		if unit == "" && m.checkUnit(inHeader) == "" {
			unit = inHeader
		}
		return m.column(unit)
	}
	if _, taken := measureOf(name); taken { // the mapping says that it is not what it is called
		name = "other_" + name
	}
	return withUnit(name, joinWords(unit))
}

// withUnit puts a unit at the end of a name that has none.
func withUnit(name, unit string) string {
	if unit == "" || unitCode(name) != "" || strings.HasSuffix(name, "_"+unit) {
		return name
	}
	return name + "_" + unit
}

// takeUnitsRow looks for a row of units below the header and puts them into the
// names. Such a row names the unit of carry or side and holds nothing but units;
// it is no ball.
func (h *header) takeUnitsRow(rows *scanner) (warnings []error, err error) {
	peek := *rows
	rec, ok := peek.next()
	if !ok || rec.quote >= 0 || len(rec.fields) != len(h.names) || rec.over > 0 {
		return nil, nil
	}
	units, ok := readUnitsRow(rec.fields)
	if !ok {
		return nil, nil
	}
	landed := false
	for i, name := range h.names {
		base, _ := cutUnit(name)
		landed = landed || (base == "carry" || base == "side") && units[i] != ""
	}
	if !landed {
		return nil, nil
	}
	for i, unit := range units {
		if unit == "" {
			continue
		}
		name := h.names[i]
		said := unitCode(name)
		if m, ok := measureOf(name); ok && said == "" && m.checkUnit(unit) == "" {
			h.names[i] = m.column(unit)
			continue
		}
		if said != "" && said != unit {
			return nil, &HeaderError{h.written, fmt.Sprintf("%q is in %s, but in %s by the row of units on line %d: correct one of them", clip(h.written[i]), said, unit, rec.line)}
		}
		h.names[i] = withUnit(name, unit)
	}
	*rows = peek
	return []error{warning(ErrUnit, "line %d is a row of units and no ball", rec.line)}, nil
}
