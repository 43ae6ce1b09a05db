package practice_test

import (
	"bytes"
	"context"
	"fmt"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/practice"
)

func ExampleKept() {
	season, err := practice.ReadSeason(bytes.NewReader(datasets.DemoSeasonFile()), practice.SeasonOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, column := range []string{"carry", "start_line_deg"} {
		k, err := practice.Kept(context.Background(), season, practice.Question{Club: "7 iron", Column: column}, compare.Options{})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: %s; first %+.1f, %.0f days later %+.1f %s\n", column, k.Outcome, k.First.Estimate, k.Days, k.Kept.Estimate, k.Unit)
	}
	// Output:
	// carry: kept; first +16.0, 69 days later +13.7 yd
	// start_line_deg: lost; first -3.3, 69 days later -0.1 deg
}

func ExamplePettitt() {
	carries := []float64{121, 118, 124, 119, 122, 120, 131, 128, 134, 130, 127, 133}
	c, err := practice.Pettitt(context.Background(), carries, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("after ball %d, from %.0f to %.0f, p = %.4f (%s)\n", c.Last, c.Before, c.After, c.P, c.Method)
	// Output: after ball 6, from 121 to 130, p = 0.0022 (p by permutation of K, all orders)
}

func ExampleNewControlChart() {
	pattern, err := dispersion.NewGroup([]dispersion.Point{
		{X: 4, Y: 150}, {X: -3, Y: 146}, {X: 6, Y: 154}, {X: 0, Y: 151}, {X: -6, Y: 155}, {X: 2, Y: 147}, {X: 5, Y: 149}, {X: -2, Y: 157}, {X: 1, Y: 144}, {X: -4, Y: 152},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	chart, err := practice.NewControlChart(pattern, []dispersion.Point{{X: 3, Y: 148}, {X: -1, Y: 126}}, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(chart.Sentence())
	// Output: Ball 2 is the first that the pattern does not explain: shorter. Of normal shots without any change half of all practices go on for 150 balls before such a ball; a wild ball now and then brings it sooner.
}

func ExampleNewSheet() {
	sheet, err := practice.NewSheet(practice.SheetInput{
		Tasks: []practice.Task{{Name: "room for the arms", Club: "7 iron", Balls: 4}, {Name: "start line", Club: "5 iron", Balls: 4}},
		Club:  "7 iron", Measure: "carry", Unit: "yd", Before: []float64{110, 114, 117, 120, 124}, Smallest: 5,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range sheet.Meanings[:2] {
		fmt.Printf("%s: from %.1f %s\n", m.Verdict, m.Low, sheet.Unit)
	}
	// Output:
	// worth having: from 128.4 yd
	// probably: from 124.6 yd
}

func ExampleSerialInterval() {
	s, err := practice.SerialInterval(0, []float64{121, 118, 124, 119, 122, 120, 131, 128, 134, 130, 127, 133})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f to %.2f; %d balls worth %.0f to %.0f\n", s.Interval.Low, s.Interval.High, s.N, s.EffectiveInterval.Low, s.EffectiveInterval.High)
	fmt.Println(s.Warnings[0])
	// Output:
	// -0.05 to 0.98; 12 balls worth 1 to 12
	// 12 shots are few: it takes 24 for an interval of the serial correlation shorter than 0.8
}
