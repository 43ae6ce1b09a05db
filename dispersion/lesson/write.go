package lesson

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
)

// An outColumn is one column of the canonical CSV.
type outColumn struct {
	field Field
	cell  func(s Shot) string
}

// WriteCSV writes the shots the plain way: one file of comma separated values in
// UTF-8, the columns of docs/data-format.md in their order and the further ones
// after them, decimal points, ISO times where they were read as times, the
// stage, its cue and what was expected, and the reason of a void shot in columns
// of their own. Rows that could not be read are not there.
//
// [Read] gives back every number bit for bit, and every text but for blanks
// around it; writing that again gives the same bytes. A text that a spreadsheet
// would run as a formula gets an apostrophe before it, which Read takes away.
//
// Errors: [ErrNoRows] for a lesson without shots; those of the writer.
func (l *Lesson) WriteCSV(w io.Writer) error {
	columns, err := l.outColumns()
	if err != nil {
		return err
	}
	out := csv.NewWriter(w)
	record := make([]string, len(columns))
	for i, c := range columns {
		record[i] = guard(c.field.Name)
	}
	if err := out.Write(record); err != nil {
		return fmt.Errorf("lesson: %w", err)
	}
	for _, s := range l.Shots {
		for i, c := range columns {
			record[i] = guard(c.cell(s))
		}
		if err := out.Write(record); err != nil {
			return fmt.Errorf("lesson: %w", err)
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("lesson: %w", err)
	}
	return nil
}

// outColumns returns the columns to write, those of ours in their order.
func (l *Lesson) outColumns() ([]outColumn, error) {
	if l == nil || len(l.Shots) == 0 {
		return nil, fmt.Errorf("lesson: nothing to write: %w", ErrNoRows)
	}
	if err := l.Unit.check(); err != nil {
		return nil, fmt.Errorf("lesson: %w", err)
	}
	columns := l.roleColumns()
	for _, c := range l.Columns {
		if c.Name == "cue" || c.Name == "expect" {
			continue // written with the stage
		}
		columns = append(columns, furtherColumn(c))
	}
	slices.SortStableFunc(columns, func(a, b outColumn) int { return cmp.Compare(a.field.place(), b.field.place()) })
	return columns, nil
}

// place is where a field stands in the order of shot columns.
func (f Field) place() int {
	of, ok := f.measure()
	if !ok {
		return len(measures)
	}
	return slices.IndexFunc(measures, func(m measure) bool { return m.name == of.name })
}

// roleColumns are those that make up a shot and its stage.
func (l *Lesson) roleColumns() []outColumn {
	stages := map[string]Stage{}
	for _, s := range l.Stages {
		stages[s.Name] = s
	}
	text := func(name string, cell func(Shot) string) outColumn {
		return outColumn{Field{Name: name, Measure: name, Type: "string"}, cell}
	}
	length := func(name string, value func(Shot) float64) outColumn {
		m, _ := findMeasure(name)
		return outColumn{Field{Name: m.column(string(l.Unit)), Measure: name, Unit: string(l.Unit), Type: "number"},
			func(s Shot) string { return formatNumber(value(s)) }}
	}
	// What was expected of a stage is what its first shot says of it.
	said := map[string]bool{}
	first := func(s Shot) bool { was := said[s.Stage]; said[s.Stage] = true; return !was }
	columns := []outColumn{
		text("pupil", func(Shot) string { return l.Pupil }),
		text("session", func(Shot) string { return l.Session }),
		text("stage", func(s Shot) string { return s.Stage }),
		text("intent", func(s Shot) string { return string(s.Intent) }),
		text("club", func(s Shot) string { return s.Club }),
		text("expect", func(s Shot) string {
			own, _ := s.Text("expect")
			if first(s) {
				return cmp.Or(stages[s.Stage].Expect, own)
			}
			return own
		}),
		text("cue", func(s Shot) string { return stages[s.Stage].Cue }),
		text("void", func(s Shot) string { return s.Void }),
	}
	columns = slices.DeleteFunc(columns, func(c outColumn) bool {
		empty := !slices.ContainsFunc(l.Shots, func(s Shot) bool { return c.cell(s) != "" })
		clear(said)
		return empty
	})
	return append(columns,
		length("carry", func(s Shot) float64 { return s.Carry }),
		length("side", func(s Shot) float64 { return s.Side }))
}

// furtherColumn is a column beyond those, under its own name.
func furtherColumn(c Column) outColumn {
	f := Field{Name: c.Name, Measure: None, Type: "string"}
	if _, ok := measureOf(c.Name); ok {
		f.Measure = "" // its name says it
	}
	if !c.Numeric {
		return outColumn{f, func(s Shot) string { text, _ := s.Text(c.Name); return text }}
	}
	f.Type, f.Unit = "number", unitCode(c.Name)
	return outColumn{f, func(s Shot) string {
		v, ok := s.Value(c.Name)
		if !ok {
			return ""
		}
		return formatNumber(v)
	}}
}

// formatNumber writes the shortest decimal number that reads back as the same
// bits, in digits alone unless there would be very many.
func formatNumber(v float64) string {
	format := byte('f')
	if a := max(v, -v); a != 0 && (a < 1e-6 || a >= 1e15) {
		format = 'e'
	}
	return strconv.FormatFloat(v, format, -1, 64)
}
