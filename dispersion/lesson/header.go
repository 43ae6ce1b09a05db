package lesson

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// A header is what the first line of a file says.
type header struct {
	line    int
	sep     byte
	written []string // the columns' names as in the file
	names   []string // the same, canonical and unique

	mapping *Mapping // nil for a file that needs none
	fields  []*Field // what it says of each column; nil for nothing
	turn    []translator

	carry, side         int // places in a row
	carryUnit, sideUnit Unit
	pupil, session      int // -1 where the file has none, like the following
	stage, intent, club int
	expect, cue, void   int
	surface, time       int
}

// decimalComma tells whether numbers of a column may have one. Where the mapping
// names the column it has said so, and the comma is a point by now.
func (h *header) decimalComma(column int) bool { return h.sep != ',' && h.fields[column] == nil }

// readHeader finds the header and returns the scanner of the rows after it. A
// row of units below the header is part of it.
func readHeader(text string, o ReadOptions) (*header, *scanner, []error, error) {
	if o.Unit != "" {
		if err := o.Unit.check(); err != nil {
			return nil, nil, nil, err
		}
	}
	h, rows, warnings, err := findHeader(text, o.Columns)
	if err != nil {
		return nil, nil, nil, err
	}
	steps := []func() ([]error, error){
		h.applyMapping,
		func() ([]error, error) { return h.takeUnitsRow(rows) },
		h.findLengths,
		h.makeUnique,
		func() ([]error, error) { return h.settleUnits(o.Unit) },
	}
	for _, step := range steps {
		more, err := step()
		if err != nil {
			return nil, nil, nil, err
		}
		warnings = append(warnings, more...)
	}
	h.findRoles()
	return h, rows, warnings, nil
}

// splitHeader takes the header, the first line of a text that is not blank,
// apart by the separator that gives the most columns of a known name, and among
// equals the most columns.
func splitHeader(text string, m *Mapping) (*header, *scanner, error) {
	var best *header
	var rows *scanner
	mostKnown := -1
	var broken error
	for _, sep := range []byte{',', ';', '\t'} {
		s := &scanner{text: text, sep: sep, line: 1}
		rec, ok := s.next()
		if !ok {
			return nil, nil, ErrEmpty
		}
		if rec.quote >= 0 {
			broken = &HeaderError{rec.fields, fmt.Sprintf("line %d, the header, has a quote (\") that is not closed or is followed by more text: correct it", rec.line)}
			continue
		}
		h := &header{line: rec.line, sep: sep, written: rec.fields, names: make([]string, len(rec.fields)), mapping: m}
		known := 0
		for i, name := range rec.fields {
			h.names[i] = canonical(name)
			if knownColumn(h.names[i]) || m.field(name) != nil {
				known++
			}
		}
		if known > mostKnown || known == mostKnown && len(h.names) > len(best.names) {
			best, rows, mostKnown = h, s, known
		}
	}
	if broken != nil && mostKnown <= 0 {
		return nil, nil, broken
	}
	if len(best.names) > maxColumns {
		return nil, nil, &HeaderError{best.written, fmt.Sprintf("more than %d columns", maxColumns)}
	}
	rows.width = len(best.names)
	return best, rows, nil
}

// canonical returns a name in lower case, its words joined by single
// underscores, a unit in brackets as the last: "Ball Speed [km/h]" is
// ball_speed_kmh.
func canonical(name string) string {
	rest, unit := cutBracket(name)
	if rest = joinWords(rest); rest == "" || unit == "" {
		return joinWords(name)
	}
	return rest + "_" + unit
}

func joinWords(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	return strings.Join(words, "_")
}

// cutUnit splits the unit of length off a canonical name: carry_yd.
func cutUnit(name string) (base string, u Unit) {
	if i := strings.LastIndexByte(name, '_'); i >= 0 {
		if u, ok := lengthSuffixes[name[i+1:]]; ok {
			return name[:i], u
		}
	}
	return name, ""
}

// findRoles finds the columns that mean something to the lesson as a whole.
func (h *header) findRoles() {
	find := func(want string) int { return slices.Index(h.names, want) }
	h.pupil, h.session = find("pupil"), find("session")
	h.stage, h.intent, h.club = find("stage"), find("intent"), find("club")
	h.expect, h.cue, h.void = find("expect"), find("cue"), find("void")
	h.surface, h.time = find("surface"), find("time")
}

// findLengths finds the one column of carry and the one of side.
func (h *header) findLengths() (warnings []error, err error) {
	find := func(want string) (at int, u Unit, err error) {
		at = -1
		for i, name := range h.names {
			base, unit := cutUnit(name)
			if base != want {
				continue
			}
			if at >= 0 {
				return 0, "", &HeaderError{h.written, fmt.Sprintf("two columns of %s, %q and %q: keep one", want, clip(h.written[at]), clip(h.written[i]))}
			}
			at, u = i, unit
		}
		if at < 0 {
			if h.mapping != nil {
				return 0, "", &HeaderError{h.written, fmt.Sprintf("no column of %s: the mapping (columns.json beside the lesson, or what -columns names) says of none that it is: open it and write \"measure\": \"%s\" in the field of the column that is", want, want)}
			}
			return 0, "", &HeaderError{h.written, fmt.Sprintf("no column of %s: the header needs carry and side, with their unit as in carry_yd or side_m; where they have other names, \"go run ./notebooks columns FILE\" proposes what they are", want)}
		}
		return at, u, nil
	}
	if h.carry, h.carryUnit, err = find("carry"); err != nil {
		return nil, err
	}
	h.side, h.sideUnit, err = find("side")
	return nil, err
}

// makeUnique numbers further columns of one name, with a warning. It refuses
// two columns that both decide what a shot is.
func (h *header) makeUnique() (warnings []error, err error) {
	roles := map[string]bool{"pupil": true, "session": true, "stage": true, "intent": true, "club": true, "void": true}
	taken := map[string]bool{}
	for _, name := range h.names {
		taken[name] = true
	}
	seen := map[string]bool{}
	for i, name := range h.names {
		if roles[name] && seen[name] {
			return nil, &HeaderError{h.written, fmt.Sprintf("two columns of %s: keep one", name)}
		}
		if name != "" && !seen[name] {
			seen[name] = true
			continue
		}
		base, unique := name, name+"_2"
		if name == "" {
			base = "column_" + strconv.Itoa(i+1)
			unique = base
		}
		for n := 3; taken[unique]; n++ {
			unique = base + "_" + strconv.Itoa(n)
		}
		if name != "" {
			warnings = append(warnings, warning(ErrColumn, "two are called %q; the later one is kept as %s", clip(h.written[i]), clip(unique)))
		}
		h.names[i], taken[unique], seen[unique] = unique, true, true
	}
	return warnings, nil
}

// settleUnits decides the units that the header leaves open. It refuses a carry
// that would be in feet for no other reason than that side is.
func (h *header) settleUnits(plain Unit) (warnings []error, err error) {
	if h.carryUnit == "" && plain == "" && h.sideUnit == Feet {
		return nil, &HeaderError{h.written, fmt.Sprintf("column %q does not say its unit, and %q is in feet, which a carry seldom is: write the unit of the carry in the header, as in carry_yd, or give -unit yd",
			clip(h.written[h.carry]), clip(h.written[h.side]))}
	}
	settle := func(u *Unit, at int, other Unit) {
		if *u != "" {
			return
		}
		switch {
		case plain != "":
			*u = plain
			return
		case other != "":
			*u = other
		default:
			*u = Yards
		}
		warnings = append(warnings, warning(ErrUnit, "column %q does not say: read as %s; write it in the header, as in %s_%s",
			clip(h.written[at]), *u, h.names[at], *u))
	}
	settle(&h.carryUnit, h.carry, h.sideUnit)
	settle(&h.sideUnit, h.side, h.carryUnit)
	if h.sideUnit != h.carryUnit {
		warnings = append(warnings, warning(ErrUnit, "column %q is in %s and carry in %s: side was converted to %s, with 1 yd = 0.9144 m and 1 ft = 0.3048 m",
			clip(h.written[h.side]), h.sideUnit, h.carryUnit, h.carryUnit))
	}
	return warnings, nil
}
