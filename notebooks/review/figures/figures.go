// Package figures draws a review. It stands apart from package review because
// the drawing library is most of what a notebook cell has to link.
package figures

import (
	"context"
	"errors"

	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/review"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// Stages draws where the balls of every stage with one club landed. Each club
// has a figure of its own, since all plans of a figure share one scale.
func Stages(r *review.Review, club string) (chart.Figure, error) {
	in := chart.StagesInput{Title: r.Title("Where the balls landed, stage by stage"), Unit: string(r.Lesson.Unit)}
	for _, s := range r.Stages {
		if s.Club != club {
			continue
		}
		stage := stageOf(s.Group)
		stage.Sentence, stage.Like = s.Sentence(r.Lesson.Unit), like(s)
		in.Stages = append(in.Stages, stage)
	}
	return chart.Stages(in)
}

// ShowStages shows the stages in a notebook, one figure a club.
func ShowStages(r *review.Review) {
	for _, club := range r.Clubs() {
		show.Figure(show.Must(Stages(r, club)))
	}
}

// like names what a stage may be compared with.
func like(s review.Stage) string {
	if s.Stage.Intent == lesson.Drill {
		return s.Club + " drill"
	}
	return s.Club
}

// Wall draws the shuffle wall of a pair that has one.
func Wall(r *review.Review, w review.PairWall) (chart.Figure, error) {
	return chart.Wall(chart.WallInput{Unit: string(r.Lesson.Unit), Wall: *w.Wall})
}

// Effects draws the effects of the headlines. Without any, the error is
// [chart.ErrEmpty].
func Effects(ctx context.Context, r *review.Review) (chart.Figure, error) {
	rows, err := r.EffectRows(ctx, r.Headlines())
	if err != nil {
		return chart.Figure{}, err
	}
	in := chart.EffectsInput{Title: r.Title("What changed, and how sure that is")}
	for _, row := range rows {
		in.Rows = append(in.Rows, chart.Effect(row))
	}
	return chart.Effects(in)
}

// ShowEffects shows the picture of the headlines' effects in a notebook, or
// says that there is none.
func ShowEffects(ctx context.Context, r *review.Review) {
	figure, err := Effects(ctx, r)
	if errors.Is(err, chart.ErrEmpty) {
		show.Text("There is no effect to draw.")
		return
	}
	show.Figure(show.Must(figure, err))
}
