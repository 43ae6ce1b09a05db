package compare

import "testing"

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
