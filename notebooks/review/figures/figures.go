// Package figures draws a review. It stands apart from package review because
// the drawing library is most of what a notebook cell has to link.
package figures

import (
	"context"
	"slices"

	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/review"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// Stages draws where the balls of every stage with one club landed. Each club
// has a figure of its own, since all plans of a figure share one scale; so many
// stages that one can't hold them have several.
func Stages(r *review.Review, club string) ([]chart.Figure, error) {
	in := chart.StagesInput{Title: r.Title("Where the balls landed, stage by stage"), Unit: string(r.Lesson.Unit)}
	for _, s := range r.Stages {
		if s.Club != club {
			continue
		}
		stage := stageOf(s.Group)
		stage.Sentence, stage.Like = s.Sentence(r.Lesson.Unit), like(s)
		in.Stages = append(in.Stages, stage)
	}
	var all []chart.Figure
	for part := range slices.Chunk(in.Stages, chart.MostStages) {
		one := in
		one.Stages = part
		figure, err := chart.Stages(one)
		if err != nil {
			return nil, err
		}
		all = append(all, figure)
	}
	return all, nil
}

// ShowStages shows the stages in a notebook, one figure a club.
func ShowStages(r *review.Review) {
	for _, club := range r.Clubs() {
		for _, figure := range show.Must(Stages(r, club)) {
			show.Figure(figure)
		}
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

// Effects draws the effects of the headlines, in as many figures as they take:
// none where there are no effects.
func Effects(ctx context.Context, r *review.Review) ([]chart.Figure, error) {
	rows, err := r.EffectRows(ctx, r.Headlines())
	if err != nil {
		return nil, err
	}
	var all []chart.Figure
	for part := range slices.Chunk(rows, chart.MostEffects) {
		in := chart.EffectsInput{Title: r.Title("What changed, and how sure that is")}
		for _, row := range part {
			in.Rows = append(in.Rows, chart.Effect(row))
		}
		figure, err := chart.Effects(in)
		if err != nil {
			return nil, err
		}
		all = append(all, figure)
	}
	return all, nil
}

// ShowEffects shows the picture of the headlines' effects in a notebook, or
// says that there is none.
func ShowEffects(ctx context.Context, r *review.Review) {
	all := show.Must(Effects(ctx, r))
	if len(all) == 0 {
		show.Text("There is no effect to draw.")
	}
	for _, figure := range all {
		show.Figure(figure)
	}
}
