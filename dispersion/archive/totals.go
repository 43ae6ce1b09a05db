package archive

import (
	"cmp"
	"context"
	"iter"
	"maps"
	"slices"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A Total is all that one pupil hit with one club, of what was selected.
type Total struct {
	Pupil string
	Unit  lesson.Unit
	Club  string

	Groups     int     // added up
	All, Clean AddedUp // all shots that count, and those of them that are no mishits
}

// Totals streams the totals of the pupils: the pupils in the order of
// [Archive.Groups], for each by unit and club.
//
// The tree of merges is fixed. The moments of a total are those of the pupil's
// groups, merged one after the other in the order of Groups; a roll-up of pupils
// should merge totals in the order they come here, or by name. So the bits are
// the same on any number of cores, and with any number of [Part]s, since a pupil
// is never parted.
//
// Errors: those of [Archive.Groups], in their places, and [ErrOverflow].
func (a *Archive) Totals(ctx context.Context, q Query) iter.Seq2[Total, error] {
	return func(yield func(Total, error) bool) {
		type key struct {
			unit lesson.Unit
			club string
		}
		pupil, totals := "", map[key]*Total{}
		flush := func() bool {
			for _, t := range slices.SortedFunc(maps.Values(totals), func(a, b *Total) int {
				return cmp.Or(cmp.Compare(a.Unit, b.Unit), cmp.Compare(a.Club, b.Club))
			}) {
				if !yield(*t, nil) {
					return false
				}
			}
			clear(totals)
			return true
		}
		for s, err := range a.Summaries(ctx, q) {
			if err != nil {
				if !yield(Total{}, err) || ctx.Err() != nil {
					return // a pupil that is half read has no total
				}
				continue
			}
			if s.Pupil != pupil && !flush() {
				return
			}
			pupil = s.Pupil
			t := totals[key{s.Unit, s.Club}]
			if t == nil {
				t = &Total{Pupil: s.Pupil, Unit: s.Unit, Club: s.Club}
				totals[key{s.Unit, s.Club}] = t
			}
			t.Groups++
			for _, m := range []struct {
				into *AddedUp
				of   AddedUp
			}{{&t.All, s.All}, {&t.Clean, s.Clean}} {
				if err := m.into.merge(m.of); err != nil && !yield(Total{}, err) {
					return
				}
			}
		}
		flush()
	}
}
