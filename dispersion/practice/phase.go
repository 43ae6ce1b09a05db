package practice

import (
	"fmt"
	"strings"
	"time"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A Phase says what the balls of a stage can show. What was learned shows at the
// first balls of a later session, before any teaching; what a session shows after
// teaching is performance.
//
// Where the file doesn't say, phases are told from the order of things. Balls are
// untaught until the session's first drill, or its first full swings in another
// stage than the one it began with. Of a session that begins with full swings
// only the first ten of each club are untaught.
//
//	Untaught balls are  Baseline    where nothing was taught yet in the whole season
//	                    Transfer    with a club that no earlier session had
//	                    Retention   24 hours or more after the session before
//	                    Immediate   sooner
//	Taught balls are    Immediate   in a club's last stage of the session that is no drill and no bookend;
//	                                of the stage that the session began with only after a drill
//	                    Practice    in all others
type Phase string

// The phases.
const (
	Baseline  Phase = "baseline"  // before any teaching
	Practice  Phase = "practice"  // while something was being changed
	Immediate Phase = "immediate" // what the session left at once
	Retention Phase = "retention" // what is left at least 24 hours later
	Transfer  Phase = "transfer"  // what reaches a club it was not practised with
)

// readPhase returns the phase that a text names, in any case.
func readPhase(text string) (Phase, bool) {
	switch p := Phase(strings.ToLower(text)); p {
	case Baseline, Practice, Immediate, Retention, Transfer:
		return p, true
	}
	return "", false
}

// A Stage is balls of one stage, one club and one phase.
type Stage struct {
	Phase Phase

	// First marks first balls: the first ten with this club in the session,
	// before any teaching.
	First bool

	lesson.Group
}

const (
	firstBalls     = 10             // the convention of this package
	retentionAfter = 24 * time.Hour // R. A. Schmidt, T. D. Lee, Motor Control and Learning (from memory)
)

// tellPhases sorts the shots of every session into stages with phases.
func (s *Season) tellPhases() error {
	taught := false // something, in this session or before
	earlier := map[string]bool{}
	for i := range s.Sessions {
		t := phaseTeller{session: &s.Sessions[i], taughtBefore: taught, earlier: earlier, later: Immediate}
		if i > 0 {
			enough, sure := apart(s.Sessions[i-1], s.Sessions[i])
			if enough {
				t.later = Retention
			}
			if !sure {
				s.Warnings = append(s.Warnings, warning(ErrClock, "%q and %q are a day apart by the date alone, taken for 24 hours: add the time of day", s.Sessions[i-1].Name, s.Sessions[i].Name))
			}
		}
		if err := t.tell(); err != nil {
			return err
		}
		taught = taught || t.taught
		for _, stage := range s.Sessions[i].Stages {
			earlier[stage.Club] = true
		}
	}
	return nil
}

// apart tells whether 24 hours lie between the end of one session and the start
// of the next, and whether that is sure.
func apart(a, b Session) (enough, sure bool) {
	if a.Clock && b.Clock {
		return b.Start.Sub(a.End) >= retentionAfter, true
	}
	day := func(t time.Time) time.Time { return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC) }
	days := int(day(b.Start).Sub(day(a.End)) / (24 * time.Hour))
	return days >= 1, days != 1
}

// A phaseTeller goes through one session in the order hit.
type phaseTeller struct {
	session      *Session
	taughtBefore bool
	earlier      map[string]bool // clubs of earlier sessions
	later        Phase           // of untaught balls with such a club, once something was taught

	taught  bool // something in this session
	drilled bool // in this session
}

func (t *phaseTeller) tell() error {
	mishit, stageOf := map[int]bool{}, map[int]lesson.Stage{}
	last := map[string]lesson.Stage{} // each club's last stage that is judged
	for _, g := range t.session.Lesson.Groups() {
		for i, s := range g.Shots {
			mishit[s.Ball], stageOf[s.Ball] = g.Mishit[i], g.Stage
		}
	}
	for _, s := range t.session.Lesson.Shots {
		if stage, ok := stageOf[s.Ball]; ok && stage.Intent != lesson.Drill && !stage.Bookend {
			last[s.Club] = stage
		}
	}
	type key struct {
		stage lesson.Stage
		club  string
		phase Phase
		first bool
	}
	place := map[key]int{}
	count := map[string]int{} // untaught balls of each club
	var opening *lesson.Stage
	for _, s := range t.session.Lesson.Shots {
		stage, ok := stageOf[s.Ball]
		if !ok {
			continue // void
		}
		if opening == nil {
			opening = &stage
		}
		if stage.Intent == lesson.Drill || stage.Intent == lesson.Full && stage != *opening || opening.Intent == lesson.Full && stage != *opening {
			t.taught = true
		}
		t.drilled = t.drilled || stage.Intent == lesson.Drill
		phase := t.phase(s, stage, *opening, last[s.Club], count[s.Club])
		if text, ok := s.Text("phase"); ok {
			said, ok := readPhase(text)
			if !ok {
				return &SeasonError{t.session.Name, s.Line, fmt.Sprintf("phase %q: use baseline, practice, immediate, retention or transfer", text)}
			}
			phase.Phase, phase.First = said, (said == Baseline || said == Retention || said == Transfer) && count[s.Club] < firstBalls
		}
		if phase.Phase == Practice {
			t.taught = true
		}
		if phase.Phase != Practice {
			count[s.Club]++
		}
		k := key{stage, s.Club, phase.Phase, phase.First}
		at, ok := place[k]
		if !ok {
			at = len(t.session.Stages)
			place[k] = at
			phase.Group = lesson.Group{Stage: stage, Club: s.Club}
			t.session.Stages = append(t.session.Stages, phase)
		}
		g := &t.session.Stages[at].Group
		g.Shots, g.Mishit = append(g.Shots, s), append(g.Mishit, mishit[s.Ball])
	}
	return nil
}

// phase tells the phase of one ball from the order of things; before is how many
// untaught balls of its club came before it.
func (t *phaseTeller) phase(s lesson.Shot, stage, opening, last lesson.Stage, before int) Stage {
	full := opening.Intent == lesson.Full && stage == opening
	switch {
	case t.taught || full && before >= firstBalls:
		if stage == last && (stage != opening || t.drilled) {
			return Stage{Phase: Immediate}
		}
		return Stage{Phase: Practice}
	case !t.taughtBefore:
		return Stage{Phase: Baseline, First: before < firstBalls}
	case !t.earlier[s.Club]:
		return Stage{Phase: Transfer, First: before < firstBalls}
	}
	return Stage{Phase: t.later, First: before < firstBalls}
}
