package lesson

import (
	"errors"
	"fmt"
	"io"
)

// Read returns the lesson in a file of separated values: a header line, then
// one row a shot, in the order hit. docs/data-format.md describes the columns.
//
// The separator is a comma, a semicolon or a tab, whichever fits the header;
// with the latter two a decimal comma is read as well as a decimal point.
// Columns come in any order and case; carry and side are needed, the others are
// kept as numbers or text. Text is UTF-8, lines end in LF, CR LF or CR, and
// blank lines count for nothing but the line numbers. A file may have 256 MB,
// a million rows and a thousand columns.
//
// A row is rejected, with its line and column, when its quotes or its number of
// fields are wrong and when carry or side is missing, no finite decimal number,
// beyond a million, or, for a carry, negative. len(Shots) + len(Rejected) is
// always Rows. No order is ever changed and no shot left out because of its
// size.
//
// Errors: [ErrEmpty], [ErrNoRows], [ErrTooLarge], [ErrNotText], an error of the
// reader; *[HeaderError] for a header without carry and side, or with two of
// them; *[ChoiceError] for several pupils or sessions of which none was picked;
// *[MarkupError] for stages that cannot be told. Warnings in the result are of
// the kinds [ErrUnit], [ErrColumn], [ErrEncoding], [ErrDecimals],
// [ErrUnlikely], [ErrTimeOrder], [ErrMixed], [ErrStage] and [ErrNoShots].
//
// Reference: Y. Shafranovich, "Common Format and MIME Type for Comma-Separated
// Values (CSV) Files", RFC 4180, 2005, for files that keep to it.
func Read(r io.Reader, o ReadOptions) (*Lesson, error) {
	l, err := read(r, o)
	if err != nil {
		return nil, fmt.Errorf("lesson: %w", err)
	}
	return l, nil
}

func read(r io.Reader, o ReadOptions) (*Lesson, error) {
	if r == nil {
		return nil, errors.New("no file to read: the reader is nil")
	}
	text, warnings, err := readText(r, "lesson file", maxBytes)
	if err != nil {
		return nil, err
	}
	l := &Lesson{Warnings: warnings}
	h, scan, warnings, err := readHeader(text, o.Unit)
	if err != nil {
		return nil, err
	}
	l.Unit = h.carryUnit
	l.warn(warnings)
	rows, err := readRows(scan, h, maxRows)
	if err != nil {
		return nil, err
	}
	if rows, err = l.choose(rows, h, o); err != nil {
		return nil, err
	}
	labels, void, warnings, err := labelRows(rows, h, o)
	if err != nil {
		return nil, err
	}
	l.warn(warnings)
	l.fill(rows, h, labels, void)
	return l, nil
}

func (l *Lesson) warn(warnings []error) { l.Warnings = append(l.Warnings, warnings...) }

// choose keeps the rows of one pupil and one session.
func (l *Lesson) choose(rows []row, h *header, o ReadOptions) ([]row, error) {
	rows, name, warnings, err := choose(rows, "pupil", h.pupil, o.Pupil)
	if err != nil {
		return nil, err
	}
	l.Pupil = name
	l.warn(warnings)
	rows, name, warnings, err = choose(rows, "session", h.session, o.Session)
	l.Session = name
	l.warn(warnings)
	return rows, err
}

// fill turns rows into shots, rejections and stages.
func (l *Lesson) fill(rows []row, h *header, labels []label, void []string) {
	l.Rows = len(rows)
	columns, index, warnings := describeColumns(h, rows)
	l.Columns = columns
	l.warn(warnings)

	club, stage := speller(), speller()
	l.Shots = make([]Shot, 0, len(rows))
	shotLabels := make([]label, 0, len(rows))
	for i, r := range rows {
		labels[i].stage = stage(labels[i].stage)
		if r.rejected != nil {
			l.Rejected = append(l.Rejected, *r.rejected)
			continue
		}
		s := Shot{Line: r.line, Ball: i + 1, Carry: r.carry, Side: r.side, Void: void[i], cells: r.cells, index: index}
		if h.club >= 0 {
			s.Club = club(r.cells[h.club])
		}
		l.Shots = append(l.Shots, s)
		shotLabels = append(shotLabels, labels[i])
	}
	stages, warnings := sortIntoStages(l.Shots, shotLabels)
	l.Stages = stages
	l.warn(warnings)
	l.warn(doubtStages(labels, shotLabels))
	if len(l.Shots) == 0 {
		l.warn([]error{warning(ErrNoShots, "%s rejected, the first because of line %d: %s", count(l.Rows, "row"), l.Rejected[0].Line, l.Rejected[0].Reason)})
	}
	l.warn(doubtDecimals(rows, h, columns, index))
	l.warn(doubtShots(l.Shots, l.Unit))
	l.warn(doubtTimes(rows, h.time))
	if surfaces, counts := tally(rows, h.surface); len(surfaces) > 1 {
		l.warn([]error{warning(ErrMixed, "%d surfaces, %q (%s) and %q (%s) among them: compare like with like",
			len(surfaces), clip(surfaces[0]), count(counts[0], "row"), clip(surfaces[1]), count(counts[1], "row"))})
	}
}
