package figures

import (
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/notebooks/review"
)

// Now draws a lesson while it is hit: the stage of the last ball over what it is
// held against, or alone.
func Now(r *review.Review, m review.Moment) (chart.Figure, error) {
	unit := string(r.Lesson.Unit)
	after := stageOf(m.Group)
	if m.Before != nil {
		return chart.Change(chart.ChangeInput{Unit: unit, Before: stageOf(*m.Before), After: after})
	}
	in := chart.GroupInput{Title: "Where these balls landed", Name: after.Name, Unit: unit, Shots: after.Shots, Mishit: after.Mishit}
	if clean, err := m.Group.Clean(); err == nil && clean.N() >= 5 {
		if ring, err := clean.PredictionEllipse(chart.NextLevel); err == nil {
			in.Regions = []dispersion.Region{ring}
		}
	}
	return chart.Group(in)
}
