package lesson

import (
	"io"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
)

// An Intent says what the shots of a stage were for. Like is compared with
// like, and a drill is pictured, not judged.
type Intent string

// The intents of a stage.
const (
	Baseline Intent = "baseline" // the swing as it came to the lesson
	Drill    Intent = "drill"    // an exercise
	Full     Intent = "full"     // full swings; what a stage is unless it says otherwise
	Check    Intent = "check"    // a look at what is left
)

const intentWords = "baseline, drill, full or check"

// readIntent returns the intent that a text names, in any case; "" for none.
func readIntent(text string) (Intent, bool) {
	switch i := Intent(strings.ToLower(text)); i {
	case "", Baseline, Drill, Full, Check:
		return i, true
	}
	return "", false
}

// A Shot is one struck ball with what was measured.
type Shot struct {
	Line   int    // line in the file, from 1
	Ball   int    // 1, 2, … in the order hit; rejected rows are counted too
	Stage  string // name of its stage; "" only for a voided shot outside all stages
	Intent Intent // of its stage
	Club   string // "" where the file has none

	Carry, Side float64 // in the lesson's unit, as recorded
	Void        string  // why the coach voided it; "" when it counts

	cells []string // the row, in the order of the file's columns
	index *columnIndex
}

// A columnIndex tells where further columns are in a row and how to read them.
type columnIndex struct {
	at           map[string]int // canonical name to place in the row
	numeric      map[string]bool
	turned       map[string]bool // numbers whose sign is turned, in a mirrored lesson
	decimalComma map[string]bool
}

// Point returns where the ball landed.
func (s Shot) Point() dispersion.Point { return dispersion.Point{X: s.Side, Y: s.Carry} }

// Value returns what the shot has in a numeric column: one of [Lesson.Columns]
// by its Name, or "carry" or "side". It returns false where the shot has no
// value there and where there is no such numeric column.
func (s Shot) Value(column string) (float64, bool) {
	switch column {
	case "carry":
		return s.Carry, true
	case "side":
		return s.Side, true
	}
	text, ok := s.Text(column)
	if !ok || !s.index.numeric[column] {
		return 0, false
	}
	v, fault := parseNumber(text, s.index.decimalComma[column])
	if s.index.turned[column] {
		v = 0 - v // and not -v, which would make 0 a -0
	}
	return v, fault == ""
}

// Text returns what the shot has in one of [Lesson.Columns], by its Name, as
// written in the file without blanks around it, or as the mapping of the file
// turns it. It returns false where the cell is empty and where there is no such
// column.
func (s Shot) Text(column string) (string, bool) {
	if s.index == nil {
		return "", false
	}
	i, ok := s.index.at[column]
	if !ok || s.cells[i] == "" {
		return "", false
	}
	return s.cells[i], true
}

// A Column is a column of the file beyond pupil, session, stage, intent, club,
// carry and side.
type Column struct {
	Name    string // lower case, words joined by _, the unit at the end: ball_speed_mph
	Unit    string // of a numeric column, from the end of its name; "" where it says none
	Numeric bool   // there are values, and every one reads as a number
}

// A Rejection is a row that could not be read.
type Rejection struct {
	Line   int    // where the row starts in the file, from 1
	Column string // as written in the file; "" where the row as a whole is at fault
	Reason string // what is wrong and what to do about it
}

// A Stage is the run of shots hit with one intention.
type Stage struct {
	Name   string
	Intent Intent
	Cue    string // what the pupil was told; only a stages file has it
	Expect string // what was expected beforehand

	// Bookend marks a return to the old swing at the end of the lesson. What
	// warm-up, practice and tiredness did by themselves shows there.
	Bookend bool
}

// A Lesson is what was hit, in the order it was hit.
type Lesson struct {
	Pupil, Session string
	Unit           Unit        // of carry and side
	Mirrored       bool        // right and left are exchanged, as asked for
	Rows           int         // data rows: len(Shots) + len(Rejected)
	Shots          []Shot      // every row that could be read, mishits and voids included
	Stages         []Stage     // in the order first hit
	Columns        []Column    // in the order of the file
	Rejected       []Rejection // rows that could not be read, and why

	// Warnings tell what a reader must know before trusting the shots: a unit
	// that had to be assumed, a shot that is hard to believe, a clock that
	// runs backwards.
	Warnings []error
}

// ReadOptions say what a file does not say itself. The zero value is for a file
// that says everything.
type ReadOptions struct {
	// Unit is that of columns called plainly carry or side. Zero means that of
	// the other of the two or else yards, with a warning.
	Unit Unit

	// Columns says what the columns are; nil for a file that says so itself.
	Columns *Mapping

	// Mirror exchanges right and left: side, target_side and every direction
	// change their sign. It is for setting a left-handed player beside
	// right-handed ones; the lesson then warns that it is mirrored.
	Mirror bool

	// Stages marks up the balls of a file, such as "1-8:old,9-16:new/drill":
	// first ball, last ball, stage and, if it is not full, intent. A ball's
	// number is that of its data row.
	Stages string

	// StagesFile is the content of a stages.csv, which can say more than
	// Stages. Nil means none; only one of the two can be given.
	StagesFile io.Reader

	// Pupil and Session pick one where the file holds several. Balls are then
	// counted within what was picked.
	Pupil, Session string
}
