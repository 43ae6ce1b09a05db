package compare

import (
	"context"
	"errors"
	"runtime"
	"slices"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// Source: R 4.2.2, t.test(paired = TRUE) on the sleep data and all 1,024 changes
// of sign.
func TestPairedGainAgainstR(t *testing.T) {
	want := evidence(t, "paired sleep")
	e, err := PairedGain(ctx, "sleep", "h", evidenceData(t, "paired sleep", "old"), evidenceData(t, "paired sleep", "fresh"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "estimate", e.Estimate, want["estimate"], 1e-12)
	near(t, "low", e.Interval.Low, want["low"], 1e-9)
	near(t, "high", e.Interval.High, want["high"], 1e-9)
	near(t, "p", e.P, want["p"], 1e-14)
	if e.Resamples != 1024 || e.N1 != 10 || e.PFloor != 2.0/1024 {
		t.Errorf("%+v", e)
	}
}

// By hand: four pairs that all gain. Only all signs as they are and all turned
// reach the sum: p = 2/16, which is the floor, above 0.05; six pairs reach 2/64.
func TestPairedFloor(t *testing.T) {
	e, err := PairedGain(ctx, "", "", []float64{1, 2, 3, 4}, []float64{3, 5, 4, 8}, Options{})
	var floor *FloorWarning
	if err != nil || e.P != 0.125 || e.PFloor != 0.125 || len(e.Warnings) != 1 || !errors.As(e.Warnings[0], &floor) || floor.Need != 6 {
		t.Errorf("%+v, %v", e, err)
	}
}

// Many pairs go by random swaps, with the same bits on any number of cores.
func TestManyPairs(t *testing.T) {
	old, fresh := make([]float64, 80), make([]float64, 80)
	for i := range old {
		old[i], fresh[i] = float64(i*i%17), float64(i*i%17+i*7%5)-1.7
	}
	first, err := PairedGain(ctx, "", "", old, fresh, Options{Seed: 3})
	if err != nil || first.Resamples != 9999 || first.P < 1e-4 || first.P > 0.5 {
		t.Fatalf("%+v, %v", first, err)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	again, err := PairedGain(ctx, "", "", old, fresh, Options{Seed: 3})
	if err != nil || again.P != first.P || again.Interval != first.Interval {
		t.Errorf("%+v on one core, %+v on many, %v", again, first, err)
	}
}

func TestBlockOrder(t *testing.T) {
	order, err := BlockOrder(200, 7)
	if err != nil || len(order) != 400 {
		t.Fatalf("%d, %v", len(order), err)
	}
	newFirst := 0
	for pair := range slices.Chunk(order, 2) {
		if pair[0] == pair[1] {
			t.Fatal("a pair with one swing twice")
		}
		if pair[0] {
			newFirst++
		}
	}
	if newFirst < 72 || newFirst > 128 { // 100 ± 4·√50
		t.Errorf("the new swing first in %d of 200", newFirst)
	}
	if again, _ := BlockOrder(200, 7); !slices.Equal(again, order) {
		t.Error("the same seed gives another order")
	}
	for _, pairs := range []int{1, -3, 10_001} {
		if _, err := BlockOrder(pairs, 0); !errors.Is(err, ErrPlan) {
			t.Errorf("%d pairs: %v", pairs, err)
		}
	}
}

func TestPairedErrors(t *testing.T) {
	if _, err := PairedGain(ctx, "", "", []float64{1, 2}, []float64{1}, Options{}); !errors.Is(err, ErrPairs) {
		t.Errorf("uneven: %v", err)
	}
	var none context.Context
	if _, err := PairedGain(none, "", "", nil, nil, Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("no context: %v", err)
	}
	if _, err := PairedGain(ctx, "", "", []float64{1, 2, 3}, []float64{2, 3, 4}, Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("all alike: %v", err)
	}
	var few *dispersion.TooFewError
	if _, err := PairedGain(ctx, "", "", []float64{1}, []float64{2}, Options{}); !errors.As(err, &few) {
		t.Errorf("one pair: %v", err)
	}
}
