package main

import (
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
)

func stages(d *demo) (chart.Figure, error) {
	return chart.Stages(chart.StagesInput{
		Title: "The new swing carried farther, and the old one fell back when it was hit again",
		Unit:  d.unit, Stages: d.stages,
	})
}

func change(d *demo) (chart.Figure, error) {
	return chart.Change(chart.ChangeInput{Unit: d.unit, Before: d.stages[firstStage], After: d.stages[newStage]})
}

func group(d *demo) (chart.Figure, error) {
	centre, err := d.before.MeanEllipse(0.95)
	if err != nil {
		return chart.Figure{}, err
	}
	next, err := d.before.PredictionEllipse(0.8)
	if err != nil {
		return chart.Figure{}, err
	}
	circle, err := d.before.EnclosingCircle()
	if err != nil {
		return chart.Figure{}, err
	}
	s := d.stages[firstStage]
	return chart.Group(chart.GroupInput{
		Title: "Four in five of the next balls land inside the dashed ring",
		Name:  s.Name, Unit: d.unit, Shots: s.Shots, Mishit: s.Mishit,
		Regions: []dispersion.Region{centre, next, circle},
		Centres: []chart.Mark{{Name: "mean", Point: d.before.Mean()}, {Name: "geometric median", Point: d.before.GeometricMedian().Point}},
	})
}

func depths(d *demo) (chart.Figure, error) {
	s := d.stages[newStage]
	return chart.Depths(chart.DepthsInput{Name: s.Name, Unit: d.unit, Shots: s.Shots, Mishit: s.Mishit, Stage: newStage})
}

func angles(d *demo) (chart.Figure, error) {
	return chart.Angles(chart.AnglesInput{Unit: d.unit, Stages: []chart.Stage{d.stages[firstStage], d.stages[newStage]}})
}
