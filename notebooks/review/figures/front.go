package figures

import (
	"context"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/review"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// Change draws the two groups of a pair on one plan.
func Change(r *review.Review, p lesson.Pair) (chart.Figure, error) {
	return chart.Change(chart.ChangeInput{Unit: string(r.Lesson.Unit), Before: stageOf(p.Before), After: stageOf(p.After)})
}

// ShowFront shows in a notebook what a pupil reads first: for each club one
// sentence, one picture and the next task.
func ShowFront(ctx context.Context, r *review.Review) {
	for _, f := range show.Must(r.Fronts(ctx)) {
		show.Text(f.Says)
		show.Figure(show.Must(Change(r, f.Pair)))
		show.Text(f.Next)
	}
	if rest := r.Uncompared(); len(rest) > 0 {
		show.Text(rest...)
	}
}

// stageOf is a group as charts draw it.
func stageOf(g lesson.Group) chart.Stage {
	s := chart.Stage{Name: review.Label(g.Stage.Name), Mishit: g.Mishit, Shots: make([]dispersion.Point, len(g.Shots))}
	for i, shot := range g.Shots {
		s.Shots[i] = shot.Point()
	}
	return s
}
