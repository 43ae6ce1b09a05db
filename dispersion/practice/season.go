package practice

import (
	"fmt"
	"io"
	"slices"
	"time"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A Season is the sessions of one pupil in the order of time.
type Season struct {
	Pupil    string
	Unit     lesson.Unit // of carry and side, in all sessions
	Sessions []Session

	// Warnings tell what a reader must know before trusting the phases. What is to
	// be known of a single session is in the warnings of its lesson.
	Warnings []error
}

// A Session is one lesson or practice of a season.
type Session struct {
	Name       string
	Lesson     *lesson.Lesson
	Start, End time.Time // of its first and last ball; midnight where only the date is known
	Clock      bool      // whether the hour is known
	Stages     []Stage   // in the order hit
}

// SeasonOptions say what files do not say themselves.
type SeasonOptions struct {
	Pupil string      // picks one where a file holds several
	Unit  lesson.Unit // of columns called plainly carry or side

	// Columns says what the columns of ReadSeason's file are; nil for a file that
	// says so itself. NewSeason does not look at it.
	Columns *lesson.Mapping

	// Location is the time zone of times that state none; nil means UTC. It
	// matters only where other times do state one.
	Location *time.Location
}

func (o SeasonOptions) location() *time.Location {
	if o.Location == nil {
		return time.UTC
	}
	return o.Location
}

// sessionGap is the pause that ends a session in a file that names none.
const sessionGap = 3 * time.Hour

// ReadSeason returns the season in one file of separated values, as
// [lesson.ReadSessions] takes it. Sessions come from the column session; when they were
// comes from the column time, with the date in it or, where it has hours alone,
// at the start of the session's name (2006-01-02). A file without sessions is
// split wherever three hours or more pass between two balls.
//
// Errors: those of [lesson.ReadSessions] and of [NewSeason].
func ReadSeason(r io.Reader, o SeasonOptions) (*Season, error) {
	if r == nil {
		return nil, fmt.Errorf("practice: no file to read: %w", ErrMissing)
	}
	lessons, err := lesson.ReadSessions(r, lesson.ReadOptions{Unit: o.Unit, Pupil: o.Pupil, Columns: o.Columns}, sessionGap, o.location())
	if err != nil {
		return nil, fmt.Errorf("practice: %w", err)
	}
	return NewSeason(lessons, o)
}

// NewSeason returns the season of lessons that were read from files of their own,
// in any order. Where shots have a text in a column called phase, one of the
// words of [Phase], it holds; otherwise phases are told from the order of things,
// as [Phase] says.
//
// A lesson without shots is left out with a warning: a session that was missed is
// simply not there, and nothing is assumed of it. A session of one ball counts.
// Two sessions on one day are two sessions; the second is too soon to show
// retention. Of sessions with one name, or on one day without a name, the second
// in time is called "name (2)", and so on.
//
// Errors: [ErrMissing] for no lessons or a nil one; *[SeasonError] for lessons of
// two pupils, in two units, some of them mirrored, of which the date is not known,
// or with a word in the column phase that is none. Warnings: [ErrOrder], [ErrClock], [ErrZone],
// [ErrSession]. It does not modify the lessons.
func NewSeason(lessons []*lesson.Lesson, o SeasonOptions) (*Season, error) {
	s := &Season{}
	zoned, plain := 0, 0
	for _, l := range lessons {
		if l == nil {
			return nil, fmt.Errorf("practice: %w", ErrMissing)
		}
		if len(l.Shots) == 0 {
			s.Warnings = append(s.Warnings, warning(ErrSession, "%q has no shots and is left out", l.Session))
			continue
		}
		if err := s.admit(l); err != nil {
			return nil, fmt.Errorf("practice: %w", err)
		}
		session, zone, err := newSession(l, o.location())
		if err != nil {
			return nil, fmt.Errorf("practice: %w", err)
		}
		if session.Clock && zone {
			zoned++
		} else if session.Clock {
			plain++
		}
		s.Sessions = append(s.Sessions, session)
	}
	if len(s.Sessions) == 0 {
		return nil, fmt.Errorf("practice: no session with shots: %w", ErrMissing)
	}
	if zoned > 0 && plain > 0 {
		s.Warnings = append(s.Warnings, warning(ErrZone, "%d sessions state their time zone and %d do not: those are taken to be in %s", zoned, plain, o.location()))
	}
	byStart := func(a, b Session) int { return a.Start.Compare(b.Start) }
	if !slices.IsSortedFunc(s.Sessions, byStart) {
		s.Warnings = append(s.Warnings, warning(ErrOrder, "the sessions were not in the order of time and have been put into it"))
		slices.SortStableFunc(s.Sessions, byStart)
	}
	s.nameApart()
	if err := s.tellPhases(); err != nil {
		return nil, fmt.Errorf("practice: %w", err)
	}
	return s, nil
}

// nameApart makes the names of the sessions differ, since a name is how a session
// is asked for and told from others in a model.
func (s *Season) nameApart() {
	taken := map[string]bool{}
	for i := range s.Sessions {
		name := s.Sessions[i].Name
		for n := 2; taken[s.Sessions[i].Name]; n++ {
			s.Sessions[i].Name = fmt.Sprintf("%s (%d)", name, n)
		}
		taken[s.Sessions[i].Name] = true
	}
}

// admit checks that a lesson is of the pupil and in the unit of those before it.
func (s *Season) admit(l *lesson.Lesson) error {
	if s.Unit == "" {
		s.Unit = l.Unit
	}
	if s.Pupil == "" {
		s.Pupil = l.Pupil
	}
	switch {
	case l.Pupil != "" && l.Pupil != s.Pupil:
		return &SeasonError{Session: l.Session, Reason: fmt.Sprintf("it is of %q, the sessions before it are of %q: a season is of one pupil", l.Pupil, s.Pupil)}
	case l.Unit != s.Unit:
		return &SeasonError{Session: l.Session, Reason: fmt.Sprintf("it is in %s, the sessions before it are in %s: bring them into one unit", l.Unit, s.Unit)}
	case len(s.Sessions) > 0 && l.Mirrored != s.Sessions[0].Lesson.Mirrored:
		return &SeasonError{Session: l.Session, Reason: "right and left are exchanged in it and not in the sessions before it, or the other way round: read all of them the same way"}
	}
	return nil
}
