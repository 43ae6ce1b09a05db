package chart_test

import (
	"bytes"
	"context"
	"fmt"
	"log"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/flight"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/practice"
	"github.com/landfall-golf/landfall/dispersion/strokes"
)

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}

var (
	old   = []dispersion.Point{{X: 4, Y: 150}, {X: 8, Y: 146}, {X: 6, Y: 154}, {X: -2, Y: 149}, {X: 4, Y: 151}}
	fresh = []dispersion.Point{{X: 0, Y: 161}, {X: -2, Y: 165}, {X: -1, Y: 157}, {X: 3, Y: 160}, {X: 0, Y: 162}}
)

// groups returns the balls with the old swing and those with the new one.
func groups() (before, after *dispersion.Group) {
	before, err := dispersion.NewGroup(old)
	check(err)
	after, err = dispersion.NewGroup(fresh)
	check(err)
	return before, after
}

// The new swing carried 11 yd further and landed 4 yd less to the right.
func ExampleChange() {
	figure, err := chart.Change(chart.ChangeInput{Unit: "yd", Before: chart.Stage{Name: "old", Shots: old}, After: chart.Stage{Name: "new", Shots: fresh}})
	check(err)
	fmt.Println(figure.Alt())
	// Output: 150 yd on average before, 161 yd after. Plan view, carry up the page, side across. Before, old: 5 shots; carried 150.0 yd on average, 4.0 yd right, spread radius 3.3 yd. After, new: 5 shots; carried 161.0 yd on average, on the target line, spread radius 2.3 yd.
}

func ExampleGroup() {
	g, _ := groups()
	mean, err := g.MeanEllipse(0.95)
	check(err)
	next, err := g.PredictionEllipse(0.80)
	check(err)
	figure, err := chart.Group(chart.GroupInput{
		Name: "old", Unit: "yd", Shots: old,
		Regions: []dispersion.Region{mean, next}, Centres: []chart.Mark{{Name: "mean", Point: g.Mean()}},
	})
	check(err)
	fmt.Println(figure.Alt())
	// Output: Where the balls landed. Plan view, carry up the page, side across. old: 5 shots; carried 150.0 yd on average, 4.0 yd right, spread radius 3.3 yd. mean: carry 150.0 yd, 4.0 yd right. Ring (centre, 95 %): 16.9 yd by 13.1 yd, radius 7.5 yd. Ring (next shot, 80 %): 22.8 yd by 17.7 yd, radius 10.0 yd.
}

func ExampleAngles() {
	figure, err := chart.Angles(chart.AnglesInput{Unit: "yd", Stages: []chart.Stage{{Name: "old", Shots: old}, {Name: "new", Shots: fresh}}})
	check(err)
	fmt.Println(figure.Alt())
	// Output: 0.5° off their own line on average, before it was 1.0°. Angle from the target line across, carry up the page. 1, old: 5 shots; clean shots carried 146.0 to 154.0 yd, median angle 1.5° right, 1.0° off it on average. 2, new: 5 shots; clean shots carried 157.0 to 165.0 yd, median angle on the target line, 0.5° off it on average.
}

func ExampleSpreadRatio() {
	before, after := groups()
	ratio, err := compare.SpreadRatio(context.Background(), before, after, compare.Options{})
	check(err)
	figure, err := chart.SpreadRatio(chart.SpreadRatioInput{Ratios: []compare.Effect{ratio}})
	check(err)
	fmt.Println(figure.Alt())
	// Output: These balls can't tell how much tighter: they fit what matters and what does not. Ratios of radii, after over before; a change matters below ×0.80 and above ×1.25. radius, wild balls allowed for: 30 % tighter, ×0.70, 95 %: ×0.22 to ×2.24; 5 and 5 shots.
}

func ExampleShift() {
	before, after := groups()
	shift, err := compare.CentreShift(context.Background(), before, after, compare.Options{})
	check(err)
	figure, err := chart.Shift(chart.ShiftInput{Unit: "yd", Shift: shift, Smallest: 5})
	check(err)
	fmt.Println(figure.Alt())
	// Output: The centre lies 11.0 yd farther, 4.0 yd to the left; the ring leaves out where it was. Plan view of the shift of the centre, gain in carry up the page. Seen: 11.0 yd farther, 4.0 yd to the left. The region of 95 % reaches from +4.6 to +17.4 yd in carry and from 10.5 yd to the left to 2.5 yd to the right. A gain in carry is worth having from 5.0 yd. 5 and 5 shots.
}

// One of the 252 ways to deal the balls shows as much: the real one.
func ExamplePermutation() {
	before, after := groups()
	p, err := compare.Permute(context.Background(), before, after, func(before, after []dispersion.Point) (float64, error) {
		sum := 0.0
		for i := range before {
			sum += after[i].Y - before[i].Y
		}
		return sum / float64(len(before)), nil
	}, compare.Options{})
	check(err)
	figure, err := chart.Permutation(chart.PermutationInput{Name: "gain in carry", Unit: "yd", Result: p})
	check(err)
	fmt.Println(figure.Alt())
	// Output: Dealt anew at random, the same balls show as much in 4 of 1000 deals. Histogram of the gain in carry. All 252 ways to deal these balls into 5 before and 5 after. Half lie from −2.6 to 2.6 yd. Seen: 11.0 yd; as large or larger: 1.
}

func ExampleDial() {
	plan, err := compare.PlanCarry([][]float64{{150, 146, 154, 149, 151}}, 5, 0.80, 0.95)
	check(err)
	figure, err := chart.Dial(chart.DialInput{Unit: "yd", Plan: plan, Balls: 10})
	check(err)
	fmt.Println(figure.Alt())
	// Output: 10 balls a stage can show a gain of 3.9 yd or more. Smallest true gain that shows, over balls a stage, at a spread of 2.9 yd. With 10 balls: 3.9 yd (2.3 to 11.1 yd over what the spread may be). 5.0 yd takes 7 balls (4 to 46).
}

// Neither the figure nor its text tells which one is real.
func ExampleWall() {
	before, after := groups()
	wall, err := compare.ShuffleWall(before, after, compare.Options{})
	check(err)
	figure, err := chart.Wall(chart.WallInput{Unit: "yd", Wall: wall})
	check(err)
	fmt.Println(figure.Title)
	// Output: Which one stands out? One of these is real
}

func ExampleRunChart() {
	l, err := datasets.DemoLesson()
	check(err)
	run, err := practice.RunChartOf(l, "7 iron", "carry")
	check(err)
	figure, err := chart.RunChart(chart.RunChartInput{Chart: run})
	check(err)
	fmt.Println(figure.Alt())
	// Output: Ball by ball: carry. Run chart of the carry of 47 balls in the order hit, 3 mishits. Balls 1 to 10, as she came: median 118.7 yd. Balls 11 to 18, feet together: median 101.9 yd. Balls 19 to 28, slow takeaway: median 118.9 yd. Balls 29 to 40, room for the arms: median 133.2 yd. Balls 41 to 48, old swing again: median 121.1 yd.
}

func ExampleCard() {
	l, err := datasets.DemoLesson()
	check(err)
	card, err := strokes.NewCard(l)
	check(err)
	figure, err := chart.Card(chart.CardInput{Card: card})
	check(err)
	fmt.Println(figure.Alt())
	// Output: Nila: how far the clubs carry, 2026-03-14. One line for each club, from the shortest. 7 iron, median 133 yd: 8 of 10 from 123 to 143 yd; 12 shots, 1 of them mishit.
}

func ExampleBaselines() {
	b, err := strokes.ReadBaseline(bytes.NewReader(datasets.DemoBaselineFile()), "the invented player of the demo")
	check(err)
	figure, err := chart.Baselines(chart.BaselinesInput{From: 50, To: 150, Curves: []chart.Curve{
		{Name: "fairway", Baseline: b, Lie: strokes.Fairway}, {Name: "rough", Baseline: b, Lie: strokes.Rough},
	}})
	check(err)
	fmt.Println(figure.Alt())
	// Output: How many strokes are still to play. Expected strokes over the distance, 2 lines. fairway: 3.40 strokes from 50.0 m, 4.01 from 150.0 m. rough: 3.63 strokes from 50.0 m, 4.25 from 150.0 m.
}

func ExampleMeanFlights() {
	var shots []flight.Shot
	for _, speed := range []float64{37, 38, 39} {
		shots = append(shots, flight.Shot{Launch: flight.Launch{Speed: speed, Angle: 19 * flight.Degree, Spin: 5500 * flight.RPM}, Carry: 108})
	}
	mean, err := flight.MeanFlightOf(shots, flight.Model{Coefficients: flight.Illustrative()}, flight.Conditions{})
	check(err)
	figure, err := chart.MeanFlights(chart.MeanFlightsInput{Unit: lesson.Yards, Flights: []chart.NamedFlight{{Name: "7 iron", Flight: mean}}})
	check(err)
	fmt.Println(figure.Alt())
	// Output: How the balls flew, on average. Mean flights from the side and from above, 1 line. 7 iron, n = 3: 16.7 yd high at 68.8 yd, lands after 118.7 yd, give or take 6.3 yd, on the target line, give or take 0.0 yd.
}
