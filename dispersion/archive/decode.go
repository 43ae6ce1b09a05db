package archive

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"

	"github.com/parquet-go/parquet-go"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// open returns the table of a session's file, after its checksum has been held
// against its name.
func (a *Archive) open(file string, n name) (*table, error) {
	data, err := os.ReadFile(filepath.Join(a.dir, file))
	if err != nil {
		return nil, fmt.Errorf("archive: %w", &FileError{file, err})
	}
	if got := checksum(data); got != n.checksum {
		return nil, fileError(file, ErrDamaged, "its checksum is %08x and its name says %08x: add the session again, or bring the file back from a copy", got, n.checksum)
	}
	var t *table
	if err := guarded(func() (err error) {
		t, err = openTable(bytes.NewReader(data), int64(len(data)))
		return err
	}); err != nil {
		return nil, unreadable(file, err)
	}
	return t, nil
}

// unreadable is for a file with the right checksum that can't be read all the
// same: somebody else wrote it, unless it is the sums that are too large.
func unreadable(file string, err error) error {
	if errors.Is(err, ErrOverflow) {
		return fmt.Errorf("archive: %w", &FileError{file, err})
	}
	return fileError(file, ErrForeign, "%v", err)
}

// Load returns the session in a file, as [Added] and groups name it: what was
// added, to the last bit. Two things differ. Numbers of further columns are
// spelled the shortest way, 1.5 for 1,50; and a warning is a [Warning], with its
// text alone.
//
// Errors: a *[FileError], of kind [ErrDamaged] or [ErrForeign] or what the
// system says.
func (a *Archive) Load(file string) (*lesson.Lesson, error) {
	n, ok := parseName(filepath.Base(file))
	if !ok || !fs.ValidPath(filepath.ToSlash(file)) {
		return nil, fileError(file, ErrForeign, "this is no name of a session's file")
	}
	return a.load(file, n)
}

// A Warning is what was warned of when a session was read, before it came into
// the archive.
type Warning string

func (w Warning) Error() string { return string(w) }

func (a *Archive) load(file string, n name) (*lesson.Lesson, error) {
	t, err := a.open(file, n)
	if err != nil {
		return nil, err
	}
	var l *lesson.Lesson
	if err := guarded(func() (err error) {
		l, err = t.lesson()
		return err
	}); err != nil {
		return nil, unreadable(file, err)
	}
	if err := inPlace(file, l.Pupil); err != nil {
		return nil, err
	}
	return l, nil
}

// inPlace returns an error for a file in the folder of another pupil, whose
// queries would not find it.
func inPlace(file, pupil string) error {
	if want := pupilFolder(pupil); filepath.Base(filepath.Dir(file)) != want {
		return fileError(file, ErrForeign, "it is of a pupil whose folder is %s: move it there", want)
	}
	return nil
}

func (t *table) lesson() (*lesson.Lesson, error) {
	m, err := t.meta()
	if err != nil {
		return nil, err
	}
	l := &m.Lesson
	for _, w := range m.Warnings {
		l.Warnings = append(l.Warnings, Warning(w))
	}
	l.Shots = make([]lesson.Shot, t.rows)
	if err := t.shots(l.Shots); err != nil {
		return nil, err
	}
	cells, err := t.cells(l.Columns)
	if err != nil {
		return nil, err
	}
	return l, l.SetCells(cells)
}

// shots fills in what every shot has.
func (t *table) shots(shots []lesson.Shot) (err error) {
	var whole []int32
	var real []float64
	for _, c := range []struct {
		at  int
		set func(s *lesson.Shot, v int32)
	}{
		{atLine, func(s *lesson.Shot, v int32) { s.Line = int(v) }},
		{atBall, func(s *lesson.Shot, v int32) { s.Ball = int(v) }},
	} {
		if whole, err = t.int32s(c.at, whole); err != nil {
			return err
		}
		for i, v := range whole {
			c.set(&shots[i], v)
		}
	}
	for _, c := range []struct {
		at  int
		set func(s *lesson.Shot, v float64)
	}{
		{atCarry, func(s *lesson.Shot, v float64) { s.Carry = v }},
		{atSide, func(s *lesson.Shot, v float64) { s.Side = v }},
	} {
		if real, err = t.floats(c.at, real); err != nil {
			return err
		}
		for i, v := range real {
			c.set(&shots[i], v)
		}
	}
	for _, c := range []struct {
		at  int
		set func(s *lesson.Shot, v string)
	}{
		{atStage, func(s *lesson.Shot, v string) { s.Stage = v }},
		{atIntent, func(s *lesson.Shot, v string) { s.Intent = lesson.Intent(v) }},
		{atClub, func(s *lesson.Shot, v string) { s.Club = v }},
		{atVoid, func(s *lesson.Shot, v string) { s.Void = v }},
	} {
		var list []string
		if whole, list, err = t.words(c.at, whole); err != nil {
			return err
		}
		for i, v := range whole {
			c.set(&shots[i], list[v])
		}
	}
	return nil
}

// cells returns what the shots have in the further columns.
func (t *table) cells(columns []lesson.Column) ([][]string, error) {
	place := map[string]int{}
	for i, c := range columns {
		place[c.Name] = i
	}
	flat := make([]string, t.rows*len(columns))
	cells := make([][]string, t.rows)
	for i := range cells {
		cells[i] = flat[i*len(columns) : (i+1)*len(columns) : (i+1)*len(columns)]
	}
	for _, m := range []struct {
		names, values int
		spell         func(v parquet.Value) string
	}{
		{atNumberName, atNumber, func(v parquet.Value) string { return strconv.FormatFloat(v.Double(), 'g', -1, 64) }},
		{atTextName, atText, func(v parquet.Value) string { return string(v.ByteArray()) }},
	} {
		var at []int // places in flat, entry by entry
		var unknown string
		err := t.entries(m.names, func(row int, v parquet.Value) {
			i, ok := place[string(v.ByteArray())]
			if !ok {
				unknown = string(v.ByteArray())
				return
			}
			at = append(at, row*len(columns)+i)
		})
		if err == nil && unknown != "" {
			err = fmt.Errorf("a column %q that the metadata don't have", unknown)
		}
		if err != nil {
			return nil, err
		}
		n := 0
		err = t.entries(m.values, func(_ int, v parquet.Value) {
			if n < len(at) {
				flat[at[n]] = m.spell(v)
			}
			n++
		})
		if err == nil && n != len(at) {
			err = errors.New("names and values of further columns don't pair")
		}
		if err != nil {
			return nil, err
		}
	}
	return cells, nil
}
