package compare

import (
	"context"
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// More pairs of groups than the test needs, for the figures in the docs:
//
//	go test ./dispersion/compare -run Coverage -v -pairs 20000
var pairs = flag.Int("pairs", 1000, "pairs of groups per row of the coverage tests")

// A law draws one landing point around (0, 150), the pattern twice as long as
// wide and slanted, scaled by size about its middle.
type law struct {
	name string
	draw func(r *rand.Rand, size float64) dispersion.Point
}

func place(x, y, size float64) dispersion.Point {
	return dispersion.Point{X: size * (4*x + 1.5*y), Y: 150 + size*8*y}
}

// heavy is bivariate t: a normal point over √(χ²/df).
func heavy(df int) func(*rand.Rand, float64) dispersion.Point {
	return func(r *rand.Rand, size float64) dispersion.Point {
		chi2 := 0.0
		for range df {
			z := r.NormFloat64()
			chi2 += z * z
		}
		w := math.Sqrt(float64(df) / chi2)
		return place(r.NormFloat64()*w, r.NormFloat64()*w, size)
	}
}

func normal(r *rand.Rand, size float64) dispersion.Point {
	return place(r.NormFloat64(), r.NormFloat64(), size)
}

// mishits drops one carry in ten by 25 to 45 %.
func mishits(r *rand.Rand, size float64) dispersion.Point {
	p := normal(r, size)
	if r.IntN(10) == 0 {
		p.Y -= size * 150 * (0.25 + 0.20*r.Float64())
	}
	return p
}

var laws = []law{{"normal", normal}, {"t(5)", heavy(5)}, {"t(3)", heavy(3)}, {"10 % mishits", mishits}}

var sizes = [][2]int{{5, 5}, {10, 10}, {20, 20}, {10, 20}}

// coverage returns the share of pairs of groups whose interval holds the true
// ratio. The second group is drawn 0.75 times as large as the first.
func coverage(t *testing.T, tag string, n [2]int, l law, power float64,
	method func(context.Context, *dispersion.Group, *dispersion.Group, Options) (Effect, error)) float64 {
	t.Helper()
	const size = 0.75
	truth := math.Pow(size, power)
	held := 0
	r := rand.New(resample.NewStream(1, tag+l.name, n[0]*1000+n[1]))
	for range *pairs {
		var side [2][]dispersion.Point
		for j, scale := range []float64{1, size} {
			for range n[j] {
				side[j] = append(side[j], l.draw(r, scale))
			}
		}
		e, err := method(ctx, group(t, side[0]), group(t, side[1]), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if e.Interval.Low <= truth && truth <= e.Interval.High {
			held++
		}
	}
	return float64(held) / float64(*pairs)
}

// checkCoverage fails where the coverage seen is more than 4 binomial standard
// deviations below the one promised.
func checkCoverage(t *testing.T, what string, got, promised float64) {
	t.Helper()
	limit := promised - 4*math.Sqrt(promised*(1-promised)/float64(*pairs))
	if got < limit {
		t.Errorf("%s: covers %.3f, promised %.3f, limit %.3f", what, got, promised, limit)
	}
	t.Logf("%s: covers %.4f", what, got)
}

// The promise of the doc comment: at least 94 % on normal shots, 92 % on t(5),
// 90 % on t(3) and with one mishit in ten.
func TestSpreadRatioCoverage(t *testing.T) {
	promised := map[string]float64{"normal": 0.94, "t(5)": 0.92, "t(3)": 0.90, "10 % mishits": 0.90}
	for _, l := range laws {
		for _, n := range sizes {
			got := coverage(t, "spread ratio", n, l, 1, SpreadRatio)
			checkCoverage(t, l.name, got, promised[l.name])
		}
	}
}
