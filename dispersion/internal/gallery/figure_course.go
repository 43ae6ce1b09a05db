package main

import (
	"context"

	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/strokes"
)

func baselines(d *demo) (chart.Figure, error) {
	in := chart.BaselinesInput{Unit: d.lesson.Unit, From: 10, To: 200}
	for _, lie := range []strokes.Lie{strokes.Fairway, strokes.Rough, strokes.Sand} {
		in.Curves = append(in.Curves, chart.Curve{Name: lie.String(), Baseline: d.baseline, Lie: lie})
	}
	return chart.Baselines(in)
}

func worth(d *demo) (chart.Figure, error) {
	before, err := strokes.NewPattern(d.before, d.lesson.Unit, strokes.AsHit)
	if err != nil {
		return chart.Figure{}, err
	}
	after, err := strokes.NewPattern(d.after, d.lesson.Unit, strokes.AsHit)
	if err != nil {
		return chart.Figure{}, err
	}
	distances := []float64{100, 110, 120, 130} // metres
	worth, err := strokes.WorthOf(context.Background(), d.hole, d.baseline, before, after, distances, compare.Options{Resamples: 199})
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.Worth(chart.WorthInput{Unit: d.lesson.Unit, Worth: worth})
}

func aim(d *demo) (chart.Figure, error) {
	pattern, err := strokes.NewPattern(d.before, d.lesson.Unit, strokes.AsHit)
	if err != nil {
		return chart.Figure{}, err
	}
	view, err := d.hole.Approach(110, d.baseline)
	if err != nil {
		return chart.Figure{}, err
	}
	options := strokes.AimOptions{Left: -40, Right: 25, Short: 85, Long: 140, Step: 1}
	best, err := view.BestAim(context.Background(), pattern, options)
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.Aim(chart.AimInput{Unit: d.lesson.Unit, View: view, Pattern: pattern, Aim: best})
}

func card(d *demo) (chart.Figure, error) {
	c, err := strokes.NewCard(d.lesson)
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.Card(chart.CardInput{Card: c})
}
