package lesson

import "slices"

const (
	maxTitleLines  = 50      // above the header
	maxHeaderBytes = 1 << 20 // looked at for it, from each line on
)

// findHeader finds the header: the first line, or, where that names no carry and
// side, the first of those below it that does. Lines above are titles, and a
// warning says that they were not read.
func findHeader(text string, m *Mapping) (*header, *scanner, []error, error) {
	h, rows, err := splitHeader(text, m)
	if err != nil && rows == nil && err == ErrEmpty || err == nil && h.namesLengths() {
		return h, rows, nil, err
	}
	lines := &scanner{text: text, sep: ',', line: 1}
	for range maxTitleLines {
		lines.pos, lines.line = lines.skipLineEnd(lines.lineEnd(lines.pos)), lines.line+1
		if lines.pos == len(text) {
			break
		}
		rest := text[lines.pos:]
		below, _, err := splitHeader(rest[:min(len(rest), maxHeaderBytes)], m)
		if err != nil || !below.namesLengths() {
			continue
		}
		if below, rows, err = splitHeader(rest, m); err != nil {
			return nil, nil, nil, err
		}
		below.line += lines.line - 1
		rows.text, rows.pos, rows.line = text, rows.pos+lines.pos, rows.line+lines.line-1
		return below, rows, []error{warning(ErrTitle, "the header is line %d, and nothing above it was read", below.line)}, nil
	}
	return h, rows, nil, err
}

// namesLengths tells whether a line names a carry and a side, by itself or by
// its mapping.
func (h *header) namesLengths() bool {
	names := func(want string) bool {
		return slices.ContainsFunc(h.written, func(name string) bool {
			if f := h.mapping.field(name); f != nil {
				m, ok := f.measure()
				return ok && m.name == want
			}
			base, _ := cutUnit(canonical(name))
			return base == want
		})
	}
	return names("carry") && names("side")
}
