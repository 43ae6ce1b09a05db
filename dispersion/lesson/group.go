package lesson

import (
	"cmp"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
)

// A Group is the shots of one stage with one club.
type Group struct {
	Stage  Stage
	Club   string
	Shots  []Shot // those that count: void ones are left out; in the order hit
	Mishit []bool // for each of Shots, whether it is a mishit
}

// Groups returns the shots that count, stage by stage in the order first hit
// and in each stage club by club in the order first hit in the lesson, with the
// mishits marked.
//
// A mishit is a carry short of the median of its group, m, by more than
//
//	max(3.5 · s, 0.08 · m),  s = 1.4826 · median |carry - m of its own group|
//
// where s is taken over the like groups of the club: the drills together, and
// the others together. It is one-sided: a long ball and a ball far to the side
// are no mishits. A mishit is marked and never dropped.
//
// Groups does not modify the lesson and takes O(n log n) time.
func (l *Lesson) Groups() []Group {
	if l == nil {
		return nil
	}
	stages := map[string]Stage{}
	for _, s := range l.Stages {
		stages[s.Name] = s
	}
	type key struct{ stage, club string }
	type placed struct {
		stage, club int // in the order first hit
		group       Group
	}
	at := map[key]int{}
	var all []placed
	stagePlace, clubPlace := map[string]int{}, map[string]int{}
	for _, s := range l.Shots {
		if s.Void != "" {
			continue
		}
		if _, seen := stagePlace[s.Stage]; !seen {
			stagePlace[s.Stage] = len(stagePlace)
		}
		if _, seen := clubPlace[s.Club]; !seen {
			clubPlace[s.Club] = len(clubPlace)
		}
		i, seen := at[key{s.Stage, s.Club}]
		if !seen {
			stage, ok := stages[s.Stage]
			if !ok { // a lesson that was put together by hand
				stage = Stage{Name: s.Stage, Intent: s.Intent}
			}
			i = len(all)
			at[key{s.Stage, s.Club}] = i
			all = append(all, placed{stagePlace[s.Stage], clubPlace[s.Club], Group{Stage: stage, Club: s.Club}})
		}
		all[i].group.Shots = append(all[i].group.Shots, s)
	}
	slices.SortFunc(all, func(a, b placed) int {
		return cmp.Or(cmp.Compare(a.stage, b.stage), cmp.Compare(a.club, b.club))
	})
	var groups []Group
	for _, p := range all {
		groups = append(groups, p.group)
	}
	markMishits(groups)
	return groups
}

// All returns the landing points of all shots of the group.
//
// Errors: those of [dispersion.NewGroup], for a group without shots.
func (g Group) All() (*dispersion.Group, error) { return g.points(false) }

// Clean returns the landing points without the mishits: how good the shots are
// when struck.
//
// Errors: those of [dispersion.NewGroup], for a group without such shots.
func (g Group) Clean() (*dispersion.Group, error) { return g.points(true) }

func (g Group) points(clean bool) (*dispersion.Group, error) {
	points := make([]dispersion.Point, 0, len(g.Shots))
	for i, s := range g.Shots {
		if !clean || !g.mishit(i) {
			points = append(points, s.Point())
		}
	}
	return dispersion.NewGroup(points)
}

// mishit is false beyond the end of Mishit, so that a group put together by
// hand needs none.
func (g Group) mishit(i int) bool { return i < len(g.Mishit) && g.Mishit[i] }

// Mishits returns how many of the shots are mishits.
func (g Group) Mishits() int {
	n := 0
	for i := range g.Shots {
		if g.mishit(i) {
			n++
		}
	}
	return n
}

// Values returns what the clean shots have in a numeric column, by the name
// that [Shot.Value] takes, in the order hit. A shot without a value there is
// left out, so that there may be fewer values than clean shots.
func (g Group) Values(column string) []float64 {
	var values []float64
	for i, s := range g.Shots {
		if v, ok := s.Value(column); ok && !g.mishit(i) {
			values = append(values, v)
		}
	}
	return values
}
