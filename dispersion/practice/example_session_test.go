package practice_test

import (
	"bytes"
	"context"
	"fmt"
	"log"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/practice"
)

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}

// The demo lesson in the order hit: its stages, and whether one long drift
// explains the balls as well as they do.
func ExampleRunChartOf() {
	l, err := datasets.DemoLesson()
	check(err)
	chart, err := practice.RunChartOf(l, "7 iron", "carry")
	check(err)
	for _, s := range chart.Stretches {
		fmt.Printf("%s: %d balls, median %.0f %s\n", s.Stage.Name, s.To-s.From, s.Median, chart.Unit)
	}
	d, err := chart.DriftOrStages(0.95)
	check(err)
	fmt.Println("a drift explains them as well:", d.LineDoesAsWell())
	// Output:
	// as she came: 10 balls, median 119 yd
	// feet together: 8 balls, median 102 yd
	// slow takeaway: 9 balls, median 119 yd
	// room for the arms: 12 balls, median 133 yd
	// old swing again: 8 balls, median 121 yd
	// a drift explains them as well: false
}

// A start 16 yd short that halves with every ball.
func ExampleColdStart() {
	carries := []float64{134, 142.5, 145.5, 148.5, 148.5, 150, 149.5, 150.5, 149.5, 150.5, 150, 149.5}
	t, err := practice.ColdStart(context.Background(), "carry", "yd", nil, carries, compare.Options{})
	check(err)
	fmt.Printf("%.0f yd off at first, half of that after %.1f balls, level %.0f yd\n", t.Off.Estimate, t.Place, t.Level)
	// Output: -16 yd off at first, half of that after 1.0 balls, level 150 yd
}

// Five balls that grow by 3 yd each, and then the level.
func ExampleWarmUp() {
	carries := []float64{135.5, 137.5, 141, 144.5, 147, 150, 150.5, 149.5, 150, 150.5, 149.5, 150}
	t, err := practice.WarmUp(context.Background(), "carry", "yd", nil, carries, compare.Options{})
	check(err)
	fmt.Printf("%.0f yd off at first, gone by ball %.0f\n", t.Off.Estimate, t.Place)
	// Output: -15 yd off at first, gone by ball 6
}

// A level, and five balls that lose 3 yd each at the end.
func ExampleTiring() {
	carries := []float64{150, 149.5, 150.5, 150, 149.5, 150.5, 150, 147, 144.5, 141, 137.5, 135.5}
	t, err := practice.Tiring(context.Background(), "carry", "yd", nil, carries, compare.Options{})
	check(err)
	fmt.Printf("%.0f yd off at the last ball, level %.0f yd\n", t.Off.Estimate, t.Level)
	// Output: -15 yd off at the last ball, level 150 yd
}

// Six balls, each longer than the one before: the lowest ratio there is, 1 + 1 + 1
// + 1 + 1 over 17.5, and with the same in reverse 2 orders of 720.
func ExampleRankVonNeumannRatio() {
	r, err := practice.RankVonNeumannRatio([]float64{141, 142, 144, 145, 149, 152})
	check(err)
	fmt.Printf("ratio %.3f, p of balls so alike %.4f = 2/720\n", r.Ratio, r.Alike)
	// Output: ratio 0.286, p of balls so alike 0.0028 = 2/720
}

// From a pattern that is known the limit for a median run of 150 balls is the
// quantile of χ²(2) at ½^(1/150), 10.76; from few shots it must be wider.
func ExampleLimitRunLength() {
	for _, shots := range []int{10, 20, 50} {
		limit, err := practice.LimitRunLength(shots, 150)
		check(err)
		fmt.Printf("%d shots: %.2f\n", shots, limit)
	}
	// Output:
	// 10 shots: 17.38
	// 20 shots: 13.78
	// 50 shots: 11.94
}

// The radius of a group as the value of a whole session in a model: a difference
// of the logarithms is a ratio of radii.
func ExampleLogRadius() {
	wide := []dispersion.Point{{X: -6, Y: 144}, {X: 8, Y: 152}, {X: -2, Y: 156}, {X: 4, Y: 140}, {X: 0, Y: 150}}
	tight := make([]dispersion.Point, len(wide))
	for i, p := range wide {
		tight[i] = dispersion.Point{X: p.X / 2, Y: 150 + (p.Y-150)/2}
	}
	var logs []float64
	for _, points := range [][]dispersion.Point{wide, tight} {
		g, err := dispersion.NewGroup(points)
		check(err)
		r, err := practice.LogRadius(g)
		check(err)
		logs = append(logs, r)
	}
	fmt.Printf("%.4f, and -ln 2 = -0.6931\n", logs[1]-logs[0])
	// Output: -0.6931, and -ln 2 = -0.6931
}

// The twelve sessions of the demo season, and what their balls can show.
func ExampleReadSeason() {
	season, err := practice.ReadSeason(bytes.NewReader(datasets.DemoSeasonFile()), practice.SeasonOptions{})
	check(err)
	fmt.Println(len(season.Sessions), "sessions; the first:")
	for _, s := range season.Sessions[0].Stages {
		fmt.Printf("%s, %s: %d balls\n", s.Group.Stage.Name, s.Phase, len(s.Shots))
	}
	// Output:
	// 12 sessions; the first:
	// as she came, baseline: 10 balls
	// feet together, practice: 8 balls
	// room for the arms, immediate: 14 balls
}

// How much days differ by themselves, from the first balls of retention.
func ExampleSeason_Measured() {
	season, err := practice.ReadSeason(bytes.NewReader(datasets.DemoSeasonFile()), practice.SeasonOptions{})
	check(err)
	fit, err := practice.FitMixed(practice.SessionModel("carry", "yd", season.Measured("7 iron", "carry", practice.Retention)), practice.FitOptions{})
	check(err)
	days, err := fit.SpreadIntervals()
	check(err)
	truth, err := datasets.DemoSeasonTruth()
	check(err)
	fmt.Printf("day to day %.1f yd, %.1f to %.1f; drawn with %.1f\n", days[0].SD, days[0].Interval.Low, days[0].Interval.High, truth.CarryDaySD)
	// Output: day to day 2.8 yd, 1.1 to 5.5; drawn with 1.5
}
