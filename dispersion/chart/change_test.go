package chart

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

func demoChange() ChangeInput {
	s := demoStages().Stages
	return ChangeInput{Unit: "yd", Before: s[0], After: s[3]}
}

func TestChangeSaysWhatChanged(t *testing.T) {
	f, err := Change(demoChange())
	if err != nil {
		t.Fatal(err)
	}
	svg, err := f.SVG()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"on average before", "old swing", "new swing", "10 shots, 1 mishit", "12 shots, 1 mishit"} {
		if !strings.Contains(string(svg), ">"+want) && !strings.Contains(f.Alt(), want) {
			t.Errorf("no %q in the figure or its words:\n%s", want, f.Alt())
		}
	}
	// Two sentences above and below it fit with it on a phone 360 pixels wide,
	// where a point is 0.96 pixels.
	if f.Height > 340 {
		t.Errorf("%g points high", f.Height)
	}
}

// Two groups that lie on each other, one point each, and far apart: there is a
// picture, and nothing in it lies outside.
func TestChangeOfAnyGroups(t *testing.T) {
	at := func(x, y float64) Stage { return Stage{Name: "s", Shots: []dispersion.Point{{X: x, Y: y}}} }
	for _, in := range []ChangeInput{
		{Before: at(0, 150), After: at(0, 150)},
		{Before: at(-20, 40), After: at(30, 260)},
		{Before: demoChange().Before, After: demoChange().Before},
	} {
		f, err := Change(in)
		if err != nil {
			t.Fatal(err)
		}
		if f.Width != sheetWidth || !(f.Height > 100 && f.Height < 460) {
			t.Errorf("%g by %g points", f.Width, f.Height)
		}
	}
}

func TestChangeThatCannotBe(t *testing.T) {
	in := demoChange()
	in.After.Shots = nil
	if _, err := Change(in); !errors.Is(err, ErrEmpty) {
		t.Error(err)
	}
	in.After.Shots, in.After.Mishit = []dispersion.Point{{X: 0, Y: math.NaN()}}, nil
	var input *InputError
	if _, err := Change(in); !errors.As(err, &input) || !strings.Contains(err.Error(), "after") {
		t.Error(err)
	}
}
