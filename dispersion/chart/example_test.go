package chart_test

import (
	"bytes"
	"fmt"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/practice"
)

func ExampleStages() {
	figure, err := chart.Stages(chart.StagesInput{
		Title: "Three balls each: the new ones landed farther left",
		Unit:  "yd",
		Stages: []chart.Stage{
			{Name: "old", Shots: []dispersion.Point{{X: 4, Y: 150}, {X: 8, Y: 146}, {X: 6, Y: 154}}},
			{Name: "new", Shots: []dispersion.Point{{X: 0, Y: 151}, {X: -2, Y: 155}, {X: -1, Y: 147}}},
		},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(figure.Alt())
	// Output: Three balls each: the new ones landed farther left. Plan view of 2 stages in the order hit, carry up the page, side across. 1, old: 3 shots; carried 150.0 yd on average, 6.0 yd right, spread radius 2.6 yd. 2, new (over stage 1): 3 shots; carried 151.0 yd on average, 1.0 yd left, spread radius 1.9 yd.
}

func ExampleEffects() {
	figure, err := chart.Effects(chart.EffectsInput{Rows: []chart.Effect{{
		Name: "carry", Says: "can't tell", Unit: "m", Estimate: 3,
		Narrow:   dispersion.Interval{Low: -1, High: 7, Level: 0.80},
		Wide:     dispersion.Interval{Low: -4, High: 10, Level: 0.95},
		Smallest: 5, N1: 8, N2: 10,
	}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(figure.Title)
	fmt.Println(figure.Alt())
	// Output:
	// What changed, and how sure that is
	// What changed, and how sure that is. One row for each effect. carry: +3.0 m; 80 %: −1.0 to +7.0; 95 %: −4.0 to +10.0; worth having from +5.0; 8 and 10 shots; can't tell.
}

func ExampleSeason() {
	season, err := practice.ReadSeason(bytes.NewReader(datasets.DemoSeasonFile()), practice.SeasonOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	figure, err := chart.Season(chart.SeasonInput{Season: season, Club: "5 iron", Unit: "yd"})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(figure.Title)
	fmt.Println(figure.Alt())
	// Output:
	// What was still there at the first balls of each session: carry
	// What was still there at the first balls of each session: carry. The carry of 1 session with balls of this club. Day 69, first balls (transfer, 10 balls): 147.0 yd, 95 %: 142.2 to 151.9.
}
