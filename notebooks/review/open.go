package review

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A Source says which lesson to review. The zero value is the demo lesson.
type Source struct {
	File   string // path of the lesson's CSV; "" is the demo lesson
	Stages string // stage mark-up such as "1-8:old,9-16:new/drill"; "" is none

	Pupil, Session string // pick one where the file holds several
	Unit           string // of columns called plainly carry and side: "yd", "m" or "ft"; "" is what the file says
	Device         string // what the device errs by in carry and side, such as "carry 2 1, side 1.5"; "" is not stated
}

// StagesFile is the name of the file that marks up the stages of a lesson in
// the same folder, unless Stages does.
const StagesFile = "stages.csv"

// Open reads a lesson and prepares its review, with the defaults of package
// compare.
func Open(s Source) (*Review, error) {
	l, err := s.read()
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

func (s Source) read() (*lesson.Lesson, error) {
	o := lesson.ReadOptions{Unit: lesson.Unit(s.Unit), Stages: s.Stages, Pupil: s.Pupil, Session: s.Session}
	if s.File == "" {
		return lesson.Read(bytes.NewReader(datasets.DemoFile()), o)
	}
	file, err := os.Open(s.File)
	if err != nil {
		return nil, fmt.Errorf("the lesson file: %w", err)
	}
	defer file.Close()
	marks := ""
	if s.Stages == "" {
		beside := filepath.Join(filepath.Dir(s.File), StagesFile)
		stages, err := os.Open(beside)
		switch {
		case err == nil:
			defer stages.Close()
			o.StagesFile, marks = stages, beside
		case !errors.Is(err, fs.ErrNotExist):
			return nil, fmt.Errorf("the stages beside the lesson: %w", err)
		}
	}
	l, err := lesson.Read(file, o)
	if err != nil {
		return nil, err
	}
	if marks != "" {
		l.Warnings = append(l.Warnings, fmt.Errorf("the stages are those marked up in %s beside the lesson", StagesFile))
	}
	return l, nil
}
