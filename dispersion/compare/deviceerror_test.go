package compare

import (
	"errors"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// By hand, 2 yd on 8, 4 and 3: (32+4)/(64+4) = 0.529, (8+4)/(16+4) = 0.6,
// (4.5+4)/(9+4) = 0.654.
func TestShownAreaRatio(t *testing.T) {
	for sd, want := range map[float64]float64{8: 36.0 / 68, 4: 12.0 / 20, 3: 8.5 / 13} {
		got, err := ShownAreaRatio(0.5, sd, 2)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "shown", got, want, 1e-14)
	}
	if got, err := ShownAreaRatio(0.5, 8, 0); err != nil || got != 0.5 {
		t.Errorf("no error: %g, %v", got, err)
	}
	for _, c := range [][3]float64{{0, 1, 1}, {1, 0, 1}, {math.NaN(), 1, 1}, {1, math.Inf(1), 1}} {
		if _, err := ShownAreaRatio(c[0], c[1], c[2]); !errors.Is(err, ErrPlan) {
			t.Errorf("%v: %v", c, err)
		}
	}
	if _, err := ShownAreaRatio(1, 1, -1); !errors.Is(err, ErrDeviceError) {
		t.Errorf("an error below 0: %v", err)
	}
}

// Source: R 4.2.2, determinants of iris.
func TestAreaBehindErrorAgainstR(t *testing.T) {
	before, after := group(t, sample(t, "setosa")[:20]), group(t, sample(t, "versicolor")[:20])
	raw, err := AreaRatio(ctx, before, after, Options{})
	if err != nil {
		t.Fatal(err)
	}
	e, err := AreaBehindError(ctx, before, after, 0.05, 0.1, Options{})
	if err != nil || e.HasP {
		t.Fatal(e, err)
	}
	times := evidence(t, "behind")["times"]
	near(t, "estimate", e.Estimate, raw.Estimate*times, 1e-9)
	near(t, "low", e.Interval.Low, raw.Interval.Low*times, 1e-9)
	near(t, "high", e.Interval.High, raw.Interval.High*times, 1e-9)
	if same, err := AreaBehindError(ctx, before, after, 0, 0, Options{}); err != nil || same.Interval != raw.Interval {
		t.Errorf("no error: %+v, %v", same, err)
	}
	if _, err := AreaBehindError(ctx, before, after, 0.05, 2, Options{}); !errors.Is(err, ErrHidden) {
		t.Errorf("an error larger than the pattern: %v", err)
	}
	if _, err := AreaBehindError(ctx, before, after, math.NaN(), 0, Options{}); !errors.Is(err, ErrDeviceError) {
		t.Errorf("NaN: %v", err)
	}
	if _, err := AreaBehindError(ctx, before, nil, 0, 0, Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("nothing after: %v", err)
	}
}

func TestGainBehindError(t *testing.T) {
	e := carryEffect(8, 3, 18)
	e.HasP, e.P = true, 0.01
	wide, err := GainBehindError(e, DeviceError{Random: 2, Shift: 1.5})
	if err != nil || wide.Interval != (dispersion.Interval{Low: 3.5, High: 12.5, Level: 0.95}) || wide.HasP || wide.Estimate != 8 {
		t.Errorf("%+v, %v", wide, err)
	}
	if same, err := GainBehindError(e, DeviceError{Random: 2}); err != nil || same.Interval != e.Interval || !same.HasP {
		t.Errorf("random alone: %+v, %v", same, err)
	}
	if _, err := GainBehindError(ratioEffect(NameSpreadRatio, 1, 2), DeviceError{}); !errors.Is(err, ErrEffect) {
		t.Errorf("a ratio: %v", err)
	}
	if _, err := GainBehindError(e, DeviceError{Shift: math.Inf(1)}); !errors.Is(err, ErrDeviceError) {
		t.Errorf("an infinite shift: %v", err)
	}
}
