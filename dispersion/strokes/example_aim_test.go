package strokes_test

import (
	"bytes"
	"context"
	"fmt"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/strokes"
)

// grass is a baseline of one line: two strokes, and one more every 150 m; half a
// stroke more from anywhere but a fairway or a green.
type grass struct{}

func (grass) Expected(lie strokes.Lie, distance float64) (float64, error) {
	if lie == strokes.Fairway || lie == strokes.Green {
		return 2 + distance/150, nil
	}
	return 2.5 + distance/150, nil
}

func (grass) StandardError(strokes.Lie, float64) (float64, error) {
	return 0, strokes.ErrNoStandardError
}
func (grass) Reach(strokes.Lie) (low, high float64) { return 0.1, 700 }
func (grass) Source() string                        { return "invented for an example" }

func ExampleView_BestAim() {
	hole, err := strokes.ReadHole(bytes.NewReader(datasets.DemoPondFile()))
	if err != nil {
		fmt.Println(err)
		return
	}
	view, err := hole.Approach(140, grass{})
	if err != nil {
		fmt.Println(err)
		return
	}
	// A spread of 3 degrees and of 5 per cent of the carry.
	pattern, err := strokes.StatedPattern(140, 0.052, 0.05)
	if err != nil {
		fmt.Println(err)
		return
	}
	aim, err := view.BestAim(context.Background(), pattern, strokes.AimOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("aim %.0f m left of the flag: %.2f strokes, %.2f fewer than straight at it\n", -aim.Point.X, aim.Expected, aim.AimingSaves())
	fmt.Printf("sides from %.0f to %+.0f m and carries from %.0f to %.0f m hold all that do nearly as well\n", aim.Left, aim.Right, aim.Short, aim.Long)
	// Output:
	// aim 2 m left of the flag: 3.15 strokes, 0.02 fewer than straight at it
	// sides from -7 to +1 m and carries from 133 to 144 m hold all that do nearly as well
}

func ExampleWorthOf() {
	hole, err := strokes.ReadHole(bytes.NewReader(datasets.DemoPondFile()))
	if err != nil {
		fmt.Println(err)
		return
	}
	pattern := func(points ...dispersion.Point) strokes.Pattern {
		group, err := dispersion.NewGroup(points)
		if err != nil {
			fmt.Println(err)
		}
		p, err := strokes.NewPattern(group, lesson.Yards, strokes.AsHit)
		if err != nil {
			fmt.Println(err)
		}
		return p
	}
	before := pattern(dispersion.Point{X: 15, Y: 120}, dispersion.Point{X: -3, Y: 128}, dispersion.Point{X: 9, Y: 110}, dispersion.Point{X: 20, Y: 131}, dispersion.Point{X: 2, Y: 117})
	after := pattern(dispersion.Point{X: 4, Y: 126}, dispersion.Point{X: -3, Y: 130}, dispersion.Point{X: 1, Y: 121}, dispersion.Point{X: 6, Y: 129}, dispersion.Point{X: -5, Y: 124})
	worth, err := strokes.WorthOf(context.Background(), hole, grass{}, before, after, []float64{110, 140}, compare.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, w := range worth {
		e := w.Change
		fmt.Printf("from %.0f m: %+.2f strokes a shot, these balls fit %+.2f to %+.2f\n", w.Distance, e.Estimate, e.Interval.Low, e.Interval.High)
	}
	// Output:
	// from 110 m: +0.47 strokes a shot, these balls fit -0.44 to +1.37
	// from 140 m: +0.82 strokes a shot, these balls fit -0.28 to +1.91
}
