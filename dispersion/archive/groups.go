package archive

import (
	"context"
	"fmt"
	"iter"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A Group is the shots of one stage with one club, and whose they are. Its
// mishits are marked as in the whole session, whatever was selected.
type Group struct {
	File           string // of the session, relative to the archive's folder
	Pupil, Session string
	Day            string // as 2006-01-02; "" where it is not known
	Unit           lesson.Unit
	Mirrored       bool // right and left are exchanged, as the lesson was read

	lesson.Group
}

// Groups streams the groups that a query selects: pupil by pupil in a fixed
// order that is not that of their names, for each by day, and in a session in
// the order of [lesson.Lesson.Groups].
//
// An error is about one file, a *[FileError], and comes in its place; the loop
// may go on to the next. Before the first group there may be [ErrMissing] or a
// *[QueryError], and the context's error is the last.
//
// The memory is that of the sessions in flight, a few for each core. The same
// groups come in the same order on any number of cores.
func (a *Archive) Groups(ctx context.Context, q Query) iter.Seq2[Group, error] {
	if err := begin(ctx, q); err != nil {
		return failed[Group](err)
	}
	return flatten(each(ctx, a.sessions(q), func(s session) ([]Group, error) { return a.groups(s, q) }))
}

func (a *Archive) groups(s session, q Query) ([]Group, error) {
	l, err := a.load(s.file, s.name)
	if err != nil || !q.session(l.Pupil, l.Unit) {
		return nil, err
	}
	var groups []Group
	for _, g := range l.Groups() {
		if q.group(g.Stage.Name, g.Stage.Intent, g.Club) {
			groups = append(groups, Group{s.file, l.Pupil, l.Session, s.name.day, l.Unit, l.Mirrored, g})
		}
	}
	return groups, nil
}

// flatten yields one by one what came in slices.
func flatten[T any](slices iter.Seq2[[]T, error]) iter.Seq2[T, error] {
	return func(yield func(T, error) bool) {
		var none T
		for values, err := range slices {
			if err != nil && !yield(none, err) {
				return
			}
			for _, v := range values {
				if !yield(v, nil) {
					return
				}
			}
		}
	}
}

// ForEachGroup calls f with every group that a query selects, from several
// goroutines at once, so that f may run whatever the library has: a partition
// by pupil needs no approximation. With a [Part] in the query, n processes share
// one folder, and together call f with every group once.
//
// The groups of one session come to one goroutine in their order. What f makes
// of them should be kept by file and place, or by pupil, so that the answer does
// not depend on who was first.
//
// Errors: those of [Archive.Groups]; of files, the first, and the rest of the
// archive is gone through all the same; of f, the first in the order of the
// groups, and then no further session is begun.
func (a *Archive) ForEachGroup(ctx context.Context, q Query, f func(Group) error) error {
	if f == nil {
		return fmt.Errorf("archive: %w", ErrMissing)
	}
	if err := begin(ctx, q); err != nil {
		return err
	}
	type outcome struct{ err error } // of f
	var first error
	for o, err := range each(ctx, a.sessions(q), func(s session) (outcome, error) {
		groups, err := a.groups(s, q)
		for _, g := range groups {
			if err := f(g); err != nil {
				return outcome{fmt.Errorf("archive: %s: %w", s.file, err)}, nil
			}
		}
		return outcome{}, err
	}) {
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case o.err != nil:
			return o.err
		case first == nil:
			first = err
		}
	}
	return first
}
