package strokes

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// What a table may have at most. A season of rounds is a few thousand rows.
const (
	maxTableBytes = 64 << 20
	maxTableRows  = 1_000_000
)

// A table is a file of separated values whose header is known.
type table struct {
	columns map[string]int // by lower-case name
	rows    []tableRow
	comma   bool // commas separate, so that no number can have one
}

type tableRow struct {
	line  int
	cells []string
}

// readTable reads a table that has at least one row. The separator is a comma,
// a semicolon or a tab, whichever is most frequent in the header.
func readTable(r io.Reader) (*table, error) {
	if r == nil {
		return nil, fmt.Errorf("the reader is nil: %w", ErrMissing)
	}
	limited := &io.LimitedReader{R: r, N: maxTableBytes + 1}
	buffered := bufio.NewReader(limited)
	if mark, err := buffered.Peek(3); err == nil && string(mark) == "\uFEFF" {
		_, _ = buffered.Discard(3) // the three bytes just peeked at
	}
	// The header is short; what Peek can't see of it decides nothing.
	start, err := buffered.Peek(4096)
	if err != nil && len(start) == 0 && !errors.Is(err, io.EOF) {
		return nil, err
	}
	sep := separator(string(start))
	reader := csv.NewReader(buffered)
	reader.Comma, reader.TrimLeadingSpace, reader.ReuseRecord = sep, sep != '\t', false
	t := &table{columns: map[string]int{}, comma: sep == ','}
	header, err := reader.Read()
	if errors.Is(err, io.EOF) {
		return nil, &TableError{Reason: "the file is empty: it needs a header line and a row for each entry"}
	}
	if err != nil {
		return nil, rowError(err)
	}
	line, _ := reader.FieldPos(0)
	for i, name := range header {
		name = strings.ToLower(strings.TrimSpace(name))
		if _, twice := t.columns[name]; twice && name != "" {
			return nil, &TableError{Line: line, Column: clip(name), Reason: "there are two columns of this name: keep one"}
		}
		t.columns[name] = i
	}
	for {
		cells, err := reader.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, rowError(err)
		}
		line, _ := reader.FieldPos(0)
		if len(t.rows) == maxTableRows {
			return nil, &TableError{Line: line, Reason: fmt.Sprintf("more than %d rows", maxTableRows)}
		}
		t.rows = append(t.rows, tableRow{line: line, cells: cells})
	}
	if limited.N <= 0 {
		return nil, &TableError{Reason: fmt.Sprintf("the file is larger than %d MB", maxTableBytes>>20)}
	}
	if len(t.rows) == 0 {
		return nil, &TableError{Reason: "the file has a header but no rows"}
	}
	return t, nil
}

func separator(text string) rune {
	header, _, _ := strings.Cut(strings.TrimLeft(text, "\r\n"), "\n")
	best := ','
	for _, sep := range []rune{';', '\t'} {
		if strings.Count(header, string(sep)) > strings.Count(header, string(best)) {
			best = sep
		}
	}
	return best
}

// rowError turns what encoding/csv reports into a TableError.
func rowError(err error) error {
	var parse *csv.ParseError
	if !errors.As(err, &parse) {
		return err
	}
	reason := parse.Err.Error()
	switch {
	case errors.Is(parse.Err, csv.ErrFieldCount):
		reason = "the row has more or fewer fields than the header"
	case errors.Is(parse.Err, csv.ErrQuote), errors.Is(parse.Err, csv.ErrBareQuote):
		reason = `a quote (") is not closed or stands inside a field: write it twice there`
	}
	return &TableError{Line: parse.StartLine, Reason: reason}
}

// need returns an error unless the table has the columns.
func (t *table) need(names ...string) error {
	for _, name := range names {
		if _, ok := t.columns[name]; !ok {
			return &TableError{Line: 1, Column: name, Reason: "the column is missing from the header"}
		}
	}
	return nil
}

// text returns a cell, "" where the table has no such column.
func (t *table) text(r tableRow, column string) string {
	if i, ok := t.columns[column]; ok {
		return strings.TrimSpace(r.cells[i])
	}
	return ""
}

// decimal is what a number looks like; strconv alone would also take NaN, Inf,
// hexadecimal digits and underscores.
var decimal = regexp.MustCompile(`^[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?$`)

// number returns a cell that holds a finite number.
func (t *table) number(r tableRow, column string) (float64, error) {
	text := t.text(r, column)
	plain := text
	if !t.comma {
		plain = strings.Replace(plain, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(plain, 64)
	switch {
	case text == "":
		return 0, &TableError{Line: r.line, Column: column, Reason: "a number is missing"}
	case !decimal.MatchString(plain) || err != nil || math.IsInf(v, 0):
		return 0, &TableError{Line: r.line, Column: column, Reason: fmt.Sprintf("%q is not a number: write digits only, the unit belongs into the header", clip(text))}
	}
	return v, nil
}

// whole returns a cell that holds a whole number from 0 to 10⁹.
func (t *table) whole(r tableRow, column string) (int, error) {
	v, err := t.number(r, column)
	if err != nil {
		return 0, err
	}
	if v < 0 || v > 1e9 || v != math.Trunc(v) {
		return 0, &TableError{Line: r.line, Column: column, Reason: fmt.Sprintf("%g is not a whole number from 0 up", v)}
	}
	return int(v), nil
}

// lie returns a cell that names a lie.
func (t *table) lie(r tableRow, column string) (Lie, error) {
	l, err := ParseLie(t.text(r, column))
	if err != nil {
		return 0, &TableError{Line: r.line, Column: column, Reason: fmt.Sprintf("%q is %v", clip(t.text(r, column)), ErrLie)}
	}
	return l, nil
}

// lengthUnits are the units a column of distances may be in. A table may have
// several, such as yards for the long shots and feet for the putts.
var lengthUnits = []lesson.Unit{lesson.Metres, lesson.Yards, lesson.Feet}

// needDistance returns an error unless the table has a column of this distance
// in some unit.
func (t *table) needDistance(base string) error {
	for _, u := range lengthUnits {
		if _, ok := t.columns[base+"_"+string(u)]; ok {
			return nil
		}
	}
	return &TableError{Line: 1, Column: base + "_yd", Reason: fmt.Sprintf("the column is missing from the header; %s_m or %s_ft will do as well", base, base)}
}

// hasDistance tells whether the row gives the distance in some unit.
func (t *table) hasDistance(r tableRow, base string) bool {
	for _, u := range lengthUnits {
		if t.text(r, base+"_"+string(u)) != "" {
			return true
		}
	}
	return false
}

// maxDistance is beyond any hole, in metres.
const maxDistance = 2000

// distance returns in metres the one distance that the row gives.
func (t *table) distance(r tableRow, base string) (float64, error) {
	column, unit := "", lesson.Metres
	for _, u := range lengthUnits {
		name := base + "_" + string(u)
		if t.text(r, name) == "" {
			continue
		}
		if column != "" {
			return 0, &TableError{Line: r.line, Column: name, Reason: fmt.Sprintf("%s is filled in too: give the distance once", column)}
		}
		column, unit = name, u
	}
	if column == "" {
		return 0, &TableError{Line: r.line, Column: base, Reason: "the distance is missing"}
	}
	v, err := t.number(r, column)
	if err != nil {
		return 0, err
	}
	metres := v * unit.Metres()
	if !(metres >= 0 && metres <= maxDistance) {
		return 0, &TableError{Line: r.line, Column: column, Reason: fmt.Sprintf("%g %s is no distance to a hole: it must be from 0 to %d m", v, unit, maxDistance)}
	}
	return metres, nil
}

func clip(text string) string {
	if runes := []rune(text); len(runes) > 40 {
		return string(runes[:40]) + "…"
	}
	return text
}
