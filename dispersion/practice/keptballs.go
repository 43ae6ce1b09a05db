package practice

import (
	"slices"
	"time"
)

// Balls says which balls one side of a comparison is made of.
type Balls struct {
	Phase    Phase
	Sessions []string  // that they were hit in, in the order of time
	Start    time.Time // of the last of the sessions
	N        int       // clean balls with a value; where it is 0, only Phase says something
	Mishits  int       // marked among the balls of this side, beside N
	Mean     float64   // of the N, in the unit of the column
}

// found is the balls of one phase.
type found struct {
	phase      Phase
	sessions   []int // that hold them, by index in the season
	counts     []int // of values in each of the sessions
	start, end time.Time
	values     []float64
	mishits    int
}

func (f found) balls(s *Season) Balls {
	if len(f.values) == 0 {
		return Balls{Phase: f.phase}
	}
	b := Balls{Phase: f.phase, Start: f.start, N: len(f.values), Mishits: f.mishits, Mean: meanOf(f.values)}
	for _, i := range f.sessions {
		b.Sessions = append(b.Sessions, s.Sessions[i].Name)
	}
	return b
}

// add puts in the balls of one session of the season: the first balls of the
// phase, or those at a session's end.
func (f *found) add(s *Season, i int, q Question) {
	session := s.Sessions[i]
	var values []float64
	for _, stage := range session.Stages {
		if stage.Club == q.Club && stage.Phase == f.phase && stage.First == (f.phase != Immediate) {
			values = append(values, stage.Values(q.Column)...)
			f.mishits += stage.Mishits()
		}
	}
	if len(values) == 0 {
		return
	}
	f.sessions, f.counts = append(f.sessions, i), append(f.counts, len(values))
	f.start, f.end = session.Start, session.End
	f.values = append(f.values, values...)
}

// find returns the balls that answer the question. Retention comes first: what
// was taught in that session or after it has no part in its first balls.
func (s *Season) find(q Question) (baseline, immediate, retention found, err error) {
	baseline.phase, immediate.phase, retention.phase = Baseline, Immediate, Retention
	at := len(s.Sessions)
	for i, session := range s.Sessions {
		later := found{phase: Retention}
		later.add(s, i, q)
		if len(later.values) > 0 && (q.Session == "" || q.Session == session.Name) {
			retention, at = later, i
		}
	}
	for i, session := range s.Sessions[:at] {
		if at < len(s.Sessions) && session.End.After(retention.start) {
			continue
		}
		baseline.add(s, i, q)
		if len(baseline.values) > 0 && len(immediate.values) == 0 {
			immediate = found{phase: Immediate}
			immediate.add(s, i, q)
		}
	}
	if len(baseline.values) == 0 {
		err = &PhaseError{Phase: Baseline, Club: q.Club, Column: q.Column, Clubs: s.clubs(Baseline, q.Column)}
	} else if len(retention.values) == 0 {
		err = &PhaseError{Phase: Retention, Club: q.Club, Column: q.Column, Session: q.Session, Clubs: s.clubs(Retention, q.Column)}
	}
	return baseline, immediate, retention, err
}

// clubs lists those with first balls of a phase and a number in the column.
func (s *Season) clubs(p Phase, column string) []string {
	var all []string
	for _, session := range s.Sessions {
		for _, stage := range session.Stages {
			if stage.First && stage.Phase == p && !slices.Contains(all, stage.Club) && len(stage.Values(column)) > 0 {
				all = append(all, stage.Club)
			}
		}
	}
	return all
}

// taught counts the sessions with teaching after one session and before another.
func (s *Season) taught(after, before int) int {
	n := 0
	for _, session := range s.Sessions[after+1 : before] {
		if slices.ContainsFunc(session.Stages, func(x Stage) bool { return x.Phase == Practice || x.Phase == Immediate && !x.First }) {
			n++
		}
	}
	return n
}
