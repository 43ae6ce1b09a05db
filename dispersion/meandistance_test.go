package dispersion

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Source: describe.R.
func TestMeanDistanceAgainstR(t *testing.T) {
	for _, name := range referenceNames(t, "describe_") {
		var ref struct {
			Output struct {
				Radius float64 `json:"mean_radius"`
				Spread float64 `json:"extreme_spread"`
			}
		}
		readReference(t, "describe_"+name, &ref)
		g := referenceGroup(t, name)
		near(t, name+" mean distance", g.MeanDistance(g.Mean()), ref.Output.Radius, 1e-12)
		far, err := g.LargestDistance()
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+" largest distance", far.Distance, ref.Output.Spread, 1e-12)
	}
}

// Source: E = σ√(π/2)√((n-1)/n), recomputed with R 4.2.2; and the mean of many
// groups.
func TestMeanDistanceOnAverage(t *testing.T) {
	const lessons = 4000
	rng := rand.New(rand.NewPCG(2, 3))
	for n, want := range map[int]float64{3: 1.0233267, 5: 1.1209982, 10: 1.1889982, 20: 1.2215795} {
		near(t, "formula", math.Sqrt(math.Pi/2)*math.Sqrt(float64(n-1)/float64(n)), want, 1e-7)
		points := make([]Point, n)
		var sum, squares float64
		for range lessons {
			for i := range points {
				points[i] = Point{X: rng.NormFloat64(), Y: rng.NormFloat64()}
			}
			g := mustGroup(t, points)
			r := g.MeanDistance(g.Mean())
			sum += r / lessons
			squares += r * r / lessons
		}
		if band := 4 * math.Sqrt((squares-sum*sum)/lessons); math.Abs(sum-want) > band {
			t.Errorf("n = %d: mean %.4f, want %.4f ± %.4f", n, sum, want, band)
		}
	}
}
