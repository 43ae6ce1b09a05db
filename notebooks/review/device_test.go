package review

import (
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

func TestReadDevice(t *testing.T) {
	for text, want := range map[string]device{
		"carry 2":             {true, compare.DeviceError{Random: 2}, compare.DeviceError{}},
		"carry 2 1, side 1.5": {true, compare.DeviceError{Random: 2, Shift: 1}, compare.DeviceError{Random: 1.5}},
		" side 0 3 ":          {true, compare.DeviceError{}, compare.DeviceError{Shift: 3}},
	} {
		if got, err := readDevice(text); err != nil || got != want {
			t.Errorf("%q: %+v, %v", text, got, err)
		}
	}
	for _, text := range []string{"carry", "carry two", "apex 3", "carry 1 2 3", "carry -1", "carry NaN", "carry 2,"} {
		if _, err := readDevice(text); err == nil || !strings.Contains(err.Error(), "carry 2 1, side 1.5") {
			t.Errorf("%q: %v", text, err)
		}
	}
	if _, err := Open(Source{Device: "loft 3"}); err == nil {
		t.Error("a bad device error opened a lesson")
	}
	// Two yards are 1.8 metres.
	if d := exampleDevice(lesson.Metres); d.stated || d.carry.Random != 1.8 {
		t.Errorf("%+v", d)
	}
}

// The sentences of a stated error, an error that hides everything, none, and one
// that is not stated; a shift widens the gain by itself.
func TestDeviceSentences(t *testing.T) {
	ctx := context.Background()
	said := func(device string) (spread, evidence string) {
		t.Helper()
		r, err := Open(Source{Device: device})
		if err != nil {
			t.Fatal(err)
		}
		spreads, err := r.SpreadSentences(ctx)
		if err != nil {
			t.Fatal(err)
		}
		carry, err := r.Evidence(ctx)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.ContainsFunc(spreads, func(s string) bool { return strings.Contains(s, "wilder") }) {
			t.Errorf("nothing of speed against accuracy: %q", spreads)
		}
		return strings.Join(spreads, "\n"), strings.Join(carry, "\n")
	}
	for device, want := range map[string]string{
		"":                  "were it 2 yd a shot in carry and 2 in side, the radius behind it",
		"carry 1, side 0.5": "With a device error of 1 yd a shot in carry and 0.5 in side, the radius behind it",
		"carry 90, side 90": "no larger than that error",
	} {
		if spread, evidence := said(device); !strings.Contains(spread, want) || strings.Contains(evidence, "device") {
			t.Errorf("%q: %q; %q", device, spread, evidence)
		}
	}
	spread, evidence := said("carry 0 3")
	if strings.Contains(spread, "device") || !strings.Contains(evidence, "With a device that may be off by 3 yd from one stage to the other: ") {
		t.Errorf("a shift: %q; %q", spread, evidence)
	}
}
