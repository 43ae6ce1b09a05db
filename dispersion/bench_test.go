package dispersion

import (
	"math/rand/v2"
	"testing"
)

func randomGroup(b *testing.B, n int) *Group {
	rng := rand.New(rand.NewPCG(uint64(n), 0))
	points := make([]Point, n)
	for i := range points {
		points[i] = Point{X: 8 * rng.NormFloat64(), Y: 150 + 6*rng.NormFloat64()}
	}
	return mustGroup(b, points)
}

func BenchmarkGeometricMedian50(b *testing.B) {
	g := randomGroup(b, 50)
	for b.Loop() {
		g.GeometricMedian()
	}
}

func BenchmarkPredictionEllipse12(b *testing.B) {
	g := randomGroup(b, 12)
	for b.Loop() {
		if _, err := g.PredictionEllipse(.95); err != nil {
			b.Fatal(err)
		}
	}
}
