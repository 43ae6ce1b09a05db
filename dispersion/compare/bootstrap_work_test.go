package compare

import (
	"context"
	"errors"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"
	"time"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
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
		picked, err := PickedGain(ctx, "", "", column(before, ballCarry), column(after, ballCarry)[:3], Picking{BestShots, 3, 14}, o)
		if err != nil {
			t.Fatal(err)
		}
		paired, err := PairedGain(ctx, "", "", columnOf(t, "setosa", 20), columnOf(t, "versicolor", 20), o)
		if err != nil {
			t.Fatal(err)
		}
		return append(values, d.P, p.P, picked.Corrected.Interval.Low, picked.Corrected.P, paired.P)
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

func ballCarry(p dispersion.Point) float64 { return p.Y }

// columnOf returns the second columns of the first shots of a sample.
func columnOf(t testing.TB, name string, n int) []float64 {
	return column(group(t, sample(t, name)[:n]), ballCarry)
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

// A statistic of a millisecond, or a picking from ten thousand shots, must not keep
// a cancelled call waiting for the rest of its thousand. Where the machine is busy
// with something else a try may be late, but not each of three.
func TestCancelledWithin50ms(t *testing.T) {
	before, after := group(t, sample(t, "setosa")), group(t, sample(t, "versicolor"))
	slow := func(b, a []dispersion.Point) (float64, error) {
		time.Sleep(time.Millisecond)
		return meanDifference(b, a)
	}
	var many [2][]dispersion.Point
	r := rand.New(resample.NewStream(1, "cancelled", 0))
	for i := range 800 {
		many[i%2] = append(many[i%2], normal(r, 1))
	}
	values := column(before, ballCarry)
	for name, run := range map[string]func(c context.Context) error{
		"Bootstrap": func(c context.Context) error { _, err := Bootstrap(c, before, after, slow, Options{}); return err },
		"Permute":   func(c context.Context) error { _, err := Permute(c, before, after, slow, Options{}); return err },
		"RobustSpreadRatio": func(c context.Context) error {
			_, err := RobustSpreadRatio(c, group(t, many[0][:20]), group(t, many[1][:20]), Options{Resamples: 99999})
			return err
		},
		"AnyDifference": func(c context.Context) error {
			_, err := AnyDifference(c, group(t, many[0]), group(t, many[1]), Options{Resamples: 99999})
			return err
		},
		"PickedGain": func(c context.Context) error {
			hundred := slices.Concat(values, values)
			_, err := PickedGain(c, "", "", values, hundred[:maxPicked], Picking{BestStage, maxPicked, maxPicked}, Options{Resamples: 99999})
			return err
		},
		"PickedGain of a long run": func(c context.Context) error {
			hundred := slices.Concat(values, values)
			_, err := PickedGain(c, "", "", values, hundred[:maxPicked], Picking{StoppedWhenGood, 1, maxPicked}, Options{})
			return err
		},
	} {
		soonest := time.Hour
		for range 3 {
			c, cancel := context.WithCancel(ctx)
			var cancelled time.Time
			time.AfterFunc(150*time.Millisecond, func() { cancelled = time.Now(); cancel() })
			if err := run(c); !errors.Is(err, context.Canceled) {
				t.Fatalf("%s: %v", name, err)
			}
			if soonest = min(soonest, time.Since(cancelled)); soonest <= 50*time.Millisecond {
				break
			}
		}
		if soonest > 50*time.Millisecond {
			t.Errorf("%s returned %v after it was cancelled", name, soonest)
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
