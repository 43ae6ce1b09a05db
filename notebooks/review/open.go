package review

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A Source says which lesson to review. The zero value is the demo lesson.
type Source struct {
	File   string // path of the lesson's CSV, or of a datapackage.json; "" is the demo lesson
	Stages string // stage mark-up such as "1-8:old,9-16:new/drill"; "" is none

	Pupil, Session string // pick one where the file holds several
	Unit           string // of columns called plainly carry and side: "yd", "m" or "ft"; "" is what the file says
	Device         string // what the device errs by in carry and side, such as "carry 2 1, side 1.5"; "" is not stated

	Columns string // path of a mapping of columns; "" is ColumnsFile beside the lesson, where there is one
	Mirror  bool   // exchange right and left, for a left-handed player
}

// StagesFile is the name of the file that marks up the stages of a lesson in
// the same folder, unless Stages does.
const StagesFile = "stages.csv"

// ColumnsFile is the name of the mapping that says what the columns of the
// lessons in the same folder are, unless Columns does.
const ColumnsFile = "columns.json"

// Open reads a lesson and prepares its review, with the defaults of package
// compare.
func Open(s Source) (*Review, error) {
	l, err := s.Read()
	if err != nil {
		return nil, err
	}
	r, err := New(l, compare.Options{})
	if err != nil {
		return nil, err
	}
	if s.Device != "" {
		if r.device, err = readDevice(s.Device); err != nil {
			return nil, err
		}
	}
	return r, nil
}

// Read reads the lesson with what lies beside it.
func (s Source) Read() (*lesson.Lesson, error) {
	o := lesson.ReadOptions{Unit: lesson.Unit(s.Unit), Stages: s.Stages, Pupil: s.Pupil, Session: s.Session, Mirror: s.Mirror}
	if s.File == "" {
		return lesson.Read(bytes.NewReader(datasets.DemoFile()), o)
	}
	if info, err := os.Stat(s.File); err == nil && info.IsDir() {
		return nil, fmt.Errorf("the lesson file: %s is a folder: give the file in it%s", s.File, anyCSV(s.File))
	}
	var notes []error
	if s.Stages == "" {
		stages, err := beside(s.File, StagesFile)
		if err != nil {
			return nil, fmt.Errorf("the stages beside the lesson: %w", err)
		}
		if stages != nil {
			defer stages.Close()
			o.StagesFile = stages
			notes = append(notes, fmt.Errorf("the stages are those marked up in %s beside the lesson", StagesFile))
		}
	}
	columns, err := s.columns()
	if err != nil {
		return nil, err
	}
	if columns != nil {
		o.Columns = columns
		notes = append(notes, errors.New("what the columns are comes from a mapping"))
	}
	l, err := s.readFile(o)
	if err != nil {
		return nil, err
	}
	l.Warnings = append(l.Warnings, notes...)
	return l, nil
}

// readFile reads the file of the lesson itself.
func (s Source) readFile(o lesson.ReadOptions) (*lesson.Lesson, error) {
	if strings.EqualFold(filepath.Ext(s.File), ".json") {
		// A root, and not a plain folder, so that no link leads out of it.
		folder, err := os.OpenRoot(filepath.Dir(s.File))
		if err != nil {
			return nil, fmt.Errorf("the lesson's folder: %w", err)
		}
		defer folder.Close()
		return lesson.ReadPackage(folder.FS(), filepath.Base(s.File), o)
	}
	file, err := os.Open(s.File)
	if err != nil {
		return nil, fmt.Errorf("the lesson file: %w", err)
	}
	defer file.Close()
	return lesson.Read(file, o)
}

// columns reads the mapping, nil where there is none.
func (s Source) columns() (*lesson.Mapping, error) {
	path, err := s.ColumnsPath()
	if err != nil || path == "" {
		return nil, err
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("the mapping of columns: %w", err)
	}
	defer file.Close()
	return lesson.ReadMapping(file)
}

// ColumnsPath returns where the mapping of columns is: the one that was given,
// or ColumnsFile beside the lesson; "" where there is none.
func (s Source) ColumnsPath() (string, error) {
	if s.Columns != "" || s.File == "" {
		return s.Columns, nil
	}
	path := filepath.Join(filepath.Dir(s.File), ColumnsFile)
	_, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "", nil
	case err != nil:
		return "", fmt.Errorf("the mapping of columns: %w", err)
	}
	return path, nil
}

// beside opens a file in the folder of another, nil where there is none.
func beside(file, name string) (*os.File, error) {
	f, err := os.Open(filepath.Join(filepath.Dir(file), name))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return f, err
}

// anyCSV names a file that the folder of a lesson holds.
func anyCSV(folder string) string {
	names, err := filepath.Glob(filepath.Join(folder, "*.csv"))
	if err != nil || len(names) == 0 {
		return ""
	}
	return ", such as " + names[0]
}
