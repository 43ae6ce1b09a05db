package lesson

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
)

// A Proposal is what the columns of a file seem to be, for somebody who knows to
// correct. Each field that is not sure says so in its Doubt.
type Proposal struct {
	Mapping *Mapping
	Line    int // of the header

	// Doubts are those of the file as a whole, such as a carry that no column
	// seems to be.
	Doubts []string
}

// maxLooked is how many rows a proposal looks at.
const maxLooked = 5_000

// Propose returns what the columns of a file seem to be: by the words in their
// headers, the units there, in a row below or beside the numbers, and by the
// numbers themselves. It decides nothing: a mapping with doubts warns of each of
// them when it is used, until somebody has looked.
//
// Errors: [ErrEmpty], [ErrNoRows], [ErrTooLarge], [ErrNotText], *[HeaderError],
// and those of the reader.
func Propose(r io.Reader) (*Proposal, error) {
	if r == nil {
		return nil, fmt.Errorf("lesson: no file to read: the reader is nil")
	}
	text, warnings, err := readText(r, "lesson file", maxBytes)
	if err != nil {
		return nil, fmt.Errorf("lesson: %w", err)
	}
	h, rows, err := likelyHeader(text)
	if err != nil {
		return nil, fmt.Errorf("lesson: %w", err)
	}
	p := &Proposal{Mapping: &Mapping{}, Line: h.line}
	for _, w := range warnings {
		p.doubt("%v", w)
	}
	columns := lookAt(h, rows)
	if len(columns) == 0 {
		return nil, fmt.Errorf("lesson: %w", ErrNoRows)
	}
	settleNumbers(columns, h.sep)
	nameMeasures(columns)
	for _, c := range columns {
		c.settle()
	}
	doubtSides(columns)
	p.collect(columns)
	return p, nil
}

func (p *Proposal) doubt(format string, args ...any) {
	p.Doubts = append(p.Doubts, fmt.Sprintf(format, args...))
}

// likelyHeader returns the line near the top that has the most words for our
// measures, the first of them where several have as many.
func likelyHeader(text string) (best *header, rows *scanner, err error) {
	most := -1
	lines := &scanner{text: text, sep: ',', line: 1}
	for range maxTitleLines {
		rest := text[lines.pos:]
		short := rest[:min(len(rest), maxHeaderBytes)]
		h, s, fault := splitHeader(short, nil)
		if fault != nil {
			if err == nil {
				err = fault
			}
		} else if n := h.known(); n > most {
			most, best = n, h
			s.text, s.pos, s.line = text, s.pos+lines.pos, s.line+lines.line-1
			rows = s
			best.line += lines.line - 1
		}
		lines.pos, lines.line = lines.skipLineEnd(lines.lineEnd(lines.pos)), lines.line+1
		if lines.pos == len(text) {
			break
		}
	}
	if best == nil {
		return nil, nil, err
	}
	return best, rows, nil
}

// known counts the columns with a word for one of our measures.
func (h *header) known() int {
	n := 0
	for i, written := range h.written {
		if _, ok := measureOf(h.names[i]); ok || headerWords[headerPhrase(written)] != "" {
			n++
		}
	}
	return n
}

// A lookedAt is a column with the values that were looked at.
type lookedAt struct {
	written string
	unit    string // that the header or a row below it names
	values  []string
	shape   numberShape
	field   Field
	doubts  []string
}

func (c *lookedAt) doubt(format string, args ...any) {
	c.doubts = append(c.doubts, fmt.Sprintf(format, args...))
}

// lookAt collects the values of the columns.
func lookAt(h *header, rows *scanner) []*lookedAt {
	columns := make([]*lookedAt, len(h.written))
	for i, written := range h.written {
		columns[i] = &lookedAt{written: written, unit: unitCode(h.names[i])}
	}
	n := 0
	for rec, ok := rows.next(); ok && n < maxLooked; rec, ok = rows.next() {
		if rec.quote >= 0 || len(rec.fields) != len(columns) || slices.Equal(rec.fields, h.written) {
			continue
		}
		if units, ok := readUnitsRow(rec.fields); ok && n == 0 {
			for i, u := range units {
				if columns[i].unit == "" {
					columns[i].unit = u
				}
			}
			continue
		}
		n++
		for i, cell := range rec.fields {
			if cell != "" && len(cell) <= maxField {
				columns[i].values = append(columns[i].values, unguard(cell))
			}
		}
	}
	if n == 0 {
		return nil
	}
	return columns
}

// collect puts the columns into the mapping and says what is missing.
func (p *Proposal) collect(columns []*lookedAt) {
	seen := map[string]bool{}
	for _, c := range columns {
		name := strings.TrimSpace(c.written)
		switch {
		case name == "" && len(c.values) == 0:
			continue
		case name == "":
			p.doubt("a column without a name holds values such as %q: name it in the file to use it", clip(c.values[0]))
			continue
		case seen[cmp.Or(canonical(name), name)]:
			p.doubt("two columns are called %q: a mapping can't tell them apart, so rename one in the file", clip(name))
			continue
		}
		seen[cmp.Or(canonical(name), name)] = true
		for _, text := range c.shape.missing {
			if !slices.Contains(p.Mapping.Missing, text) {
				p.Mapping.Missing = append(p.Mapping.Missing, text)
			}
		}
		c.field.Doubt = strings.Join(c.doubts, "; ")
		p.Mapping.Fields = append(p.Mapping.Fields, c.field)
	}
	for _, want := range []string{"carry", "side"} {
		if slices.ContainsFunc(columns, func(c *lookedAt) bool { return c.field.Measure == want }) {
			continue
		}
		var may []string
		for _, c := range columns {
			if c.field.Measure == None && couldBe(want, c) {
				may = append(may, c.written)
			}
		}
		if len(may) == 0 {
			p.doubt("no column seems to be %s, which is needed", want)
		} else {
			p.doubt("no column seems to be %s, which is needed; by its numbers it could be %s: write \"measure\": \"%s\" in the field of the column that is", want, quoteAll(may), want)
		}
	}
}
