package dispersion_test

import (
	"fmt"
	"log"

	"github.com/landfall-golf/landfall/dispersion"
)

// Four shots around a middle of (0, 150), and the same with one far short.
var (
	cross = []dispersion.Point{{X: 2, Y: 150}, {X: -2, Y: 150}, {X: 0, Y: 152}, {X: 0, Y: 148}}
	wild  = append([]dispersion.Point{{X: 1, Y: 90}}, shots...)
)

func ExampleGroup_MeanCentre() {
	g, _ := dispersion.NewGroup(cross)
	c, err := g.MeanCentre(0.95)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(c.Point.X, c.Point.Y, c.Region.Contains(dispersion.Point{X: 3, Y: 150}))
	// Output: 0 150 true
}

// From seven shots on all of them together hold the true medians: all but
// 4 in 2⁷ times.
func ExampleGroup_MedianCentre() {
	g, _ := dispersion.NewGroup(shots[:7])
	c, err := g.MedianCentre(0.95)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.1f yd right, carry %.1f yd\n%s\n", c.Point.X, c.Point.Y, c.Region.Holds())
	// Output:
	// 2.4 yd right, carry 150.6 yd
	// 7 of 7 shots, and the true centre with confidence 0.969
}

// One shot that was topped pulls the mean short by 7 yd, and the centre of the
// good shots not at all.
func ExampleGroup_MCDCentre() {
	g, _ := dispersion.NewGroup(wild)
	c, err := g.MCDCentre(0.95)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("mean carry %.1f yd, of the good shots %.1f\n", g.Mean().Y, c.Point.Y)
	// Output: mean carry 143.8 yd, of the good shots 150.5
}

func ExampleMedian() {
	m, err := dispersion.Median([]float64{121, 118, 151, 119})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(m)
	// Output: 120
}
