package review

import (
	"context"
	"errors"
	"fmt"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A Moment is a lesson while it is hit: the stage of the last ball, the first
// like stage that it is held against, and what may be said so far.
type Moment struct {
	Group  lesson.Group
	Before *lesson.Group // nil: nothing to hold it against
	Says   string
}

// Now returns the lesson as it stands after its last ball that counts. Whoever
// follows a lesson looks after every ball, so the gain so far is that of
// [compare.AnytimeGain], which holds however often one looks. An error is that
// of the context, or that no ball counts yet.
func (r *Review) Now(ctx context.Context) (Moment, error) {
	if err := ctx.Err(); err != nil {
		return Moment{}, err
	}
	m, ok := r.lastStage()
	if !ok {
		return Moment{}, errors.New("review: no ball counts yet")
	}
	like := r.likeStages(lesson.Pair{Before: m.Group})
	if m.Group.Stage.Intent != lesson.Drill && like[0].Stage.Name != m.Group.Stage.Name {
		m.Before = &like[0].Group
	}
	m.Says = r.caption(r.soFar(m))
	if m.Before == nil {
		return m, nil
	}
	gain, err := compare.AnytimeGain(ctx, compare.NameCarryGain, string(r.Lesson.Unit), m.Before.Values("carry"), m.Group.Values("carry"), r.options)
	var few *dispersion.TooFewError
	switch {
	case ctx.Err() != nil:
		return Moment{}, ctx.Err()
	case errors.As(err, &few):
		m.Says += " It takes a few more to look at a gain."
	case err != nil:
		m.Says += " " + upperFirst(plain(err)) + "."
	default:
		m.Says += " " + gain.Sentence() + " That holds however often you look."
	}
	return m, nil
}

// lastStage returns the stage of the last ball that counts.
func (r *Review) lastStage() (m Moment, ok bool) {
	last := 0
	for _, s := range r.Stages {
		if n := len(s.Shots); n > 0 && s.Shots[n-1].Ball >= last {
			last, ok = s.Shots[n-1].Ball, true
			m.Group = s.Group
		}
	}
	return m, ok
}

// soFar counts the balls of the stage being hit, and says how far they carry.
func (r *Review) soFar(m Moment) string {
	g := m.Group
	s := quoted(g.Stage.Name) + ", " + count(len(g.Shots), "ball")
	if n := g.Mishits(); n > 0 {
		s += fmt.Sprintf(", %d mishit", n)
	}
	if carry := summary(g.Values("carry")); carry.N > 0 {
		s += fmt.Sprintf(": %.0f %s on average", carry.Mean, r.Lesson.Unit)
	}
	return s + "."
}
