package archive

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
)

// Kinds of what may be wrong with a file or a folder, to be told apart with
// errors.Is.
var (
	// ErrNoArchive is returned for a folder that is none, or of a later format.
	ErrNoArchive = errors.New("no archive")

	// ErrDamaged is returned for a file whose bytes are not those written.
	ErrDamaged = errors.New("damaged")

	// ErrForeign is returned for what the archive did not put there.
	ErrForeign = errors.New("not of this archive")

	// ErrUndated is returned by a query for days for a session of no known day.
	ErrUndated = errors.New("no day")
)

// ErrMixed is returned where values of several clubs or units would be pooled, or
// mirrored ones with others.
var ErrMixed = errors.New("these can't be pooled as one: set Club and Unit of the query; whoever means to pool mirrored pupils with others gives their values to the function Pool")

// ErrMissing is returned for a nil context, lesson or function.
var ErrMissing = errors.New("a context, and the lesson or function asked for, are needed")

// ErrOverflow is returned where integer sums leave 64 bits.
var ErrOverflow = errors.New("sums beyond 64 bits")

// ErrPupil is returned for a pupil with two values, whom pooling would count
// twice.
var ErrPupil = errors.New("there twice: give one value for each pupil")

// A FileError names the file that an error is about, relative to the archive's
// folder.
type FileError struct {
	File string
	Err  error
}

func (e *FileError) Error() string {
	if strings.ContainsFunc(e.File, unicode.IsControl) { // a name that somebody else gave could command a terminal
		return fmt.Sprintf("%q: %v", e.File, e.Err)
	}
	return fmt.Sprintf("%s: %v", e.File, e.Err)
}

// Unwrap returns the kind of error or what the system says.
func (e *FileError) Unwrap() error { return e.Err }

func fileError(file string, kind error, format string, args ...any) error {
	return fmt.Errorf("archive: %w", &FileError{file, fmt.Errorf("%w: %s", kind, fmt.Sprintf(format, args...))})
}

// A LessonError says why a lesson cannot be kept.
type LessonError struct {
	Shot   int // place in Lesson.Shots; -1 where it is none of them
	Reason string
}

func (e *LessonError) Error() string {
	if e.Shot < 0 {
		return "the lesson can't be kept: " + e.Reason
	}
	return fmt.Sprintf("the lesson can't be kept: shot %d: %s", e.Shot, e.Reason)
}

// A QueryError says which field of a query makes no sense.
type QueryError struct{ Field, Reason string }

func (e *QueryError) Error() string { return fmt.Sprintf("query: %s: %s", e.Field, e.Reason) }
