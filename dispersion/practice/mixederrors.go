package practice

import (
	"errors"
	"fmt"
)

var (
	// ErrColumns is returned where a column of a model has another length than
	// its values, or a model no random term.
	ErrColumns = errors.New("a model needs one entry for each value in every column, and at least one random term")

	// ErrKey is returned for a key too short to keep pupils' names from being found
	// by trying.
	ErrKey = errors.New("the key must have at least 16 bytes, drawn at random and kept apart from the file")

	// ErrStudy is returned for a study whose plan leaves something open or can't be.
	ErrStudy = errors.New("the plan of the study is not complete")

	// ErrFlat is a warning: a flat line explains the sessions as well as a curve.
	ErrFlat = errors.New("a flat line explains these sessions as well as the curve does")

	// ErrNoPlateau is a warning: the sessions don't tell where the curve ends.
	ErrNoPlateau = errors.New("no levelling off in sight: these sessions don't tell where the curve ends, or how soon")
)

// A ColumnValueError names a number in a model that can't be used.
type ColumnValueError struct {
	Column string  // the name given to it
	Index  int     // from 0
	Value  float64 // as given: not finite, or too large
}

func (e *ColumnValueError) Error() string {
	return fmt.Sprintf("value %d of %s is %g: leave the shot out or correct it", e.Index, e.Column, e.Value)
}

// A LevelsError tells that a random term has too few levels: of a single session
// nobody can tell how sessions differ.
type LevelsError struct {
	Term       string // the random term
	Have, Need int    // levels there are, and the fewest there must be
}

func (e *LevelsError) Error() string {
	return fmt.Sprintf("%s needs at least %d to tell how they differ, not %d", e.Term, e.Need, e.Have)
}

// A FewLevelsWarning accompanies a variance from so few levels that it says little.
type FewLevelsWarning struct {
	Term       string // the random term, such as "session"
	Have, Need int    // Need: with which a known spread would be told to within a factor of 2 at 95 %
}

func (w *FewLevelsWarning) Error() string {
	return fmt.Sprintf("%d %s are few to tell how they differ; with %d their spread is known to about a factor of 2", w.Have, w.Term, w.Need)
}

// An AliasedError tells that What, a column or a random term, says nothing that the
// others don't say already, such as a stage hit in one session alone when that
// session is all there is of it, or sessions of one shot each.
type AliasedError struct{ What string }

func (e *AliasedError) Error() string {
	return fmt.Sprintf("%s can't be told apart from the rest of the model: leave it out, or bring shots that separate them", e.What)
}

// A NoVarianceWarning tells that the best estimate of the variance of a Term is
// zero: chance among the shots alone makes its levels differ as much as they do,
// or more. That doesn't make them alike; the interval says how far apart they may
// be.
type NoVarianceWarning struct{ Term string }

func (w *NoVarianceWarning) Error() string {
	return fmt.Sprintf("%s differ no more than chance among the shots makes them: their spread is estimated as 0, and its interval says how large it may be", w.Term)
}

// A CurveError tells that there are too few sessions for a curve: Have, where
// Need is the fewest.
type CurveError struct{ Have, Need int }

func (e *CurveError) Error() string {
	return fmt.Sprintf("a curve needs at least %d sessions, not %d: look at the sessions themselves", e.Need, e.Have)
}

// A RowError names a row of a pooled file, or of a study, that can't be used.
type RowError struct {
	Row    int    // from 1; in a file the header is row 1
	Column string // whose cell is at fault; "" where no single one is
	Reason string
}

func (e *RowError) Error() string {
	if e.Column == "" {
		return fmt.Sprintf("row %d: %s", e.Row, e.Reason)
	}
	return fmt.Sprintf("row %d, column %s: %s", e.Row, e.Column, e.Reason)
}
