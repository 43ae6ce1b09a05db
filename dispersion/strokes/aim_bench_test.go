package strokes

import (
	"math/rand/v2"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// benchAim is a pattern of 20 shots before a hole with every ground.
func benchAim(b *testing.B, law Law) (*View, Pattern, AimOptions) {
	c, err := Compute(IllustrativePlayers()[1], CommonHole())
	if err != nil {
		b.Fatal(err)
	}
	v, err := mustHole(b, datasets.DemoPondFile()).Approach(140, c)
	if err != nil {
		b.Fatal(err)
	}
	r := rand.New(resample.NewStream(1, "aim bench", 0))
	p := mustPattern(b, drawnGroup(b, r, 20, dispersion.Point{X: 4, Y: 140}, dispersion.Point{X: 8, Y: 7}), law)
	return v, p, AimOptions{Left: -100, Right: 99, Short: 40, Long: 239}
}

func BenchmarkAimSurface(b *testing.B) {
	for _, law := range []Law{AsHit, Normal, HeavyTailed} {
		b.Run(law.String(), func(b *testing.B) {
			v, p, o := benchAim(b, law)
			for b.Loop() {
				if _, err := v.Surface(ctx, p, o); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkBestAimBootstrap(b *testing.B) {
	v, p, o := benchAim(b, AsHit)
	reports := 0
	for b.Loop() {
		if _, err := v.AimDoubt(ctx, p, o, compare.Options{Resamples: 1000, Progress: func(int, int) { reports++ }}); err != nil {
			b.Fatal(err)
		}
	}
	if reports == 0 {
		b.Fatal("no progress was reported")
	}
}

func BenchmarkWorth(b *testing.B) {
	h := mustHole(b, datasets.DemoPondFile())
	_, p, _ := benchAim(b, AsHit)
	for b.Loop() {
		if _, err := WorthOf(ctx, h, byHand, p, p, []float64{100, 120, 140}, compare.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
