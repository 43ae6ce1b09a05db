package compare

import (
	"runtime"
	"testing"
	"time"
)

func BenchmarkBCaAreaRatio20(b *testing.B) {
	before, after := group(b, sample(b, "setosa")[:20]), group(b, sample(b, "versicolor")[:20])
	b.ReportAllocs()
	for b.Loop() {
		if _, err := BootstrapMoments(ctx, before, after, LogAreaRatio, Options{Resamples: 10000}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBootstrapT10(b *testing.B) {
	before, after := group(b, sample(b, "setosa")[:10]), group(b, sample(b, "versicolor")[:10])
	for b.Loop() {
		if _, err := BootstrapMoments(ctx, before, after, LogAreaRatio, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAnyDifference50v50(b *testing.B) {
	before, after := group(b, sample(b, "setosa")), group(b, sample(b, "versicolor"))
	for b.Loop() {
		if _, err := AnyDifference(ctx, before, after, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// How much faster two cores are than one, in the same run: to be read where both
// are idle. Above 1.6 is what is expected; the rest is the quantiles, and chunks
// that end at different times.
func BenchmarkTwoCoresAgainstOne(b *testing.B) {
	if runtime.NumCPU() < 2 {
		b.Skip("this machine has one core")
	}
	before, after := group(b, sample(b, "setosa")[:10]), group(b, sample(b, "versicolor")[:10])
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	var took [2]time.Duration
	for b.Loop() {
		for i := range took {
			runtime.GOMAXPROCS(i + 1)
			start := time.Now()
			if _, err := BootstrapMoments(ctx, before, after, LogAreaRatio, Options{}); err != nil {
				b.Fatal(err)
			}
			took[i] += time.Since(start)
		}
	}
	b.ReportMetric(took[0].Seconds()/took[1].Seconds(), "×-one-core")
}
