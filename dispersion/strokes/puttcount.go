package strokes

import (
	"fmt"
	"io"
)

// A PuttCount is how many putts from one distance were tried and holed.
type PuttCount struct {
	Distance     float64 // metres
	Tried, Holed int
}

// The hole and the ball, in metres. A ball whose middle passes within clearance
// of the middle of the hole falls in, if it is not too fast.
//
// Reference: Rules of Golf: a hole is 4.25 inches across; Equipment Rules: a
// ball is not less than 1.68 inches across.
const (
	inch       = 0.0254
	holeRadius = 4.25 / 2 * inch
	ballRadius = 1.68 / 2 * inch
	clearance  = holeRadius - ballRadius
)

// ReadPutts returns the counts in a table with the columns distance_m,
// distance_yd or distance_ft, tried and holed, one row for each distance.
// Further columns are passed over.
//
// Errors: [ErrMissing] for a nil reader; *[TableError]; an error of the reader.
func ReadPutts(r io.Reader) ([]PuttCount, error) {
	putts, err := readPutts(r)
	if err != nil {
		return nil, fmt.Errorf("strokes: putts: %w", err)
	}
	return putts, nil
}

func readPutts(r io.Reader) ([]PuttCount, error) {
	t, err := readTable(r)
	if err != nil {
		return nil, err
	}
	if err := t.need("tried", "holed"); err != nil {
		return nil, err
	}
	if err := t.needDistance("distance"); err != nil {
		return nil, err
	}
	putts := make([]PuttCount, 0, len(t.rows))
	for _, row := range t.rows {
		var p PuttCount
		if p.Distance, err = t.distance(row, "distance"); err != nil {
			return nil, err
		}
		if p.Tried, err = t.whole(row, "tried"); err != nil {
			return nil, err
		}
		if p.Holed, err = t.whole(row, "holed"); err != nil {
			return nil, err
		}
		if reason := p.fault(); reason != "" {
			return nil, &TableError{Line: row.line, Reason: reason}
		}
		putts = append(putts, p)
	}
	return putts, nil
}

// fault tells what is wrong with a count, "" if nothing is.
func (p PuttCount) fault() string {
	switch {
	case !(p.Distance > clearance && p.Distance <= maxDistance):
		return fmt.Sprintf("%g m is no distance of a putt: nearer than %.4f m the ball has dropped", p.Distance, clearance)
	case p.Tried < 1 || p.Holed < 0 || p.Holed > p.Tried:
		return fmt.Sprintf("%d holed of %d putts can't be: at least one must be tried, and between none and all holed", p.Holed, p.Tried)
	}
	return ""
}

// checkPutts returns the number of putts in counts that can be fitted.
func checkPutts(putts []PuttCount, rows int, what string) (tried int, err error) {
	if len(putts) < rows {
		return 0, fmt.Errorf("strokes: %s needs putts from at least %d distances, not %d: %w", what, rows, len(putts), ErrMissing)
	}
	for i, p := range putts {
		if reason := p.fault(); reason != "" {
			return 0, fmt.Errorf("strokes: count %d: %s: %w", i, reason, ErrPutts)
		}
		tried += p.Tried
	}
	return tried, nil
}
