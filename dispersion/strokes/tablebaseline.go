package strokes

import (
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
)

// A TableBaseline is a baseline read from a table of one's own.
type TableBaseline struct {
	curves
	source   string
	warnings []error
}

// mostFall is how far expected strokes may fall from one row to the next before
// that is taken for a slip of the pen, in strokes.
const mostFall = 0.25

// ReadBaseline reads a baseline from a table with the columns
//
//	lie              tee, fairway, rough, sand, recovery or green
//	distance_m       or distance_yd or distance_ft; with several, one is filled in
//	strokes          expected strokes from there, the next one counted
//	standard_error   of the strokes; may be left out
//
// one row for each lie and distance, in any order. Further columns are passed
// over. The source says where the numbers come from.
//
// Between two rows of a lie a straight line is drawn. Nearer than the first row
// a table of the green runs straight to one stroke at the hole, that of another
// lie stays at its first row; beyond the last row there is no answer. Where
// strokes fall with the distance the neighbours are pooled, with a warning; a
// fall of more than a quarter of a stroke is an error.
//
// Errors: [ErrMissing] for a nil reader or no source; *[TableError]; an error of
// the reader.
func ReadBaseline(r io.Reader, source string) (*TableBaseline, error) {
	b, err := readBaseline(r, source)
	if err != nil {
		return nil, fmt.Errorf("strokes: baseline: %w", err)
	}
	return b, nil
}

// A baselineRow is one line of a table of expected strokes.
type baselineRow struct {
	line                     int
	distance, strokes, error float64
	hasError                 bool
}

func readBaseline(r io.Reader, source string) (*TableBaseline, error) {
	if source == "" {
		return nil, fmt.Errorf("say where the numbers come from: %w", ErrMissing)
	}
	t, err := readTable(r)
	if err != nil {
		return nil, err
	}
	if err := t.need("lie", "strokes"); err != nil {
		return nil, err
	}
	if err := t.needDistance("distance"); err != nil {
		return nil, err
	}
	var rows [numLies][]baselineRow
	for _, cells := range t.rows {
		lie, row, err := t.baselineRow(cells)
		if err != nil {
			return nil, err
		}
		rows[lie] = append(rows[lie], row)
	}
	b := &TableBaseline{source: source}
	for _, lie := range Lies() {
		if len(rows[lie]) == 0 {
			continue
		}
		c, err := curveOf(lie, rows[lie])
		if err != nil {
			return nil, err
		}
		b.warnings = append(b.warnings, levelled(lie, makeMonotone(c.expected, nil))...)
		b.curves[lie] = c
	}
	return b, nil
}

func (t *table) baselineRow(cells tableRow) (lie Lie, row baselineRow, err error) {
	row.line = cells.line
	if lie, err = t.lie(cells, "lie"); err != nil {
		return 0, row, err
	}
	if row.distance, err = t.distance(cells, "distance"); err != nil {
		return 0, row, err
	}
	if row.distance == 0 {
		return 0, row, &TableError{Line: cells.line, Reason: "at distance 0 the ball is in the hole: leave the row out"}
	}
	if row.strokes, err = t.number(cells, "strokes"); err != nil {
		return 0, row, err
	}
	if !(row.strokes >= 1 && row.strokes <= 50) {
		return 0, row, &TableError{Line: cells.line, Column: "strokes", Reason: fmt.Sprintf("%g can't be: at least one stroke is left, and no more than 50", row.strokes)}
	}
	if t.text(cells, "standard_error") == "" {
		return lie, row, nil
	}
	row.hasError = true
	if row.error, err = t.number(cells, "standard_error"); err != nil {
		return 0, row, err
	}
	if !(row.error >= 0 && row.error <= 50) {
		return 0, row, &TableError{Line: cells.line, Column: "standard_error", Reason: fmt.Sprintf("%g is no standard error of strokes", row.error)}
	}
	return lie, row, nil
}

// curveOf puts the rows of one lie in order and checks them against each other.
func curveOf(lie Lie, rows []baselineRow) (curve, error) {
	slices.SortStableFunc(rows, func(a, b baselineRow) int { return cmp.Compare(a.distance, b.distance) })
	var c curve
	if lie == Green {
		c = curve{distance: []float64{0}, expected: []float64{1}, se: []float64{0}}
	}
	withError := true
	for i, r := range rows {
		if i > 0 {
			last := rows[i-1]
			if r.distance == last.distance {
				return curve{}, &TableError{Line: max(r.line, last.line), Reason: fmt.Sprintf("line %d has the %v at this distance too: keep one", min(r.line, last.line), lie)}
			}
			if last.strokes-r.strokes > mostFall {
				return curve{}, &TableError{Line: r.line, Column: "strokes", Reason: fmt.Sprintf("%g strokes from the %v, but %g from nearer by on line %d: one of them is wrong", r.strokes, lie, last.strokes, last.line)}
			}
		}
		c.distance, c.expected, c.se = append(c.distance, r.distance), append(c.expected, r.strokes), append(c.se, r.error)
		withError = withError && r.hasError
	}
	if !withError {
		c.se = nil
	}
	return c, nil
}

// Source implements [Baseline].
func (b *TableBaseline) Source() string { return b.source }

// Warnings returns a *[FallWarning] for every lie whose strokes fell with the
// distance somewhere.
func (b *TableBaseline) Warnings() []error { return append([]error(nil), b.warnings...) }

// WriteBaseline writes what a baseline expects at the distances in metres given
// for each lie as a table that [ReadBaseline] reads, to four decimals. The column
// standard_error is empty where none is stated.
//
// Errors: [ErrMissing] for a nil writer or baseline; [ErrShot] for the distance 0,
// which is in the hole; an error of the writer; those of the baseline.
func WriteBaseline(w io.Writer, b Baseline, distances map[Lie][]float64) error {
	if w == nil || b == nil {
		return fmt.Errorf("strokes: write a baseline: %w", ErrMissing)
	}
	out := csv.NewWriter(w)
	_ = out.Write([]string{"lie", "distance_m", "strokes", "standard_error"}) // Flush reports
	number := func(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }
	for _, lie := range Lies() {
		for _, x := range distances[lie] {
			if x == 0 {
				return fmt.Errorf("strokes: write a baseline: 0 m on the %v is in the hole: %w", lie, ErrShot)
			}
			e, err := b.Expected(lie, x)
			if err != nil {
				return err
			}
			se, err := b.StandardError(lie, x)
			text := ""
			switch {
			case err == nil:
				text = number(se, 4)
			case !errors.Is(err, ErrNoStandardError):
				return err
			}
			_ = out.Write([]string{lie.String(), number(x, -1), number(e, 4), text})
		}
	}
	out.Flush()
	return out.Error()
}
