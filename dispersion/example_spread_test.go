package dispersion_test

import (
	"fmt"
	"log"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// The covariance of the cross is 8/3 along either axis; three halves of that is
// right on average, for four shots.
func ExampleGroup_AreaScale() {
	g, _ := dispersion.NewGroup(cross)
	a, err := g.AreaScale(0.95)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.3f, right on average %.3f\n", a.Raw, a.Value)
	// Output: 2.667, right on average 4.000
}

// √(16/6), and that over c₄(7) = 0.9594.
func ExampleGroup_CircularSigma() {
	g, _ := dispersion.NewGroup(cross)
	s, err := g.CircularSigma(0.95)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.3f, right on average %.3f\n", s.Raw, s.Value)
	// Output: 1.633, right on average 1.702
}

// One wild carry of five.
func ExampleSn() {
	s, err := dispersion.Sn([]float64{121, 118, 124, 119, 151})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f\n", s)
	// Output: 4.83
}

// Of a round pattern with a standard deviation of 8 yd half the shots land
// within 8·√(2·ln 2) of the aim.
func ExampleCov_CEP() {
	r, err := dispersion.Cov{XX: 64, YY: 64}.CEP(0.5, dispersion.Point{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f yd, %.2f\n", r, 8*math.Sqrt(2*math.Ln2))
	// Output: 9.42 yd, 9.42
}

func ExampleCov_Axes() {
	major, minor, angle := dispersion.Cov{XX: 9, YY: 64}.Axes()
	fmt.Printf("%g yd along, %g yd across, at %.0f° from the side axis\n", major, minor, angle*180/math.Pi)
	// Output: 8 yd along, 3 yd across, at 90° from the side axis
}

func ExampleGroup_LargestDistance() {
	g, _ := dispersion.NewGroup([]dispersion.Point{{X: 0, Y: 150}, {X: 3, Y: 154}, {X: 1, Y: 151}})
	d, err := g.LargestDistance()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(d.Distance)
	// Output: 5
}

// The same player: more balls, and the two farthest lie farther apart.
func ExampleExpectedLargestDistance() {
	for _, n := range []int{2, 5, 20} {
		d, err := dispersion.ExpectedLargestDistance(n)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%d shots: %.2f standard deviations\n", n, d)
	}
	// Output:
	// 2 shots: 1.77 standard deviations
	// 5 shots: 3.06 standard deviations
	// 20 shots: 4.45 standard deviations
}

func ExampleShotAngle() {
	fmt.Printf("%.1f° right\n", dispersion.ShotAngle(dispersion.Point{X: 10, Y: 100})*180/math.Pi)
	// Output: 5.7° right
}
