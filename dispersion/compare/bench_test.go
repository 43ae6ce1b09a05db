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
