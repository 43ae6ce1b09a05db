package strokes_test

import (
	"bytes"
	"context"
	"fmt"
	"log"
	"os"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/strokes"
)

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}

// From 140 m where 2 + 140/150 strokes are expected, to 15 m on the green, where
// 2.1 are: with the stroke itself a sixth is lost.
func ExampleGained() {
	shot := strokes.Shot{From: strokes.Spot{Lie: strokes.Fairway, Distance: 140}, To: strokes.Spot{Lie: strokes.Green, Distance: 15}}
	gained, err := strokes.Gained(grass{}, shot)
	check(err)
	fmt.Printf("%+.3f\n", gained)
	// Output: -0.167
}

// Six shots of three holes: what is in common to the shots of a hole makes the
// mean less sure.
func ExampleTotalOf() {
	total, err := strokes.TotalOf("approaches", []float64{0.2, 0.4, -0.3, -0.1, 0.5, 0.3}, []string{"1", "1", "2", "2", "3", "3"}, 0.95)
	check(err)
	fmt.Printf("%+.3f a shot, standard error %.3f of %d holes\n", total.Mean, total.SE, total.Clusters)
	// Output: +0.167 a shot, standard error 0.186 of 3 holes
}

// Two approaches from 150 m, where three strokes are expected: one onto the green,
// one into the rough, and a wedge from there.
func ExampleTotals() {
	played, err := strokes.ReadLog(bytes.NewReader([]byte("hole,club,start_lie,start_distance_m,end_lie,end_distance_m\n" +
		"1,7i,fairway,150,green,15\n2,7i,fairway,150,rough,30\n2,sw,rough,30,green,3\n")))
	check(err)
	gained, err := strokes.GainedAll(grass{}, played.Shots)
	check(err)
	totals, err := strokes.Totals(played.Shots, gained, strokes.ByClub, strokes.ByHole, 0.95)
	check(err)
	for _, t := range totals {
		fmt.Printf("%s: %d shots, %+.2f a shot\n", t.Name, t.Shots, t.Mean)
	}
	// Output:
	// 7i: 2 shots, -0.40 a shot
	// sw: 1 shots, -0.32 a shot
}

// A plan of a hole, and what lies where.
func ExampleReadHole() {
	hole, err := strokes.ReadHole(bytes.NewReader(datasets.DemoPondFile()))
	check(err)
	fmt.Printf("%s, %.0f m\n", hole.Name(), hole.Length())
	fmt.Println("at the flag:", hole.Ground(hole.Flag()).Lie)
	// Output:
	// The pond, 352 m
	// at the flag: green
}

// A pattern that carries 120 yd in the middle and misses 4 yd right.
func ExampleNewPattern() {
	g, err := dispersion.NewGroup([]dispersion.Point{{X: 4, Y: 120}, {X: 9, Y: 124}, {X: -2, Y: 117}})
	check(err)
	p, err := strokes.NewPattern(g, lesson.Yards, strokes.AsHit)
	check(err)
	fmt.Printf("%.2f m, %.2f m right\n", p.Carry(), p.Bias())
	// Output: 109.73 m, 3.66 m right
}

// How sure the aim is that ten shots make best.
func ExampleView_AimDoubt() {
	hole, err := strokes.ReadHole(bytes.NewReader(datasets.DemoPondFile()))
	check(err)
	view, err := hole.Approach(140, grass{})
	check(err)
	g, err := dispersion.NewGroup([]dispersion.Point{
		{X: 9, Y: 141}, {X: -4, Y: 133}, {X: 12, Y: 146}, {X: 2, Y: 139}, {X: -9, Y: 144}, {X: 5, Y: 128}, {X: 0, Y: 148}, {X: 15, Y: 137}, {X: -2, Y: 142}, {X: 7, Y: 135},
	})
	check(err)
	p, err := strokes.NewPattern(g, lesson.Metres, strokes.AsHit)
	check(err)
	aims := strokes.AimOptions{Left: -20, Right: 10, Short: 130, Long: 150}
	aim, err := view.BestAim(context.Background(), p, aims)
	check(err)
	d, err := view.AimDoubt(context.Background(), p, aims, compare.Options{Resamples: 200})
	check(err)
	fmt.Printf("best %.0f m beside the flag, in other lessons like it %.0f to %.0f\n", aim.Point.X, d.Side.Low, d.Side.High)
	// Output: best -5 m beside the flag, in other lessons like it -9 to 0
}

// From 140 m: the club that reaches the flag, or the one that stays 12 m short?
func ExampleView_CompareClubs() {
	hole, err := strokes.ReadHole(bytes.NewReader(datasets.DemoPondFile()))
	check(err)
	view, err := hole.Approach(140, grass{})
	check(err)
	var clubs []strokes.Club
	for name, carry := range map[string]float64{"7 iron": 140, "8 iron": 128} {
		p, err := strokes.StatedPattern(carry, 0.05, 0.05)
		check(err)
		clubs = append(clubs, strokes.Club{Name: name, Pattern: p})
	}
	order, err := view.CompareClubs(context.Background(), clubs, strokes.AimOptions{}, compare.Options{})
	check(err)
	for _, c := range order {
		fmt.Printf("%s: %.2f strokes\n", c.Club.Name, c.Expected)
	}
	// Output:
	// 7 iron: 3.14 strokes
	// 8 iron: 3.26 strokes
}

// The carry card of the demo lesson: one club, from its last full stage.
func ExampleNewCard() {
	l, err := datasets.DemoLesson()
	check(err)
	card, err := strokes.NewCard(l)
	check(err)
	for _, c := range card.Clubs {
		fmt.Printf("%s: carries %.0f %s, 8 of 10 from %.0f to %.0f, %d of %d mishit\n", c.Club, c.Carry, card.Unit, c.EightOfTen.Low, c.EightOfTen.High, c.Mishits, c.Shots)
	}
	// Output: 7 iron: carries 133 yd, 8 of 10 from 123 to 143, 1 of 12 mishit
}

// The pattern of the course is twice that of the bay, at another distance.
func ExampleWiderOnCourse() {
	bay, err := dispersion.NewGroup([]dispersion.Point{{X: 0.02, Y: 0.01}, {X: -0.03, Y: 0.04}, {X: 0.05, Y: -0.02}, {X: -0.01, Y: -0.05}, {X: 0.01, Y: 0.03}})
	check(err)
	twice := bay.Points()
	for i := range twice {
		twice[i].X, twice[i].Y = 2*twice[i].X, 2*twice[i].Y
	}
	course, err := dispersion.NewGroup(twice)
	check(err)
	wider, err := strokes.WiderOnCourse(context.Background(), bay, course, compare.Options{})
	check(err)
	fmt.Printf("× %.2f, these balls fit × %.2f to %.2f\n", wider.Estimate, wider.Interval.Low, wider.Interval.High)
	// Output: × 2.00, these balls fit × 0.68 to 5.92
}

// Shots at 100 and at 150 yd, each 2 % right of its target.
func ExampleRelative() {
	l, err := lesson.Read(bytes.NewReader([]byte("carry_yd,side_yd,target_carry_yd\n100,2,100\n153,3,150\n")), lesson.ReadOptions{})
	check(err)
	g, err := strokes.Relative(l.Groups()[0], l.Unit)
	check(err)
	for _, p := range g.Points() {
		fmt.Printf("side %+.2f, carry %+.2f\n", p.X, p.Y)
	}
	// Output:
	// side +0.02, carry +0.00
	// side +0.02, carry +0.02
}

// A table for a file: what the grass expects from the fairway.
func ExampleWriteBaseline() {
	check(strokes.WriteBaseline(os.Stdout, grass{}, map[strokes.Lie][]float64{strokes.Fairway: {75, 150}}))
	// Output:
	// lie,distance_m,strokes,standard_error
	// fairway,75,2.5000,
	// fairway,150,3.0000,
}

// Each stroke gains what was to play before it, less what is to play after it and
// less itself; so a hole's strokes add up to what was expected of it less its score.
func ExampleGainedAll() {
	played, err := strokes.ReadLog(bytes.NewReader([]byte("hole,club,start_lie,start_distance_m,end_lie,end_distance_m\n" +
		"1,7i,fairway,150,rough,30\n1,sw,rough,30,green,3\n")))
	check(err)
	gained, err := strokes.GainedAll(grass{}, played.Shots)
	check(err)
	fmt.Printf("%+.2f and %+.2f\n", gained[0], gained[1])
	from, err := grass{}.Expected(strokes.Fairway, 150)
	check(err)
	left, err := grass{}.Expected(strokes.Green, 3)
	check(err)
	fmt.Printf("together %+.2f: %.2f expected, 2 played, %.2f still to play\n", gained[0]+gained[1], from, left)
	// Output:
	// -0.70 and -0.32
	// together -1.02: 3.00 expected, 2 played, 2.02 still to play
}
