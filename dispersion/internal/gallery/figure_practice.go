package main

import (
	"bytes"
	"context"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/practice"
)

func runChart(*demo) (chart.Figure, error) {
	l, err := datasets.DemoLesson()
	if err != nil {
		return chart.Figure{}, err
	}
	c, err := practice.RunChartOf(l, "7 iron", "carry")
	if err != nil {
		return chart.Figure{}, err
	}
	clean := c.Clean()
	trend, err := practice.ColdStart(context.Background(), "carry", "yd", clean.At, clean.Values, compare.Options{Resamples: 199})
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.RunChart(chart.RunChartInput{Title: "The carry moved with a stage and not ball by ball", Chart: c, Trend: &trend})
}

func controlChart(d *demo) (chart.Figure, error) {
	c, err := practice.NewControlChart(d.after, d.stages[len(d.stages)-1].Shots, 0)
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.ControlChart(chart.ControlChartInput{Unit: d.unit, Chart: c})
}

func season(*demo) (chart.Figure, error) {
	s, err := practice.ReadSeason(bytes.NewReader(datasets.DemoSeasonFile()), practice.SeasonOptions{})
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.Season(chart.SeasonInput{Season: s, Club: "7 iron", Column: "carry", Unit: "yd"})
}
