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

// One factor from scratch: later calls with the same n and levels find it.
func BenchmarkToleranceFactor12(b *testing.B) {
	for b.Loop() {
		computeToleranceFactor(12, .9, .95)
	}
}

func BenchmarkCEP(b *testing.B) {
	for b.Loop() {
		if _, err := (Cov{XX: 9, XY: 2, YY: 4}).CEP(.5, Point{X: 2, Y: 1}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDepth1000(b *testing.B) {
	g := randomGroup(b, 1000)
	for b.Loop() {
		g.Depths()
	}
}

func BenchmarkTukeyMedian12(b *testing.B) {
	g := randomGroup(b, 12)
	for b.Loop() {
		if _, err := g.TukeyMedian(.95); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTukeyMedian1000(b *testing.B) {
	g := randomGroup(b, 1000)
	for b.Loop() {
		if _, err := g.TukeyMedian(.95); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEnclosingCircle50(b *testing.B) {
	g := randomGroup(b, 50)
	for b.Loop() {
		if _, err := g.EnclosingCircle(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDescribe12(b *testing.B) {
	g := randomGroup(b, 12)
	for b.Loop() {
		if _, err := Describe(g, DescribeOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkQuickMCD50(b *testing.B) {
	g := randomGroup(b, 50)
	for b.Loop() {
		if _, err := g.MCD(MCDOptions{Quick: true}); err != nil {
			b.Fatal(err)
		}
	}
}
