package practice_test

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/practice"
)

// Two lessons from files of their own, given in the wrong order. Nothing was taught in
// either, so the balls of both are of the baseline.
func ExampleNewSeason() {
	var lessons []*lesson.Lesson
	for _, day := range []string{"2024-05-20", "2024-05-13"} {
		l, err := lesson.Read(strings.NewReader("time,carry_yd,side_yd\n"+day+"T10:00:00,150,1\n"+day+"T10:00:40,152,-2\n"), lesson.ReadOptions{})
		check(err)
		lessons = append(lessons, l)
	}
	season, err := practice.NewSeason(lessons, practice.SeasonOptions{})
	check(err)
	for _, s := range season.Sessions {
		fmt.Println(s.Start.Format("2006-01-02"), s.Stages[0].Phase)
	}
	// Output:
	// 2024-05-13 baseline
	// 2024-05-20 baseline
}

// How much days differ, from the ends of the sessions of the demo season, which was
// drawn with 6 yd from ball to ball and 1.5 yd from day to day.
func ExampleSessionModel() {
	season, err := practice.ReadSeason(bytes.NewReader(datasets.DemoSeasonFile()), practice.SeasonOptions{})
	check(err)
	ends := season.Measured("7 iron", "carry", practice.Immediate)
	fit, err := practice.FitMixed(practice.SessionModel("carry", "yd", ends), practice.FitOptions{})
	check(err)
	fmt.Printf("%.1f yd from ball to ball, %.1f yd from day to day\n", fit.SD, fit.Random[0].SD)
	// Output: 6.1 yd from ball to ball, 2.3 yd from day to day
}

// Ten balls of one day, and what two such days may differ by without any change.
func ExampleMixedFit_Repeatability() {
	season, err := practice.ReadSeason(bytes.NewReader(datasets.DemoSeasonFile()), practice.SeasonOptions{})
	check(err)
	ends := season.Measured("7 iron", "carry", practice.Immediate)
	fit, err := practice.FitMixed(practice.SessionModel("carry", "yd", ends), practice.FitOptions{})
	check(err)
	days, err := fit.Repeatability("sessions", 10)
	check(err)
	fmt.Printf("one day is off by %.1f yd, two may differ by %.1f yd; between days %.1f yd, %.1f to %.1f\n",
		days.Error, days.Change, days.Between.SD, days.Between.Interval.Low, days.Between.Interval.High)
	// Output: one day is off by 3.0 yd, two may differ by 8.3 yd; between days 2.3 yd, 0.8 to 4.5
}
