package compare

import (
	"context"
	"errors"
	"runtime"
	"slices"
	"testing"
	"time"

	"github.com/landfall-golf/landfall/dispersion"
)

// The seed decides, the number of cores does not, and another seed gives others.
func TestResamplingGivesTheSameBitsOnAnyNumberOfCores(t *testing.T) {
	before, after := group(t, sample(t, "setosa")[:12]), group(t, sample(t, "versicolor")[:14])
	answer := func(seed uint64, cores int) (values []float64) {
		old := runtime.GOMAXPROCS(cores)
		defer runtime.GOMAXPROCS(old)
		o := Options{Resamples: 4321, Seed: seed}
		b, err := BootstrapMoments(ctx, before, after, LogAreaRatio, o)
		if err != nil {
			t.Fatal(err)
		}
		values = append(b.Replicates, b.T.Low, b.T.High, b.BCa.Low, b.Percentile.High, b.SE)
		if b, err = Bootstrap(ctx, before, after, meanDifference, o); err != nil {
			t.Fatal(err)
		}
		values = append(append(values, b.Replicates...), b.T.Low)
		d, err := AnyDifference(ctx, before, after, o)
		if err != nil {
			t.Fatal(err)
		}
		p, err := Permute(ctx, before, after, meanDifference, o)
		if err != nil {
			t.Fatal(err)
		}
		return append(values, d.P, p.P)
	}
	one := answer(7, 1)
	for _, cores := range []int{2, 5} {
		if !slices.Equal(answer(7, cores), one) {
			t.Errorf("%d cores gave other bits than one", cores)
		}
	}
	if slices.Equal(answer(8, 1), one) {
		t.Error("another seed gave the same answer")
	}
}

func TestBootstrapProgressGrowsToTheEnd(t *testing.T) {
	before, after := group(t, sample(t, "setosa")), group(t, sample(t, "versicolor"))
	last := 0
	_, err := BootstrapMoments(ctx, before, after, LogAreaRatio, Options{Resamples: 10500, Progress: func(done, total int) {
		if done <= last || total != 10500 {
			t.Errorf("from %d to %d of %d", last, done, total)
		}
		last = done
	}})
	if err != nil || last != 10500 {
		t.Errorf("ended at %d, %v", last, err)
	}
}

// A statistic of a millisecond must not keep a cancelled call waiting for the rest
// of its thousand.
func TestCancelledWithin50ms(t *testing.T) {
	before, after := group(t, sample(t, "setosa")), group(t, sample(t, "versicolor"))
	for name, run := range map[string]func(c context.Context, slow func(b, a []dispersion.Point) (float64, error)) error{
		"Bootstrap": func(c context.Context, slow func(b, a []dispersion.Point) (float64, error)) error {
			_, err := Bootstrap(c, before, after, slow, Options{})
			return err
		},
		"Permute": func(c context.Context, slow func(b, a []dispersion.Point) (float64, error)) error {
			_, err := Permute(c, before, after, slow, Options{})
			return err
		},
	} {
		c, cancel := context.WithCancel(ctx)
		var cancelled time.Time
		time.AfterFunc(150*time.Millisecond, func() { cancelled = time.Now(); cancel() })
		err := run(c, func(b, a []dispersion.Point) (float64, error) {
			time.Sleep(time.Millisecond)
			return meanDifference(b, a)
		})
		if !errors.Is(err, context.Canceled) {
			t.Fatalf("%s: %v", name, err)
		}
		if late := time.Since(cancelled); late > 50*time.Millisecond {
			t.Errorf("%s returned %v after it was cancelled", name, late)
		}
	}
}

// Beyond the replicates themselves, 8 bytes each, a hundred thousand more resamples
// take next to no more memory: a few hundred bytes a chunk of a thousand.
func TestMemoryGrowsByTheReplicatesAlone(t *testing.T) {
	before, after := group(t, sample(t, "setosa")), group(t, sample(t, "versicolor"))
	bytes := func(resamples int) float64 {
		var from, to runtime.MemStats
		runtime.ReadMemStats(&from)
		if _, err := BootstrapMoments(ctx, before, after, LogAreaRatio, Options{Resamples: resamples}); err != nil {
			t.Fatal(err)
		}
		runtime.ReadMemStats(&to)
		return float64(to.TotalAlloc - from.TotalAlloc)
	}
	if each := (bytes(200000) - bytes(100000)) / 100000; each > 8+4 {
		t.Errorf("%.1f bytes for each further resample, want 8 and little more", each)
	}
}
