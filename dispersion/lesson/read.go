package lesson

import (
	"errors"
	"fmt"
	"io"
	"slices"
)

// Read returns the lesson in a file of separated values: a header line, then
// one row a shot, in the order hit. docs/data-format.md describes the columns.
//
// The separator is a comma, a semicolon or a tab, whichever fits the header;
// with the latter two a decimal comma is read as well as a decimal point.
// Columns come in any order and case; carry and side are needed, the others are
// kept as numbers or text. Where the file has other names or ways to write a
// number or a side, o.Columns says which. Text is UTF-8 or UTF-16, packed with
// gzip or not; lines end in LF, CR LF or CR, and blank lines count for nothing
// but the line numbers. Lines above the header and a row of units below it are
// no balls. A file may have 256 MB, a million rows, a thousand columns and 1 MB
// in a field.
//
// A row is rejected, with its line and column, when its quotes, its number of
// fields or the size of one are wrong and when carry or side is missing, no
// finite decimal number, beyond a million, or, for a carry, negative. len(Shots) + len(Rejected) is
// always Rows. No order is ever changed and no shot left out because of its
// size.
//
// Errors: [ErrEmpty], [ErrNoRows], [ErrTooLarge], [ErrNotText], an error of the
// reader; *[HeaderError] for a header without carry and side, with two of
// them, or with clubs under another name; *[MappingError] for a mapping that
// makes no sense; *[ChoiceError] for several pupils or sessions of which none was picked;
// *[MarkupError] for stages that cannot be told. Warnings in the result are of
// the kinds [ErrUnit], [ErrColumn], [ErrEncoding], [ErrDecimals],
// [ErrUnlikely], [ErrTimeOrder], [ErrMixed], [ErrStage], [ErrTitle],
// [ErrMirrored] and [ErrNoShots].
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
	f, err := openFile(r, o)
	if err != nil {
		return nil, err
	}
	return f.lesson(o)
}

// A file is what was read of it before its rows become shots: those of one
// pupil.
type file struct {
	header   *header
	rows     []row
	pupil    string
	warnings []error

	club, stage func(name string) string // the spelling that came first
}

func openFile(r io.Reader, o ReadOptions) (*file, error) {
	if r == nil {
		return nil, errors.New("no file to read: the reader is nil")
	}
	text, warnings, err := readText(r, "lesson file", maxBytes)
	if err != nil {
		return nil, err
	}
	h, scan, more, err := readHeader(text, o)
	if err != nil {
		return nil, err
	}
	f := &file{header: h, warnings: append(warnings, more...), club: speller(), stage: speller()}
	if f.rows, err = readRows(scan, h, maxRows); err != nil {
		return nil, err
	}
	f.rows, f.pupil, warnings, err = choose(f.rows, "pupil", h.pupil, o.Pupil)
	f.warnings = append(f.warnings, warnings...)
	return f, err
}

// lesson makes the lesson of one session.
func (f *file) lesson(o ReadOptions) (*Lesson, error) {
	rows, session, warnings, err := choose(f.rows, "session", f.header.session, o.Session)
	if err != nil {
		return nil, err
	}
	f.warnings = append(f.warnings, warnings...)
	return f.label(rows, session, o)
}

// label makes a lesson of the rows of one session.
func (f *file) label(rows []row, session string, o ReadOptions) (*Lesson, error) {
	l := &Lesson{Pupil: f.pupil, Session: session, Unit: f.header.carryUnit, Warnings: slices.Clone(f.warnings)}
	warnings, err := doubtNames(rows, f.header)
	if err != nil {
		return nil, err
	}
	l.warn(warnings)
	labels, void, warnings, err := labelRows(rows, f.header, o)
	if err != nil {
		return nil, err
	}
	l.warn(warnings)
	l.fill(rows, f, labels, void, o.Mirror)
	return l, nil
}

func (l *Lesson) warn(warnings []error) { l.Warnings = append(l.Warnings, warnings...) }

// fill turns rows into shots, rejections and stages.
func (l *Lesson) fill(rows []row, f *file, labels []label, void []string, mirror bool) {
	h := f.header
	l.Rows = len(rows)
	columns, index, warnings := describeColumns(h, rows)
	l.Columns = columns
	l.warn(warnings)
	if mirror {
		l.Mirrored = true
		l.warn([]error{index.mirror(columns)})
	}

	l.Shots = make([]Shot, 0, len(rows))
	shotLabels := make([]label, 0, len(rows))
	for i, r := range rows {
		labels[i].stage = f.stage(labels[i].stage)
		if r.rejected != nil {
			l.Rejected = append(l.Rejected, *r.rejected)
			continue
		}
		s := Shot{Line: r.line, Ball: i + 1, Carry: r.carry, Side: r.side, Void: void[i], cells: r.cells, index: index}
		if mirror {
			s.Side = 0 - s.Side
		}
		if h.club >= 0 {
			s.Club = f.club(r.cells[h.club])
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
	if surfaces, counts := tally(rows, h.surface, false); len(surfaces) > 1 {
		l.warn([]error{warning(ErrMixed, "%d surfaces, %q (%s) and %q (%s) among them: compare like with like",
			len(surfaces), clip(surfaces[0]), count(counts[0], "row"), clip(surfaces[1]), count(counts[1], "row"))})
	}
}
