package wall

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"time"
)

// largest is the size of a file that a lesson in progress may have: a thousand
// times a long one.
const largest = 64 << 20

// errMoving is returned for a file that was written to while it was read.
var errMoving = errors.New("the file is being written")

// snapshot returns what is in the file at one moment, and no content for a file
// that is not there.
func snapshot(path string) ([]byte, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	before, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if before.IsDir() {
		return nil, fmt.Errorf("%s is a folder", path)
	}
	if before.Size() > largest {
		return nil, fmt.Errorf("%s has %d MB: a lesson in progress has at most %d", path, before.Size()>>20, largest>>20)
	}
	content, err := io.ReadAll(io.LimitReader(f, largest+1))
	if err != nil {
		return nil, err
	}
	after, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if before.Size() != after.Size() || !before.ModTime().Equal(after.ModTime()) || int64(len(content)) != after.Size() {
		return nil, errMoving
	}
	return content, nil
}

// A settler decides what of a file's content counts as rows. The end of a line
// ends a row. A last row without one may be half a row, so it counts once
// nothing has been written for a while. The same holds for content that is not
// what was there before with more behind it: that is a file written anew, of
// which only the beginning may be there.
type settler struct {
	wait    time.Duration
	content []byte    // as last seen
	since   time.Time // when it was first seen so
	rows    []byte    // what counts
}

// see is given the content of the file at a time and returns its rows.
func (s *settler) see(content []byte, now time.Time) []byte {
	if !bytes.Equal(content, s.content) || s.since.IsZero() {
		s.content, s.since = content, now
	}
	if now.Sub(s.since) >= s.wait {
		s.rows = s.content
		return s.rows
	}
	whole := content[:bytes.LastIndexByte(content, '\n')+1]
	if bytes.HasPrefix(whole, s.rows) {
		s.rows = whole
	}
	return s.rows
}
