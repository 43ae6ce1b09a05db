package lesson

import "strings"

// doubtDecimals warns of numbers with decimal commas and others with decimal
// points, where a comma may have been meant for thousands: 6,500 is read as 6.5.
// Where commas separate the fields, no number has one.
func doubtDecimals(rows []row, h *header, columns []Column, index *columnIndex) []error {
	numeric := []int{h.carry, h.side}
	for _, c := range columns {
		if c.Numeric {
			numeric = append(numeric, index.at[c.Name])
		}
	}
	comma, point := firstWith(rows, numeric, ','), firstWith(rows, numeric, '.')
	if comma == 0 || point == 0 {
		return nil
	}
	return []error{warning(ErrDecimals, "line %d has a number with a comma and line %d one with a point: both were read as decimals; write one of them, and no thousands separator", comma, point)}
}

// firstWith returns the line of the first readable row with a mark in one of
// the columns; 0 for none.
func firstWith(rows []row, columns []int, mark byte) int {
	for _, r := range rows {
		if r.rejected != nil {
			continue
		}
		for _, c := range columns {
			if strings.IndexByte(r.cells[c], mark) >= 0 {
				return r.line
			}
		}
	}
	return 0
}
