package strokes

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
)

// A Log is what was played on a course, shot by shot.
type Log struct {
	Shots []Shot

	// Warnings: *[GapWarning].
	Warnings []error
}

// A GapWarning tells that a shot does not start where the one before it on the
// same hole came to rest.
type GapWarning struct {
	Line       int  // of the later shot
	Rest, Next Spot // where the ball came to rest, and where the next shot starts
}

func (w *GapWarning) Error() string {
	rest := fmt.Sprintf("%.0f m from the hole on the %v", w.Rest.Distance, w.Rest.Lie)
	if w.Rest.Distance == 0 {
		rest = "in the hole"
	}
	return fmt.Sprintf("line %d: the shot before came to rest %s, this one starts at %.0f m on the %v", w.Line, rest, w.Next.Distance, w.Next.Lie)
}

// ReadLog reads a log of shots on a course from a table with the columns
//
//	round, hole      which; may be left out
//	club             may be left out
//	start_lie        tee, fairway, rough, sand, recovery or green
//	start_distance_m to the hole; or _yd or _ft; with several, one is filled in
//	end_lie          the same, or hole: the ball is in the hole
//	end_distance_m   likewise; empty or 0 for a ball in the hole
//	penalty          penalty strokes; may be left out or empty for none
//
// one row for each shot, in the order played. Further columns are passed over.
// A shot into water or out of bounds ends where the next is played from.
//
// Errors: [ErrMissing] for a nil reader; every faulty cell of the first twenty
// rows that have one, each as *[TableError]; an error of the reader. Warnings in
// the result: *[GapWarning].
func ReadLog(r io.Reader) (*Log, error) {
	l, err := readLog(r)
	if err != nil {
		return nil, fmt.Errorf("strokes: log: %w", err)
	}
	return l, nil
}

func readLog(r io.Reader) (*Log, error) {
	t, err := readTable(r)
	if err != nil {
		return nil, err
	}
	if err := t.need("start_lie", "end_lie"); err != nil {
		return nil, err
	}
	if err := errors.Join(t.needDistance("start_distance"), t.needDistance("end_distance")); err != nil {
		return nil, err
	}
	l := &Log{Shots: make([]Shot, 0, len(t.rows))}
	var faults []error
	for _, row := range t.rows {
		s, err := t.shot(row)
		if err != nil {
			if faults = append(faults, err); len(faults) == 20 {
				break
			}
			continue
		}
		if n := len(l.Shots); n > 0 && s.follows(l.Shots[n-1]) && !s.startsAt(l.Shots[n-1]) {
			l.Warnings = append(l.Warnings, &GapWarning{Line: s.Line, Rest: l.Shots[n-1].To, Next: s.From})
		}
		l.Shots = append(l.Shots, s)
	}
	if len(faults) > 0 {
		return nil, errors.Join(faults...)
	}
	return l, nil
}

func (t *table) shot(r tableRow) (Shot, error) {
	s := Shot{Round: t.text(r, "round"), Hole: t.text(r, "hole"), Club: t.text(r, "club"), Line: r.line}
	var errs [5]error
	s.From.Lie, errs[0] = t.lie(r, "start_lie")
	s.From.Distance, errs[1] = t.distance(r, "start_distance")
	if errs[1] == nil && s.From.Distance == 0 {
		errs[1] = &TableError{Line: r.line, Column: "start_distance", Reason: "no shot starts in the hole"}
	}
	if strings.EqualFold(t.text(r, "end_lie"), "hole") {
		s.To.Lie = Green
		if t.hasDistance(r, "end_distance") {
			s.To.Distance, errs[3] = t.distance(r, "end_distance")
		}
		if s.To.Distance != 0 {
			errs[3] = &TableError{Line: r.line, Column: "end_distance", Reason: "the ball is in the hole: leave the distance empty, or correct end_lie"}
		}
	} else {
		s.To.Lie, errs[2] = t.lie(r, "end_lie")
		s.To.Distance, errs[3] = t.distance(r, "end_distance")
	}
	if t.text(r, "penalty") != "" {
		s.Penalty, errs[4] = t.whole(r, "penalty")
		if errs[4] == nil && s.Penalty > 10 {
			errs[4] = &TableError{Line: r.line, Column: "penalty", Reason: fmt.Sprintf("%d penalty strokes for one shot can't be", s.Penalty)}
		}
	}
	return s, errors.Join(errs[:]...)
}

// follows tells whether the shots belong to one hole.
func (s Shot) follows(last Shot) bool {
	return s.Round == last.Round && s.Hole == last.Hole && s.Hole != ""
}

// startsAt tells whether the shot starts where the last one ended, as far as
// paced distances can tell.
func (s Shot) startsAt(last Shot) bool {
	if last.To.Distance == 0 || s.From.Lie != last.To.Lie {
		return false
	}
	return math.Abs(s.From.Distance-last.To.Distance) <= max(2, 0.1*last.To.Distance)
}

// An Outcome is how many strokes were taken from a spot until the ball was in
// the hole.
type Outcome struct {
	Spot
	Strokes float64
	Cluster string // what it shares with others, such as the hole played
}

// Outcomes returns the outcome of every shot on the holes that were played out:
// those that have a name and whose last shot in the log ends in the hole. Where a
// row is missing, as a *[GapWarning] says, the shots before it are left out: how
// many strokes followed them is not known. The cluster is that of [ByHole].
// Penalty strokes count from the shot that they came with.
func Outcomes(shots []Shot) []Outcome {
	var all []Outcome
	for from := 0; from < len(shots); {
		to := from + 1
		for to < len(shots) && shots[to].follows(shots[to-1]) && shots[to-1].To.Distance != 0 {
			to++
		}
		if shots[to-1].To.Distance == 0 && shots[from].Hole != "" {
			first := to - 1
			for first > from && shots[first].startsAt(shots[first-1]) {
				first--
			}
			left := 0
			hole := make([]Outcome, to-first)
			for i := to - 1; i >= first; i-- {
				left += 1 + shots[i].Penalty
				hole[i-first] = Outcome{Spot: shots[i].From, Strokes: float64(left), Cluster: ByHole(shots[i])}
			}
			all = append(all, hole...)
		}
		from = to
	}
	return all
}
