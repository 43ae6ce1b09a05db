package lesson

import (
	"errors"
	"fmt"
)

// SetCells gives the shots of a lesson that was not read from a file what they
// have in the further columns: cells[i][j] is that of Shots[i] in Columns[j],
// "" for nothing, numbers with a decimal point. It replaces what they had, and
// keeps the slices.
//
// Errors: a *[CellError] for a row too few or too many, a row of another width
// than Columns, and a text in a numeric column; the lesson is then as it was.
func (l *Lesson) SetCells(cells [][]string) error {
	if l == nil {
		return errors.New("lesson: no lesson to give cells to: it is nil")
	}
	if len(cells) != len(l.Shots) {
		return fmt.Errorf("lesson: %w", &CellError{Shot: min(len(cells), len(l.Shots)), Reason: fmt.Sprintf("%s of cells for %s: give one for each", count(len(cells), "row"), count(len(l.Shots), "shot"))})
	}
	index := &columnIndex{at: map[string]int{}, numeric: map[string]bool{}}
	for j, c := range l.Columns {
		index.at[c.Name], index.numeric[c.Name] = j, c.Numeric
	}
	for i, row := range cells {
		if len(row) != len(l.Columns) {
			return fmt.Errorf("lesson: %w", &CellError{Shot: i, Reason: fmt.Sprintf("%s for %s", count(len(row), "cell"), count(len(l.Columns), "column"))})
		}
		for j, c := range l.Columns {
			if !c.Numeric || row[j] == "" {
				continue
			}
			if _, fault := parseNumber(row[j], false); fault != "" {
				return fmt.Errorf("lesson: %w", &CellError{Shot: i, Column: c.Name, Reason: fault})
			}
		}
	}
	for i := range l.Shots {
		l.Shots[i].cells, l.Shots[i].index = cells[i], index
	}
	return nil
}

// A CellError says which cell that [Lesson.SetCells] was given will not do.
type CellError struct {
	Shot   int    // place in Lesson.Shots
	Column string // "" where the row as a whole is at fault
	Reason string
}

func (e *CellError) Error() string {
	if e.Column == "" {
		return fmt.Sprintf("cells of shot %d: %s", e.Shot, e.Reason)
	}
	return fmt.Sprintf("cells of shot %d, column %q: %s", e.Shot, clip(e.Column), e.Reason)
}
