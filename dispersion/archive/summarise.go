package archive

import (
	"cmp"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// summaries returns the summaries of the groups of a file that a query selects.
func (t *table) summaries(s session, q Query) ([]Summary, error) {
	whose := Summary{File: s.file, Day: s.name.day}
	var unit string
	for _, c := range []struct {
		at   int
		into *string
	}{{atPupil, &whose.Pupil}, {atSession, &whose.Session}, {atUnit, &unit}} {
		var err error
		if *c.into, err = t.one(c.at); err != nil {
			return nil, err
		}
	}
	if err := inPlace(s.file, whose.Pupil); err != nil {
		return nil, err
	}
	whose.Unit = lesson.Unit(unit)
	if !q.session(whose.Pupil, whose.Unit) {
		return nil, nil
	}
	m, err := t.meta()
	if err != nil {
		return nil, err
	}
	whose.Mirrored = m.Lesson.Mirrored
	c, err := t.columnSet()
	if err != nil {
		return nil, err
	}
	var summaries []Summary
	for _, g := range c.groups() {
		first := g.rows[0]
		sum := whose
		sum.Stage, sum.Intent, sum.Club = c.stages[c.stage[first]], lesson.Intent(c.intents[c.intent[first]]), c.clubs[c.club[first]]
		if !q.group(sum.Stage, sum.Intent, sum.Club) {
			continue
		}
		if err := c.addUp(g.rows, &sum); err != nil {
			return nil, err
		}
		summaries = append(summaries, sum)
	}
	return summaries, nil
}

// rowsOf are the rows of one group, in the order hit.
type rowsOf struct{ rows []int32 }

// groups deals the rows that count out to their groups, in the order of
// lesson.Lesson.Groups: stage by stage and in each club by club, both in the
// order in which a shot that counts was first hit.
func (c *columnSet) groups() []rowsOf {
	type key struct{ stage, club int32 }
	counts := map[key]int{}
	stages, clubs := newOrder(len(c.stages)), newOrder(len(c.clubs))
	var keys []key
	for i := range c.stage {
		if c.why[c.void[i]] == "" {
			stages.see(c.stage[i])
			clubs.see(c.club[i])
			k := key{c.stage[i], c.club[i]}
			if counts[k]++; counts[k] == 1 {
				keys = append(keys, k)
			}
		}
	}
	slices.SortFunc(keys, func(a, b key) int {
		return cmp.Or(cmp.Compare(stages.place[a.stage], stages.place[b.stage]), cmp.Compare(clubs.place[a.club], clubs.place[b.club]))
	})
	all := make([]int32, len(c.stage))
	groups := make([]rowsOf, len(keys))
	place := make(map[key]int, len(keys))
	for i, k := range keys {
		place[k] = i
		groups[i].rows, all = all[:0:counts[k]], all[counts[k]:]
	}
	for i := range c.stage {
		if c.why[c.void[i]] == "" {
			g := &groups[place[key{c.stage[i], c.club[i]}]]
			g.rows = append(g.rows, int32(i))
		}
	}
	return groups
}

// An order is the order in which texts were first seen.
type order struct {
	place []int // by text, from 1; 0 for one that was not seen
	seen  int
}

func newOrder(n int) *order { return &order{place: make([]int, n)} }

func (o *order) see(text int32) {
	if o.place[text] == 0 {
		o.seen++
		o.place[text] = o.seen
	}
}

// addUp fills in the moments and sums of the rows of one group.
func (c *columnSet) addUp(rows []int32, s *Summary) error {
	all := make([]dispersion.Point, 0, len(rows))
	clean := make([]dispersion.Point, 0, len(rows))
	for _, r := range rows {
		p := dispersion.Point{X: c.side[r], Y: c.carry[r]}
		all = append(all, p)
		if err := s.All.Sums.Add(c.sideTenths[r], c.carryTenths[r]); err != nil {
			return err
		}
		if !c.mishit[r] {
			clean = append(clean, p)
			if err := s.Clean.Sums.Add(c.sideTenths[r], c.carryTenths[r]); err != nil {
				return err
			}
		}
	}
	if err := momentsOf(all, &s.All.Moments); err != nil {
		return err
	}
	if len(clean) == len(all) {
		s.Clean.Moments = s.All.Moments
		return nil
	}
	if len(clean) == 0 {
		return nil
	}
	return momentsOf(clean, &s.Clean.Moments)
}

func momentsOf(points []dispersion.Point, into *dispersion.Moments) error {
	g, err := dispersion.NewGroup(points)
	if err != nil {
		return err
	}
	*into = g.Moments()
	return nil
}
