package lesson

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Errors that need no evidence beside them.
var (
	ErrEmpty    = errors.New("the file is empty: it needs a header line and rows below it")
	ErrNoRows   = errors.New("the file has a header but no rows")
	ErrTooLarge = errors.New("too large for one lesson")
	ErrNotText  = errors.New("this is no text but a workbook or another kind of file: save it as CSV in UTF-8")
)

// Kinds of warning, to be told apart with errors.Is.
var (
	ErrUnit      = errors.New("unit")                     // assumed, converted, or in a row of its own
	ErrColumn    = errors.New("column")                   // renamed, in doubt, or text where numbers belong
	ErrTitle     = errors.New("lines above the header")   // passed over
	ErrMirrored  = errors.New("mirrored")                 // right and left exchanged, as asked for
	ErrEncoding  = errors.New("not UTF-8")                // bytes that are no text
	ErrDecimals  = errors.New("decimals")                 // comma and point in one file
	ErrUnlikely  = errors.New("hard to believe")          // see UnlikelyShot
	ErrTimeOrder = errors.New("time")                     // backwards, or unreadable
	ErrMixed     = errors.New("mixed")                    // several surfaces; rows of no pupil or session
	ErrStage     = errors.New("stage")                    // split, unnamed, set aside or never hit
	ErrNoShots   = errors.New("none of the rows is read") // all were rejected
)

// A HeaderError says why the header line will not do.
type HeaderError struct {
	Found  []string // names of the columns as written
	Reason string
}

func (e *HeaderError) Error() string {
	found := make([]string, 0, len(e.Found))
	for _, name := range e.Found {
		if len(found) == 40 {
			found = append(found, fmt.Sprintf("and %d more", len(e.Found)-len(found)))
			break
		}
		found = append(found, fmt.Sprintf("%q", clip(name)))
	}
	return fmt.Sprintf("%s; columns found: %s", e.Reason, strings.Join(found, ", "))
}

// A ChoiceError says that a file holds several pupils or sessions and one must
// be picked, or that the one picked is not there.
type ChoiceError struct {
	Column string   // "pupil" or "session"
	Picked string   // what the options asked for; "" for nothing
	Names  []string // of the pupils or sessions that the file holds
	Counts []int    // data rows of each
}

func (e *ChoiceError) Error() string {
	if len(e.Names) == 0 {
		return fmt.Sprintf("%s %q was picked, but the file names no %s: leave -%s out", e.Column, clip(e.Picked), e.Column, e.Column)
	}
	list := make([]string, 0, len(e.Names))
	for i, name := range e.Names {
		if i == 20 {
			list = append(list, fmt.Sprintf("and %d more", len(e.Names)-i))
			break
		}
		list = append(list, fmt.Sprintf("%q (%s)", clip(name), count(e.Counts[i], "row")))
	}
	names := strings.Join(list, ", ")
	if e.Picked != "" {
		return fmt.Sprintf("no row of %s %q: the file has %s", e.Column, clip(e.Picked), names)
	}
	return fmt.Sprintf("the file holds %ss %s: pick one with -%s NAME", e.Column, names, e.Column)
}

// A MappingError says what is wrong with a mapping of columns.
type MappingError struct {
	Field    string // the name of the column in quotes, or which field it is from 1; "" for the mapping as a whole
	Property string // of the field or the mapping; "" for the whole
	Reason   string
}

func (e *MappingError) Error() string {
	s := "the mapping"
	if e.Field != "" {
		s += ", field " + e.Field
	}
	if e.Property != "" {
		s += fmt.Sprintf(", %q", e.Property)
	}
	return s + ": " + e.Reason
}

// A MarkupError says what is wrong with the mark-up of stages.
type MarkupError struct {
	Spec   string // the options' Stages; "" where the fault is in a stages file or the file's own columns
	At     int    // place in Spec, in characters from 1; otherwise a line
	File   string // "stages file" or "lesson file"; "" where Spec is at fault
	Reason string
}

func (e *MarkupError) Error() string {
	if e.File == "" {
		return fmt.Sprintf("stages %q, at character %d: %s", clip(e.Spec), e.At, e.Reason)
	}
	return fmt.Sprintf("%s, line %d: %s", e.File, e.At, e.Reason)
}

// An UnlikelyShot is the warning that a shot, though kept, is hard to believe.
// It is an [ErrUnlikely].
type UnlikelyShot struct {
	Line        int     // of the file, the first being 1
	Carry, Side float64 // as recorded
	Unit        Unit
	Reason      string
}

func (w *UnlikelyShot) Error() string {
	return fmt.Sprintf("line %d: carry %.5g %s, side %.5g %s: %s; kept, since a mis-struck ball is a shot too",
		w.Line, w.Carry, w.Unit, w.Side, w.Unit, w.Reason)
}

// Unwrap makes errors.Is find ErrUnlikely.
func (w *UnlikelyShot) Unwrap() error { return ErrUnlikely }

// warning returns a warning of one of the kinds above.
func warning(kind error, format string, args ...any) error {
	return fmt.Errorf("%w: %s", kind, fmt.Sprintf(format, args...))
}

// clip shortens a text that a message quotes, so that one hostile cell does not
// fill the screen.
func clip(text string) string {
	const most = 60
	if utf8.RuneCountInString(text[:min(len(text), 4*most+4)]) <= most {
		return text
	}
	end := 0
	for range most {
		_, size := utf8.DecodeRuneInString(text[end:])
		end += size
	}
	return text[:end] + "…"
}

// printable replaces the characters that command a terminal, for a text that
// stands in a message without quotes.
func printable(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return unicode.ReplacementChar
		}
		return r
	}, text)
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
