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

func benchmarkMCD(b *testing.B, n int) {
	g := randomGroup(b, n)
	for b.Loop() {
		if _, err := g.MCD(MCDOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkExactMCD12(b *testing.B)   { benchmarkMCD(b, 12) }
func BenchmarkExactMCD20(b *testing.B)   { benchmarkMCD(b, 20) }
func BenchmarkExactMCD40(b *testing.B)   { benchmarkMCD(b, 40) }
func BenchmarkExactMCD64(b *testing.B)   { benchmarkMCD(b, 64) }
func BenchmarkFastMCD500(b *testing.B)   { benchmarkMCD(b, 500) }
func BenchmarkFastMCD10000(b *testing.B) { benchmarkMCD(b, 10000) }
