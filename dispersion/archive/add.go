package archive

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// Added tells where a session is.
type Added struct {
	File string // relative to the archive's folder
	New  bool   // whether it was not there before

	// SameDay are the pupil's other sessions of that day, as files. A lesson
	// that was marked up anew is another session: remove the file of the old
	// one, or its shots count twice.
	SameDay []string
}

// staleAfter is how old a file aside is when its writer must be gone.
const staleAfter = time.Hour

// Add puts a session into the archive and returns when it is on the disk, whole.
// A session whose content is there already changes nothing, unless its file is
// damaged: then it is written again.
//
// The content is the pupil, the session, the unit, whether right and left are
// exchanged, the stages, the further columns, which rows were rejected, and every
// shot; not the wording of warnings and reasons. The day is that of the first shot
// whose time has one, as in 2024-05-01T10:15:00, or else the one that the
// session's name begins with.
//
// Errors: [ErrMissing]; a *[LessonError]; the context's error; those of the
// system, and then the archive is as it was. Add does not modify l, and may be
// called from many goroutines and processes.
func (a *Archive) Add(ctx context.Context, l *lesson.Lesson) (Added, error) {
	if ctx == nil || l == nil {
		return Added{}, fmt.Errorf("archive: %w", ErrMissing)
	}
	if err := ctx.Err(); err != nil {
		return Added{}, err
	}
	if err := check(l); err != nil {
		return Added{}, err
	}
	n := name{day: dayOf(l), content: contentOf(l)}
	folder := pupilFolder(l.Pupil)
	if err := os.Mkdir(filepath.Join(a.dir, folder), 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
		return Added{}, fmt.Errorf("archive: %w", err)
	}
	var added Added
	first := true // session of this pupil
	here, err := os.ReadDir(filepath.Join(a.dir, folder))
	if err != nil {
		return Added{}, fmt.Errorf("archive: %w", err)
	}
	for _, e := range here {
		if strings.HasPrefix(e.Name(), asidePrefix) {
			removeStale(filepath.Join(a.dir, folder), e)
			continue
		}
		other, ok := parseName(e.Name())
		file := filepath.Join(folder, e.Name())
		first = first && !ok
		switch {
		case !ok:
		case other.content == n.content:
			if _, err := a.load(file, other); err == nil {
				added.File = file
			} else if !errors.Is(err, ErrDamaged) {
				return Added{}, err
			} else if err := os.Remove(filepath.Join(a.dir, file)); err != nil {
				return Added{}, fmt.Errorf("archive: %w", err)
			}
		case other.day == n.day && n.day != "":
			added.SameDay = append(added.SameDay, file)
		}
	}
	if added.File != "" {
		return added, nil
	}
	if first { // whoever made the folder may not have come to this
		if err := syncFolder(a.dir); err != nil {
			return Added{}, fmt.Errorf("archive: %w", err)
		}
	}
	data, err := encode(l, n.day)
	if err != nil {
		return Added{}, fmt.Errorf("archive: %w", err)
	}
	n.checksum = checksum(data)
	if err := writeWhole(filepath.Join(a.dir, folder), n.String(), data); err != nil {
		return Added{}, fmt.Errorf("archive: %w", err)
	}
	added.File, added.New = filepath.Join(folder, n.String()), true
	return added, nil
}

// removeStale removes what a writer that was stopped has left aside.
func removeStale(dir string, e fs.DirEntry) {
	if info, err := e.Info(); err == nil && time.Since(info.ModTime()) > staleAfter {
		// Another process may have been quicker, and nobody counts on the file.
		_ = os.Remove(filepath.Join(dir, e.Name()))
	}
}
