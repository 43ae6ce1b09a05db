package main

import (
	"context"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

func shift(d *demo) (chart.Figure, error) {
	s, err := compare.CentreShift(context.Background(), d.before, d.after, compare.Options{})
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.Shift(chart.ShiftInput{Unit: d.unit, Shift: s, Smallest: 5})
}

func effects(d *demo) (chart.Figure, error) {
	var rows []chart.Effect
	for _, of := range []struct {
		name     string
		effect   func(context.Context, *dispersion.Group, *dispersion.Group, compare.Options) (compare.Effect, error)
		unit     string
		smallest float64
	}{
		{"carry, clean shots", compare.CarryGain, d.unit, 5},
		{"side, clean shots", compare.SideShift, d.unit, 0},
		{"spread radius", compare.SpreadRatio, "", 0.8},
	} {
		wide, err := of.effect(context.Background(), d.before, d.after, compare.Options{})
		if err != nil {
			return chart.Figure{}, err
		}
		narrow, err := of.effect(context.Background(), d.before, d.after, compare.Options{Level: 0.8})
		if err != nil {
			return chart.Figure{}, err
		}
		rows = append(rows, chart.Effect{
			Name: of.name, Unit: of.unit, Null: wide.Null, Estimate: wide.Estimate, Narrow: narrow.Interval, Wide: wide.Interval,
			Smallest: of.smallest, N1: wide.N1, N2: wide.N2,
		})
	}
	return chart.Effects(chart.EffectsInput{Title: "Longer; how much tighter can't be told from these balls", Rows: rows})
}

func spreadRatio(d *demo) (chart.Figure, error) {
	ctx := context.Background()
	spread, err := compare.SpreadRatio(ctx, d.before, d.after, compare.Options{})
	if err != nil {
		return chart.Figure{}, err
	}
	area, err := compare.AreaRatio(ctx, d.before, d.after, compare.Options{})
	if err != nil {
		return chart.Figure{}, err
	}
	angle, err := compare.AngleSpreadRatio(ctx, d.before, d.after, compare.Options{})
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.SpreadRatio(chart.SpreadRatioInput{Ratios: []compare.Effect{spread, area, angle}})
}

func pairs(d *demo) (chart.Figure, error) {
	slow, err := d.lesson.Groups()[2].Clean() // a stage that changed nothing
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.Pairs(chart.PairsInput{Unit: d.unit, Pairs: []chart.Pair{
		{Before: d.before.Points(), After: d.after.Points()},
		{Before: d.before.Points(), After: slow.Points()},
		{Before: slow.Points(), After: d.after.Points()},
	}})
}
