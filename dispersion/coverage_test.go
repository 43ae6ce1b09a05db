package dispersion

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A level is a promise about coverage, so test the promise: normal groups of a
// known thin, tilted shape, and how often each interval and region holds what
// it says it holds.
func TestCoverageOnNormalShots(t *testing.T) {
	const lessons = 8000
	rng := rand.New(rand.NewPCG(1, 2))
	draw := func() Point { // standard deviations 3 and 8, correlation -0.6
		u, v := rng.NormFloat64(), rng.NormFloat64()
		return Point{X: 8 * u, Y: 150 + 3*(-.6*u+.8*v)}
	}
	trueRadius := math.Sqrt(8 * 3 * .8)
	truth := Point{X: 0, Y: 150}
	for _, n := range []int{3, 5, 10} {
		var radius, mean, next int
		points := make([]Point, n)
		for range lessons {
			for i := range points {
				points[i] = draw()
			}
			g := mustGroup(t, points)
			r, err := g.Radius(.95)
			if err != nil {
				t.Fatal(err)
			}
			if r.Interval.Low <= trueRadius && trueRadius <= r.Interval.High {
				radius++
			}
			m, err := g.MeanEllipse(.95)
			if err != nil {
				t.Fatal(err)
			}
			if m.Contains(truth) {
				mean++
			}
			p, err := g.PredictionEllipse(.95)
			if err != nil {
				t.Fatal(err)
			}
			if p.Contains(draw()) {
				next++
			}
		}
		band := 4 * math.Sqrt(.95*.05/lessons) // four binomial standard deviations
		for what, hits := range map[string]int{"radius interval": radius, "mean ellipse": mean, "prediction ellipse": next} {
			if share := float64(hits) / lessons; math.Abs(share-.95) > band {
				t.Errorf("n = %d: the 95 %% %s covers %.4f, want .95 ± %.4f", n, what, share, band)
			}
		}
	}
}

// The corrected values are right on average.
func TestCorrectedSizesAreUnbiased(t *testing.T) {
	const lessons = 8000
	rng := rand.New(rand.NewPCG(3, 4))
	for _, n := range []int{3, 5, 10} {
		sum := map[string]float64{}
		squares := map[string]float64{}
		points := make([]Point, n)
		for range lessons {
			for i := range points {
				points[i] = Point{X: 2 * rng.NormFloat64(), Y: 2 * rng.NormFloat64()}
			}
			g := mustGroup(t, points)
			for _, f := range []func(float64) (Size, error){g.AreaScale, g.Radius, g.CircularSigma} {
				s, err := f(.95)
				if err != nil {
					t.Fatal(err)
				}
				sum[s.Name] += s.Value
				squares[s.Name] += s.Value * s.Value
			}
		}
		for name, want := range map[string]float64{"area scale": 4, "radius": 2, "circular sigma": 2} {
			mean := sum[name] / lessons
			band := 4 * math.Sqrt((squares[name]/lessons-mean*mean)/lessons)
			if math.Abs(mean-want) > band {
				t.Errorf("n = %d: the mean %s is %.4f, want %g ± %.4f", n, name, mean, want, band)
			}
		}
	}
}
