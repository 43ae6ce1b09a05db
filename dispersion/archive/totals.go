package archive

import (
	"cmp"
	"context"
	"iter"
	"maps"
	"slices"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A Total is all that one pupil hit with one club, of what was selected.
type Total struct {
	Pupil string
	Unit  lesson.Unit
	Club  string // as it was spelled first; in any case it is one club

	// Mirrored tells that right and left are exchanged. A pupil with mirrored
	// sessions and others has a total of each.
	Mirrored bool

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
// Errors: those of [Archive.Groups], in their places, and [ErrOverflow], after
// which the total that it is about does not come.
func (a *Archive) Totals(ctx context.Context, q Query) iter.Seq2[Total, error] {
	return func(yield func(Total, error) bool) {
		type key struct {
			unit     lesson.Unit
			club     string // in lower case
			mirrored bool
		}
		pupil, totals, dropped := "", map[key]*Total{}, map[key]bool{}
		flush := func() bool {
			for _, t := range slices.SortedFunc(maps.Values(totals), func(a, b *Total) int {
				return cmp.Or(cmp.Compare(a.Unit, b.Unit), cmp.Compare(a.Club, b.Club), compareBool(a.Mirrored, b.Mirrored))
			}) {
				if !yield(*t, nil) {
					return false
				}
			}
			clear(totals)
			clear(dropped)
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
			k := key{s.Unit, strings.ToLower(s.Club), s.Mirrored}
			if dropped[k] {
				continue
			}
			t := totals[k]
			if t == nil {
				t = &Total{Pupil: s.Pupil, Unit: s.Unit, Club: s.Club, Mirrored: s.Mirrored}
				totals[k] = t
			}
			t.Groups++
			if err := cmp.Or(t.All.merge(s.All), t.Clean.merge(s.Clean)); err != nil {
				dropped[k] = true
				delete(totals, k)
				if !yield(Total{}, err) {
					return
				}
			}
		}
		flush()
	}
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}
