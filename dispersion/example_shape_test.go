package dispersion_test

import (
	"fmt"
	"log"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

var topped = []dispersion.Point{{X: 3, Y: 90}, {X: 1, Y: 92}, {X: 5, Y: 88}, {X: -2, Y: 91}, {X: 0, Y: 95}}

// spiral is thirty shots laid out as the normal law has them on average, and the
// same with one of them topped.
func spiral() (normal, oneTopped *dispersion.Group) {
	points := make([]dispersion.Point, 30)
	for i := range points {
		r, turn := math.Sqrt(-2*math.Log((float64(i)+0.5)/30)), 2.4*float64(i)
		points[i] = dispersion.Point{X: 6 * r * math.Cos(turn), Y: 150 + 8*r*math.Sin(turn)}
	}
	normal, _ = dispersion.NewGroup(points)
	points[12] = topped[0]
	oneTopped, _ = dispersion.NewGroup(points)
	return normal, oneTopped
}

// Five topped balls in thirty, and nobody would take the shots for normal ones.
func ExampleGroup_HenzeZirkler() {
	normal, _ := spiral()
	points := append(normal.Points()[5:], topped...)
	mixed, _ := dispersion.NewGroup(points)
	for _, g := range []*dispersion.Group{normal, mixed} {
		h, err := g.HenzeZirkler()
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("p = %.5f\n", h.P)
	}
	// Output:
	// p = 1.00000
	// p = 0.00005
}

// The kurtosis of normal shots is 8 on average over many, and one topped ball in
// thirty doubles it.
func ExampleGroup_Mardia() {
	normal, oneTopped := spiral()
	for _, g := range []*dispersion.Group{normal, oneTopped} {
		m, err := g.Mardia()
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("kurtosis %.1f\n", m.Kurtosis)
	}
	// Output:
	// kurtosis 7.4
	// kurtosis 17.2
}

func ExampleGroup_HeavyTails() {
	normal, oneTopped := spiral()
	for _, g := range []*dispersion.Group{normal, oneTopped} {
		t, err := g.HeavyTails()
		if err != nil {
			log.Fatal(err)
		}
		fmt.Println("heavy tails:", t.Heavy())
	}
	// Output:
	// heavy tails: false
	// heavy tails: true
}

// The cross without the shot inside it: a square with a diagonal of 4.
func ExampleGroup_ConvexHull() {
	g, _ := dispersion.NewGroup(append([]dispersion.Point{{X: 0, Y: 150}}, cross...))
	h := g.ConvexHull()
	fmt.Printf("%d corners, %g yd²\n", len(h.Corners), h.Area())
	// Output: 4 corners, 8 yd²
}

// In the middle of the cross every line has two shots on or to either side of it.
func ExampleGroup_Depth() {
	g, _ := dispersion.NewGroup(cross)
	fmt.Println(g.Depth(dispersion.Point{X: 0, Y: 150}), g.Depth(cross[0]), g.Depth(dispersion.Point{X: 9, Y: 150}))
	// Output: 2 1 0
}

// From the middle of the cross each shot is 2 yd away.
func ExampleGroup_MeanDistance() {
	g, _ := dispersion.NewGroup(cross)
	fmt.Println(g.MeanDistance(g.Mean()))
	// Output: 2
}

// Twenty values as evenly spread as normal ones can be, and the same drawn out to one
// side. shapiro.test of R 4.2.2 says 0.99845 and 0.75685.
func ExampleShapiroWilk() {
	var even, skewed []float64
	for i := range 20 {
		z := math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/20-1)
		even, skewed = append(even, 150+6*z), append(skewed, math.Exp(z))
	}
	for _, values := range [][]float64{even, skewed} {
		test, err := dispersion.ShapiroWilk(values)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("W = %.2f, p below 0.01: %t\n", test.Statistic, test.P < 0.01)
	}
	// Output:
	// W = 1.00, p below 0.01: false
	// W = 0.76, p below 0.01: true
}
