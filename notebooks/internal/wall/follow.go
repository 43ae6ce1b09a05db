package wall

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/landfall-golf/landfall/notebooks/review"
	"github.com/landfall-golf/landfall/notebooks/review/figures"
)

const (
	every  = 200 * time.Millisecond // between two looks at the file
	settle = time.Second            // without a change, after which all of it counts
)

// A View is what the wall shows.
type View struct {
	Says    string
	SVG     []byte // the picture; nil: none
	Alt     string
	Balls   int    // rows that were read
	Trouble string // why the file can't be read now; the view before it stays
}

// A follower looks at a lesson's file, and at the stages beside it, again and
// again.
type follower struct {
	source      review.Source
	file, marks settler
	copies      string // a folder for the copies that are read
	shown       []byte // the rows of the view, and the marks
	view        View
}

func newFollower(s review.Source) (*follower, error) {
	copies, err := os.MkdirTemp("", "landfall-wall-")
	if err != nil {
		return nil, err
	}
	return &follower{
		source: s, copies: copies,
		file: settler{wait: settle}, marks: settler{wait: settle},
		view: View{Says: "Waiting for the first ball."},
	}, nil
}

func (f *follower) close() error { return os.RemoveAll(f.copies) }

// look returns the view of the file at a time, and whether it is another than
// before. A file that cannot be read now leaves the view as it is and says why.
func (f *follower) look(ctx context.Context, now time.Time) (View, bool) {
	rows, marks, err := f.read(now)
	if errors.Is(err, errMoving) {
		return f.view, false
	}
	if err != nil {
		return f.trouble(err)
	}
	key := append(append(bytes.Clone(rows), 0), marks...)
	if f.shown != nil && bytes.Equal(key, f.shown) && f.view.Trouble == "" {
		return f.view, false
	}
	if bytes.Count(bytes.TrimSpace(rows), []byte("\n")) == 0 { // a header at most
		f.shown = key
		return f.change(View{Says: "Waiting for the first ball."})
	}
	view, err := f.draw(ctx, rows, marks)
	if ctx.Err() != nil {
		return f.view, false
	}
	if err != nil {
		return f.trouble(err)
	}
	f.shown = key
	return f.change(view)
}

func (f *follower) read(now time.Time) (rows, marks []byte, err error) {
	content, err := snapshot(f.source.File)
	if err != nil {
		return nil, nil, err
	}
	rows = f.file.see(content, now)
	if f.source.Stages != "" {
		return rows, nil, nil
	}
	content, err = snapshot(filepath.Join(filepath.Dir(f.source.File), review.StagesFile))
	if err != nil {
		return nil, nil, err
	}
	return rows, f.marks.see(content, now), nil
}

// draw reviews a copy of the rows.
func (f *follower) draw(ctx context.Context, rows, marks []byte) (View, error) {
	s := f.source
	var err error
	if s.Columns, err = s.ColumnsPath(); err != nil {
		return View{}, err
	}
	s.File = filepath.Join(f.copies, filepath.Base(f.source.File))
	if err := os.WriteFile(s.File, rows, 0o600); err != nil {
		return View{}, err
	}
	beside := filepath.Join(f.copies, review.StagesFile)
	if len(marks) == 0 {
		if err := os.RemoveAll(beside); err != nil {
			return View{}, err
		}
	} else if err := os.WriteFile(beside, marks, 0o600); err != nil {
		return View{}, err
	}
	r, err := review.Open(s)
	if err != nil {
		return View{}, err
	}
	m, err := r.Now(ctx)
	if err != nil {
		return View{}, err
	}
	figure, err := figures.Now(r, m)
	if err != nil {
		return View{}, err
	}
	svg, err := figure.SVG()
	return View{Says: m.Says, SVG: svg, Alt: figure.Alt(), Balls: r.Lesson.Rows}, err
}

// trouble keeps the view and says what is wrong with the file.
func (f *follower) trouble(err error) (View, bool) {
	v := f.view
	v.Trouble = strings.TrimPrefix(err.Error(), "lesson: ")
	return f.change(v)
}

func (f *follower) change(v View) (View, bool) {
	same := v.Says == f.view.Says && v.Balls == f.view.Balls && v.Trouble == f.view.Trouble && bytes.Equal(v.SVG, f.view.SVG)
	f.view = v
	return v, !same
}
