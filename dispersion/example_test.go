package dispersion_test

import (
	"errors"
	"fmt"

	"github.com/landfall-golf/landfall/dispersion"
)

// Eight shots with one club: side and carry in yards.
var shots = []dispersion.Point{
	{X: -3.1, Y: 151.2}, {X: 4.6, Y: 148.1}, {X: 0.8, Y: 155.0}, {X: 9.5, Y: 149.3},
	{X: -6.2, Y: 153.8}, {X: 2.4, Y: 150.6}, {X: 5.9, Y: 143.7}, {X: 1.3, Y: 152.1},
}

func ExampleNewGroup() {
	g, err := dispersion.NewGroup(shots)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d shots around %.1f yd, %.1f yd right\n", g.N(), g.Mean().Y, g.Mean().X)
	// Output: 8 shots around 150.5 yd, 1.9 yd right
}

func ExampleGroup_MeanEllipse() {
	g, _ := dispersion.NewGroup(shots)
	e, err := g.MeanEllipse(0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("the true centre lies within %.1f by %.1f yd, with 95 %% confidence\n", 2*e.SemiMajor, 2*e.SemiMinor)
	fmt.Println("target in it:", e.Contains(dispersion.Point{X: 0, Y: 150}))
	// Output:
	// the true centre lies within 13.7 by 5.9 yd, with 95 % confidence
	// target in it: true
}

func ExampleGroup_PredictionEllipse() {
	g, _ := dispersion.NewGroup(shots[:2])
	_, err := g.PredictionEllipse(0.95)
	var few *dispersion.TooFewError
	if errors.As(err, &few) {
		fmt.Println(err)
	}
	// Output: dispersion: the region of the next shot needs at least 3 shots, not 2
}

func ExampleGroup_Radius() {
	g, _ := dispersion.NewGroup(shots)
	r, err := g.Radius(0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("radius %.1f yd, 95 %% interval %.1f to %.1f\n", r.Value, r.Interval.Low, r.Interval.High)
	// Output: radius 4.1 yd, 95 % interval 2.8 to 6.6
}

func ExampleGroup_GeometricMedian() {
	wild := append([]dispersion.Point{{X: 80, Y: 60}}, shots...)
	g, _ := dispersion.NewGroup(wild)
	m := g.GeometricMedian().Point
	fmt.Printf("mean %.1f right, geometric median %.1f right\n", g.Mean().X, m.X)
	// Output: mean 10.6 right, geometric median 2.4 right
}

func ExampleMoments_Merge() {
	var morning, evening dispersion.Moments
	for _, p := range shots[:5] {
		morning.Add(p)
	}
	for _, p := range shots[5:] {
		evening.Add(p)
	}
	morning.Merge(evening)
	fmt.Printf("%d shots, mean carry %.1f\n", morning.N, morning.Mean.Y)
	// Output: 8 shots, mean carry 150.5
}

func ExampleScaledMAD() {
	s, _ := dispersion.ScaledMAD([]float64{149, 151, 150, 152, 95})
	fmt.Printf("%.2f\n", s)
	// Output: 1.48
}
