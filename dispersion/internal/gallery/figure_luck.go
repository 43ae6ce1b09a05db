package main

import (
	"context"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

func bootstrap(d *demo) (chart.Figure, error) {
	gain := func(before, after dispersion.Moments) (float64, error) { return after.Mean.Y - before.Mean.Y, nil }
	r, err := compare.BootstrapMoments(context.Background(), d.before, d.after, gain, compare.Options{})
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.Bootstrap(chart.BootstrapInput{Name: "gain in carry", Unit: d.unit, Result: r})
}

func permutation(d *demo) (chart.Figure, error) {
	slow, err := d.lesson.Groups()[2].Clean() // a stage that changed nothing
	if err != nil {
		return chart.Figure{}, err
	}
	gain := func(before, after []dispersion.Point) (float64, error) {
		var b, a dispersion.Moments
		for _, p := range before {
			b.Add(p)
		}
		for _, p := range after {
			a.Add(p)
		}
		return math.Abs(a.Mean.Y - b.Mean.Y), nil
	}
	r, err := compare.Permute(context.Background(), d.before, slow, gain, compare.Options{})
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.Permutation(chart.PermutationInput{Name: "gain in carry, either way", Unit: d.unit, Result: r})
}

const wallSeed = 7

func wall(d *demo) (chart.Figure, error) {
	w, err := compare.ShuffleWall(d.before, d.after, compare.Options{Seed: wallSeed})
	if err != nil {
		return chart.Figure{}, err
	}
	return chart.Wall(chart.WallInput{Unit: d.unit, Wall: w})
}
