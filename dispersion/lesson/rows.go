package lesson

import (
	"fmt"
	"math"
	"slices"
)

// maxLength is the largest carry or side that is read, in any unit. A number
// beyond it is a device's way to say that it saw nothing.
const maxLength = 1e6

// A row is one data row: readable, or rejected.
type row struct {
	line        int
	cells       []string // as many as the header has; nil when the row doesn't split up
	carry, side float64  // both in the unit of carry
	rejected    *Rejection
}

// readRows reads every row after the header. More than limit rows are refused.
func readRows(s *scanner, h *header, limit int) ([]row, error) {
	rows := make([]row, 0, min(lineEnds(s.text[s.pos:])+1, limit))
	for {
		rec, ok := s.next()
		if !ok {
			break
		}
		if len(rows) == limit {
			return nil, fmt.Errorf("line %d: more than %d rows: %w", rec.line, limit, ErrTooLarge)
		}
		rows = append(rows, readRow(rec, h))
	}
	if len(rows) == 0 {
		return nil, ErrNoRows
	}
	return rows, nil
}

func readRow(rec record, h *header) row {
	r := row{line: rec.line}
	reject := func(column, reason string) row {
		r.rejected = &Rejection{rec.line, column, reason}
		return r
	}
	if rec.quote >= 0 {
		column := ""
		if rec.quote < len(h.written) {
			column = h.written[rec.quote]
		}
		return reject(column, `a quote (") is not closed, or more text follows the closing one: close it, and double quotes inside the text`)
	}
	if n := len(rec.fields) + rec.over; n != len(h.names) {
		return reject("", fmt.Sprintf("%s where the header has %d: check the separators, and put a text that contains one in quotes", count(n, "field"), len(h.names)))
	}
	if slices.Equal(rec.fields, h.written) {
		return reject("", "it is the header once more and no ball: several exports in one file are read as one")
	}
	r.cells = rec.fields
	var faults map[int]string
	for i, cell := range r.cells {
		if len(cell) > maxField {
			r.cells = nil
			return reject(h.written[i], fmt.Sprintf("%d bytes in one field, where %d are the most: shorten it", len(cell), maxField))
		}
		cell = unguard(cell)
		if turn := h.turn[i]; turn != nil {
			var fault string
			if cell, fault = turn(cell); fault != "" {
				if faults == nil {
					faults = map[int]string{}
				}
				faults[i] = fault
			}
		}
		r.cells[i] = cell
	}
	for _, i := range []int{h.carry, h.side} {
		if fault := faults[i]; fault != "" {
			return reject(h.written[i], fault)
		}
	}

	var fault string
	if r.carry, fault = readLength(r.cells[h.carry], h.decimalComma(h.carry)); fault != "" {
		return reject(h.written[h.carry], fault)
	}
	if r.carry < 0 {
		return reject(h.written[h.carry], fmt.Sprintf("%q is negative: a carry is 0 or more", clip(r.cells[h.carry])))
	}
	if r.side, fault = readLength(r.cells[h.side], h.decimalComma(h.side)); fault != "" {
		return reject(h.written[h.side], fault)
	}
	r.side = h.sideUnit.convert(r.side, h.carryUnit)
	return r
}

func readLength(text string, decimalComma bool) (float64, string) {
	v, fault := parseNumber(text, decimalComma)
	if fault == "" && math.Abs(v) > maxLength {
		fault = fmt.Sprintf("%q is beyond a million: no ball goes there; leave the cell empty if nothing was measured", clip(text))
	}
	return v, fault
}
