package strokes_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"strings"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/strokes"
)

// How straight and how well paced professionals putt, from a million putts, and
// what that makes of a putt of 10 feet.
func ExampleFitAngleDistance() {
	putts, err := strokes.ReadPutts(bytes.NewReader(datasets.Putts2018File()))
	if err != nil {
		fmt.Println(err)
		return
	}
	m, fit, err := strokes.FitAngleDistance(putts)
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := m.OnePutt(10 * lesson.Feet.Metres())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d putts: %.2f° and %.0f %% wide, %.0f %% holed from 10 ft\n", fit.Putts, m.Angle*180/math.Pi, 100*m.Distance, 100*p)
	// Output: 1253196 putts: 1.02° and 8 % wide, 39 % holed from 10 ft
}

func ExampleFitAngle() {
	putts := []strokes.PuttCount{{Distance: 1, Tried: 40, Holed: 36}, {Distance: 2, Tried: 40, Holed: 19}, {Distance: 4, Tried: 40, Holed: 9}}
	m, fit, err := strokes.FitAngle(putts)
	if err != nil {
		fmt.Println(err)
		return
	}
	i := fit.Parameters[0].Interval
	degrees := 180 / math.Pi
	fmt.Printf("%.1f° wide, these putts fit anything from %.1f° to %.1f°\n", m.Angle*degrees, i.Low*degrees, i.High*degrees)
	// Output: 1.3° wide, these putts fit anything from 1.1° to 1.6°
}

func ExampleFitLogistic() {
	putts, err := strokes.ReadPutts(bytes.NewReader(datasets.Putts1996File()))
	if err != nil {
		fmt.Println(err)
		return
	}
	_, curve, err := strokes.FitLogistic(putts)
	if err != nil {
		fmt.Println(err)
		return
	}
	_, angle, err := strokes.FitAngle(putts)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("the logistic curve misses by %.0f, the angle by %.0f\n", curve.Deviance, angle.Deviance)
	// Output: the logistic curve misses by 255, the angle by 60
}

func ExampleNewHolingOut() {
	h, err := strokes.NewHolingOut(strokes.AngleDistanceModel{Angle: 0.0178, Distance: 0.080})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, feet := range []float64{5, 20, 60} {
		p, err := h.Putts(feet * lesson.Feet.Metres())
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f ft: %.2f putts, three from %.0f %%\n", feet, p.Expected, 100*p.Three)
	}
	// Output:
	// 5 ft: 1.24 putts, three from 0 %
	// 20 ft: 1.87 putts, three from 2 %
	// 60 ft: 2.16 putts, three from 18 %
}

// What a fifth off the spread is worth to a player from the tee of a hole of 380
// yards.
func ExampleCompute() {
	player := strokes.IllustrativePlayers()[2]
	before, err := strokes.Compute(player, strokes.CommonHole())
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range player.Spreads {
		player.Spreads[i].Angle *= 0.8
		player.Spreads[i].Share *= 0.8
	}
	after, err := strokes.Compute(player, strokes.CommonHole())
	if err != nil {
		fmt.Println(err)
		return
	}
	tee := 380 * lesson.Yards.Metres()
	e1, err := before.Expected(strokes.Tee, tee)
	if err != nil {
		fmt.Println(err)
		return
	}
	e2, err := after.Expected(strokes.Tee, tee)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(before.Player())
	fmt.Printf("%.2f strokes before, %.2f after\n", e1, e2)
	// Output:
	// 5.9° and 12 % wide at 90 m, drives 200 m, mishits 8 %, putts 1.6° and 14 % wide
	// 5.26 strokes before, 4.96 after
}

func ExampleReadBaseline() {
	b, err := strokes.ReadBaseline(bytes.NewReader(datasets.DemoBaselineFile()), "the demo table")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, lie := range []strokes.Lie{strokes.Fairway, strokes.Rough, strokes.Sand} {
		e, err := b.Expected(lie, 130)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v: %.2f\n", lie, e)
	}
	_, err = strokes.ReadBaseline(strings.NewReader("lie,distance_yd,strokes\nfairway,100,3.4\nfairway,120,0.35\n"), "mine")
	fmt.Println(err)
	// Output:
	// fairway: 3.91
	// rough: 4.14
	// sand: 4.36
	// strokes: baseline: line 3, column strokes: 0.35 can't be: at least one stroke is left, and no more than 50
}

// One hole of a log, scored.
func ExampleReadLog() {
	log, err := strokes.ReadLog(strings.NewReader(`round,hole,start_lie,start_distance_yd,start_distance_ft,end_lie,end_distance_yd,end_distance_ft
May,7,tee,380,,rough,165,
May,7,rough,165,,sand,15,
May,7,sand,15,,green,,9
May,7,green,,9,hole,,
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	b, err := strokes.Compute(strokes.IllustrativePlayers()[2], strokes.CommonHole())
	if err != nil {
		fmt.Println(err)
		return
	}
	gained, err := strokes.GainedAll(b, log.Shots)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, s := range log.Shots {
		fmt.Printf("from the %v: %+.2f\n", s.From.Lie, gained[i])
	}
	totals, err := strokes.Totals(log.Shots, gained, strokes.ByRound, strokes.ByHole, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %+.2f; %v\n", totals[0].Name, totals[0].Sum, totals[0].Warnings[0])
	// Output:
	// from the tee: +0.02
	// from the rough: +0.13
	// from the sand: +0.30
	// from the green: +0.81
	// May: +1.26; too few holes or sessions for an interval to rely on: 1, where it takes 10
}

// Two balls hit in the bay to a target at 150 yards, as if on a hole.
func ExampleGainedAt() {
	b, err := strokes.Compute(strokes.IllustrativePlayers()[2], strokes.CommonHole())
	if err != nil {
		fmt.Println(err)
		return
	}
	yd := lesson.Yards.Metres()
	landed := []dispersion.Point{{X: 4 * yd, Y: 148 * yd}, {X: 30 * yd, Y: 131 * yd}}
	gained, err := strokes.GainedAt(b, strokes.CommonHole(), strokes.Spot{Lie: strokes.Fairway, Distance: 150 * yd}, landed)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%+.2f %+.2f\n", gained[0], gained[1])
	// Output: +0.99 -0.42
}

func ExampleFitBaseline() {
	var holes []strokes.Outcome
	for i := range 60 { // invented: from 3 m every second putt drops
		holes = append(holes, strokes.Outcome{Spot: strokes.Spot{Lie: strokes.Green, Distance: 3}, Strokes: float64(1 + i%2), Cluster: fmt.Sprint(i)})
	}
	b, err := strokes.FitBaseline(context.Background(), holes, "60 putts from 3 m", strokes.FitOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := b.Expected(strokes.Green, 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	se, err := b.StandardError(strokes.Green, 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f ± %.2f putts (%s)\n", e, se, b.Source())
	// Output: 1.50 ± 0.06 putts (60 putts from 3 m)
}
