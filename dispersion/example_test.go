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

func ExampleDescribe() {
	g, _ := dispersion.NewGroup(shots)
	d, err := dispersion.Describe(g, dispersion.DescribeOptions{Level: 0.9})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range d.Centres {
		if c.Region != nil {
			fmt.Printf("%-21s %4.1f right, carry %.1f, holds %s\n", c.Method, c.Point.X, c.Point.Y, c.Region.Holds())
		}
	}
	for _, m := range d.Missing {
		fmt.Println("without", m.What)
	}
	// Output:
	// mean                   1.9 right, carry 150.5, holds the true mean, with confidence 0.9
	// geometric median       2.4 right, carry 150.6, holds the true geometric median, with confidence 0.9
	// coordinatewise median  1.9 right, carry 150.9, holds 8 of 8 shots, and the true centre with confidence 0.984
	// Tukey median           2.4 right, carry 150.6, holds 8 of 8 shots, and the true centre with confidence 0.938
	// MCD                    1.3 right, carry 151.4, holds the true centre of the good shots, with confidence 0.9
	// bivariate t            1.9 right, carry 150.5, holds the true centre, with confidence 0.9
}

func ExampleGroup_Depths() {
	g, _ := dispersion.NewGroup(shots)
	fmt.Println("on the hull 1, deeper inside:", g.Depths())
	fmt.Println("the target:", g.Depth(dispersion.Point{X: 0, Y: 150}))
	// Output:
	// on the hull 1, deeper inside: [1 2 1 1 1 4 1 2]
	// the target: 2
}

func ExampleGroup_DepthRegion() {
	g, _ := dispersion.NewGroup(shots)
	for depth := 1; ; depth++ {
		r, err := g.DepthRegion(depth)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("depth %d: area %.1f, %s\n", depth, r.Area(), r.Holds())
	}
	// Output:
	// depth 1: area 77.3, 8 of 8 shots, and the true centre with confidence 0.938
	// depth 2: area 14.9, 3 of 8 shots, and the true centre with confidence 0.625
	// depth 3: area 0.4, 1 of 8 shots, and the true centre with confidence 0.125
	// depth 4: area 0.0, 1 of 8 shots
	// dispersion: no region has depth 5: ask for 1 to 4
}

func ExampleGroup_TukeyMedian() {
	g, _ := dispersion.NewGroup(shots)
	m, err := g.TukeyMedian(0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f right, carry %.1f; region: %v\n", m.Point.X, m.Point.Y, m.Region)
	fmt.Println(m.Warnings[0])
	// Output:
	// 2.4 right, carry 150.6; region: <nil>
	// dispersion: the region of the Tukey median needs at least 9 shots, not 8
}

func ExampleGroup_GeometricMedianCentre() {
	g, _ := dispersion.NewGroup(shots)
	m, err := g.GeometricMedianCentre(0.9)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f right, carry %.1f; target in its region: %v\n", m.Point.X, m.Point.Y, m.Region.Contains(dispersion.Point{Y: 150}))
	// Output:
	// 2.4 right, carry 150.6; target in its region: true
}

func ExampleGroup_EnclosingCircle() {
	g, _ := dispersion.NewGroup(shots)
	c, err := g.EnclosingCircle()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("radius %.1f yd, holds %s\n", c.Radius, c.Holds())
	// Output:
	// radius 8.2 yd, holds 8 of 8 shots
}

func ExampleGroup_MCD() {
	wild := append([]dispersion.Point{{X: 80, Y: 60}}, shots...)
	g, _ := dispersion.NewGroup(wild)
	m, err := g.MCD(dispersion.MCDOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	limit, _ := m.Cutoff(0.99)
	fmt.Printf("centre %.1f right, proven: %v\n", m.Centre.X, m.Exact)
	for i, d := range m.Distances {
		if d > limit {
			fmt.Printf("shot %d is not one of them\n", i+1)
		}
	}
	// Output:
	// centre 1.9 right, proven: true
	// shot 1 is not one of them
}

func ExampleGroup_CEP() {
	g, _ := dispersion.NewGroup(shots)
	r, err := g.CEP(0.5, dispersion.Point{X: 0, Y: 150})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("half of such shots land within %.1f yd of the target\n", r)
	// Output: half of such shots land within 5.0 yd of the target
}

func ExampleGroup_ToleranceEllipse() {
	g, _ := dispersion.NewGroup(shots)
	next, _ := g.PredictionEllipse(0.9)
	all, err := g.ToleranceEllipse(0.9, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("90 %% for the next shot: %.0f by %.0f yd\n", 2*next.SemiMajor, 2*next.SemiMinor)
	fmt.Printf("90 %% of all shots, 95 %% sure: %.0f by %.0f yd\n", 2*all.SemiMajor, 2*all.SemiMinor)
	// Output:
	// 90 % for the next shot: 34 by 15 yd
	// 90 % of all shots, 95 % sure: 52 by 22 yd
}

func ExampleGroup_TFit() {
	wild := append([]dispersion.Point{{X: 80, Y: 60}}, shots...)
	g, _ := dispersion.NewGroup(wild)
	f, err := g.TFit(0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("centre %.1f right, weight of the wild shot %.2f\n", f.Centre.Point.X, f.Weights[0])
	// Output: centre 2.1 right, weight of the wild shot 0.01
}

func ExampleQn() {
	s, _ := dispersion.Qn([]float64{149, 151, 150, 152, 95})
	fmt.Printf("%.2f\n", s)
	// Output: 1.87
}
