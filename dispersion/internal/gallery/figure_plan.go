package main

import (
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

func dial(d *demo) (chart.Figure, error) {
	var stages [][]float64
	for _, g := range []*dispersion.Group{d.before, d.after} {
		var carries []float64
		for _, p := range g.Points() {
			carries = append(carries, p.Y)
		}
		stages = append(stages, carries)
	}
	plan, err := compare.PlanCarry(stages, 5, 0.8, 0.95)
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.Dial(chart.DialInput{Unit: d.unit, Plan: plan, Balls: 12})
}

func calibration(d *demo) (chart.Figure, error) {
	var scores []compare.Score
	for _, lesson := range []struct{ expected, measured, half float64 }{ // invented
		{4, 2.1, 5.2}, {6, 7.4, 6.1}, {3, -1.8, 4.4}, {10, 3.6, 5.8}, {8, 6.9, 7.0}, {12, 4.2, 5.1}, {6, 1.2, 4.6}, {5, 5.8, 5.5},
	} {
		e := compare.Effect{
			Name: compare.NameCarryGain, Unit: d.unit, Method: "invented", N1: 10, N2: 10, DF: 18, Before: 120, After: 120 + lesson.measured,
			Estimate: lesson.measured, Interval: dispersion.Interval{Low: lesson.measured - lesson.half, High: lesson.measured + lesson.half, Level: 0.95},
		}
		s, err := compare.ScoreExpectation(e, lesson.expected)
		if err != nil {
			return chart.Figure{}, err
		}
		scores = append(scores, s)
	}
	return chart.Calibration(chart.CalibrationInput{Scores: scores})
}
