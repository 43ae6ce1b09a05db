package lesson

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base32"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
)

// Warnings of an anonymised lesson, beside those of [Read].
var (
	ErrDropped = errors.New("left out")        // columns that may tell who somebody is
	ErrKept    = errors.New("to look through") // words of the coach that are still there
)

// minKey is how many bytes a key must have, which is what guessing it costs.
const minKey = 16

// maxShiftDays is the most by which dates are moved, in either direction.
const maxShiftDays = 182

// Anonymise returns the lesson without what tells whose it is: the pupil has a
// pseudonym, the days are moved, and of the columns only the measurements,
// surface and ball are left.
//
//	pseudonym = the first 10 bytes of HMAC-SHA-256(key, "pupil" 0 name), base 32
//	shift     = ±(1 + HMAC-SHA-256(key, "days" 0 name) mod 182) days
//
// One key gives a pupil the same pseudonym and the same shift in every lesson,
// so that the days between lessons stay; with another key, or none, nobody can
// tell which pseudonym is whose. Whoever has the key can, so it stays with the
// coach. The time of day stays, a zone goes. A session that is no date gets a
// keyed name too.
//
// The names of stages and clubs, surface and ball are the coach's own words and
// are kept, since the numbers mean nothing without them; where one holds the
// pupil's name or a part of it, it becomes "stage 1", "club 2" and the like, a
// name of its own for each. That is no promise that nobody can be told from the
// numbers: see docs/privacy.md.
//
// Errors: a key of fewer than 16 bytes. Warnings in the result: [ErrDropped],
// [ErrKept] and, where it is so, [ErrMirrored]; those of the lesson quote its
// cells and are left out, as are the reasons of its rejected rows.
//
// Anonymise does not modify l.
//
// Reference: H. Krawczyk, M. Bellare, R. Canetti, "HMAC: Keyed-Hashing for
// Message Authentication", RFC 2104, 1997.
func (l *Lesson) Anonymise(key []byte) (*Lesson, error) {
	if l == nil {
		return nil, errors.New("lesson: no lesson to anonymise: it is nil")
	}
	if len(key) < minKey {
		return nil, fmt.Errorf("lesson: a key of %d bytes can be guessed: give %d random ones or more", len(key), minKey)
	}
	a := anonymiser{key: key, name: l.Pupil}
	out := &Lesson{
		Pupil: a.pseudonym("pupil", l.Pupil), Unit: l.Unit, Mirrored: l.Mirrored, Rows: l.Rows,
		Session: a.session(l.Session),
	}
	var dropped []string
	for _, c := range l.Columns {
		m, ok := measureOf(c.Name)
		if keep := ok && (m.kind == numberMeasure && c.Numeric || c.Name == "surface" || c.Name == "ball" || c.Name == "time" && !c.Numeric); keep {
			out.Columns = append(out.Columns, c)
		} else {
			dropped = append(dropped, c.Name)
		}
	}
	written := a.words(l)
	for _, s := range l.Stages {
		out.Stages = append(out.Stages, Stage{Name: written["stage"][s.Name], Intent: s.Intent, Bookend: s.Bookend})
	}
	lost := 0
	for _, s := range l.Shots {
		lost += a.shot(out, s, written)
	}
	for _, r := range l.Rejected {
		out.Rejected = append(out.Rejected, Rejection{Line: r.Line, Reason: "the row could not be read"})
	}
	out.Warnings = a.warnings(out, dropped, lost)
	return out, nil
}

// An anonymiser hides one pupil.
type anonymiser struct {
	key  []byte
	name string
}

func (a anonymiser) sum(what, text string) []byte {
	h := hmac.New(sha256.New, a.key)
	h.Write([]byte(what))
	h.Write([]byte{0})
	h.Write([]byte(text))
	return h.Sum(nil)
}

// pseudonym is "" for nobody.
func (a anonymiser) pseudonym(what, text string) string {
	if text == "" {
		return ""
	}
	return what + "-" + strings.ToLower(base32.StdEncoding.EncodeToString(a.sum(what, text)[:10]))
}

// shift is by how many days the pupil's dates move, never 0.
func (a anonymiser) shift() int {
	sum := a.sum("days", a.name)
	days := 1 + int(binary.BigEndian.Uint64(sum)%maxShiftDays)
	if sum[8]&1 == 1 {
		return -days
	}
	return days
}

// move shifts a time, the other way where it would leave the years that a date
// can have.
func (a anonymiser) move(t time.Time) time.Time {
	moved := t.AddDate(0, 0, a.shift())
	if y := moved.Year(); y < 0 || y > 9999 {
		return t.AddDate(0, 0, -a.shift())
	}
	return moved
}

// session moves a date, and hides any other name of a session.
func (a anonymiser) session(text string) string {
	if day, err := time.Parse(time.DateOnly, text); err == nil {
		return a.move(day).Format(time.DateOnly)
	}
	if text == "" {
		return ""
	}
	return a.pseudonym("session", a.name+"\x00"+text)
}

// clock moves the day of a time, keeps the time of day and leaves the zone out.
// A text that is no time is left out.
func (a anonymiser) clock(text string) (moved string, ok bool) {
	if _, err := time.Parse(time.DateOnly, text); err == nil {
		return a.session(text), true
	}
	t, layout, ok := readTime(text)
	switch {
	case !ok:
		return "", false
	case !hasDay(layout):
		return text, true
	}
	return a.move(t).Format("2006-01-02T15:04:05.999999999"), true
}

// words returns, for stages, clubs, surfaces and balls, what is written in place
// of each.
func (a anonymiser) words(l *Lesson) map[string]map[string]string {
	texts := map[string][]string{}
	for _, s := range l.Stages {
		texts["stage"] = append(texts["stage"], s.Name)
	}
	for _, s := range l.Shots {
		texts["stage"] = append(texts["stage"], s.Stage)
		texts["club"] = append(texts["club"], s.Club)
		for _, column := range []string{"surface", "ball"} {
			text, _ := s.Text(column)
			texts[column] = append(texts[column], text)
		}
	}
	name, written := newPupilName(a.name), map[string]map[string]string{}
	for kind, of := range texts {
		written[kind] = name.hide(kind, of)
	}
	return written
}

// shot adds a shot to the anonymised lesson and returns how many of its times
// were lost.
func (a anonymiser) shot(out *Lesson, s Shot, written map[string]map[string]string) (lost int) {
	cells, index := make([]string, len(out.Columns)), &columnIndex{at: map[string]int{}, numeric: map[string]bool{}}
	if n := len(out.Shots); n > 0 {
		index = out.Shots[n-1].index
	}
	for i, c := range out.Columns {
		index.at[c.Name], index.numeric[c.Name] = i, c.Numeric
		text, ok := s.Text(c.Name)
		switch {
		case !ok:
		case c.Numeric:
			v, _ := s.Value(c.Name)
			cells[i] = formatNumber(v)
		case c.Name == "time":
			if cells[i], ok = a.clock(text); !ok {
				lost++
			}
		default:
			cells[i] = written[c.Name][text]
		}
	}
	void := ""
	if s.Void != "" {
		void = "void"
	}
	out.Shots = append(out.Shots, Shot{
		Line: s.Line, Ball: s.Ball, Stage: written["stage"][s.Stage], Intent: s.Intent, Club: written["club"][s.Club],
		Carry: s.Carry, Side: s.Side, Void: void, cells: cells, index: index,
	})
	return lost
}

// warnings tell what a reader has to know of an anonymised lesson.
func (a anonymiser) warnings(out *Lesson, dropped []string, lost int) (warnings []error) {
	if a.name == "" {
		warnings = append(warnings, warning(ErrKept, "the file names no pupil, so that every such file has the same shift of dates"))
	}
	if len(dropped) > 0 {
		warnings = append(warnings, warning(ErrDropped, "the columns %s", strings.Join(quoted(dropped), ", ")))
	}
	if lost > 0 {
		warnings = append(warnings, warning(ErrDropped, "%s that could not be read", count(lost, "time")))
	}
	var kept []string
	for _, s := range out.Stages {
		kept = append(kept, s.Name)
	}
	for _, s := range out.Shots {
		surface, _ := s.Text("surface")
		ball, _ := s.Text("ball")
		for _, text := range []string{s.Club, surface, ball} {
			if text != "" && !slices.Contains(kept, text) {
				kept = append(kept, text)
			}
		}
	}
	if len(kept) > 0 {
		warnings = append(warnings, warning(ErrKept, "the names of stages, clubs, surfaces and balls are still there: %s", strings.Join(quoted(kept), ", ")))
	}
	if out.Mirrored {
		warnings = append(warnings, warning(ErrMirrored, "right and left were exchanged before"))
	}
	return warnings
}
