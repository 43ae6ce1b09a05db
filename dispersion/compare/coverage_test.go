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

var sizes = [][2]int{{5, 5}, {10, 10}, {20, 20}, {10, 20}, {10, 30}, {5, 20}}

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

// Exact on normal shots, so tested on both sides of its level, from the
// smallest groups on.
func TestAreaRatioCoverage(t *testing.T) {
	for _, n := range [][2]int{{3, 3}, {3, 10}, {5, 5}, {10, 20}} {
		got := coverage(t, "area ratio", n, laws[0], 2, AreaRatio)
		checkCoverage(t, "area ratio", got, 0.95)
		checkCoverage(t, "area ratio, outside", 1-got, 0.05)
	}
}

// Angles in normal and t(5) groups around the target line; the second group's
// are 0.75 times as wide. Simulated with 5,000 pairs: 95.4 to 97.8 % on normal
// angles, 94.4 to 96.5 % on t(5), 93.2 to 95.7 % on t(3) at these sizes.
func TestAngleSpreadRatioCoverage(t *testing.T) {
	angled := func(draw func(r *rand.Rand, size float64) dispersion.Point) func(*rand.Rand, float64) dispersion.Point {
		return func(r *rand.Rand, size float64) dispersion.Point {
			angle := draw(r, 1).X * 0.007 * size // the side of the pattern, in radians
			carry := 150 + 8*r.NormFloat64()
			return dispersion.Point{X: carry * math.Tan(angle), Y: carry}
		}
	}
	promised := map[string]float64{"normal": 0.95, "t(5)": 0.94, "t(3)": 0.92}
	for _, l := range laws[:3] {
		l.draw = angled(l.draw)
		for _, n := range sizes {
			got := coverage(t, "angle spread ratio", n, l, 1, AngleSpreadRatio)
			checkCoverage(t, "angle, "+l.name, got, promised[l.name])
		}
	}
}

// The Welch interval of the mean on normal carries with unequal spread.
func TestCarryGainCoverage(t *testing.T) {
	r := rand.New(resample.NewStream(1, "carry gain", 0))
	held := 0
	for range *pairs {
		var before, after []dispersion.Point
		for range 5 {
			before = append(before, normal(r, 1))
		}
		for range 12 {
			after = append(after, normal(r, 0.5))
		}
		e, err := CarryGain(ctx, group(t, before), group(t, after), Options{Resamples: 1})
		if err != nil {
			t.Fatal(err)
		}
		if e.Interval.Low <= 0 && 0 <= e.Interval.High {
			held++
		}
	}
	got := float64(held) / float64(*pairs)
	checkCoverage(t, "carry gain", got, 0.95)
	checkCoverage(t, "carry gain, outside", 1-got, 0.05)
}
