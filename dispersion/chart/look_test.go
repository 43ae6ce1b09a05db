package chart

import (
	"image/color"
	"math"
	"testing"
)

// luminance is the relative luminance of WCAG 2.2.
func luminance(c color.NRGBA) float64 {
	linear := func(v uint8) float64 {
		if s := float64(v) / 255; s > 0.04045 {
			return math.Pow((s+0.055)/1.055, 2.4)
		}
		return float64(v) / 255 / 12.92
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

func contrast(a, b color.NRGBA) float64 {
	dark, light := luminance(a), luminance(b)
	if dark > light {
		dark, light = light, dark
	}
	return (light + 0.05) / (dark + 0.05)
}

// Marks stand out from the paper by 3 to 1, and text by 4.5 to 1.
//
// Source: W3C, Web Content Accessibility Guidelines 2.2, success criteria 1.4.3 and
// 1.4.11; white on black is 21 to 1 there.
func TestContrastOnPaper(t *testing.T) {
	if got := contrast(color.NRGBA{A: 255}, color.NRGBA{255, 255, 255, 255}); math.Abs(got-21) > 1e-12 {
		t.Fatalf("black on white: %g", got)
	}
	for i, c := range stageColours {
		if got := contrast(c, paper); got < 3 {
			t.Errorf("stage colour %d, %v: %.2f to 1", i, c, got)
		}
	}
	for _, c := range []color.NRGBA{ink, pencil} {
		if got := contrast(c, paper); got < 4.5 {
			t.Errorf("text in %v: %.2f to 1", c, got)
		}
	}
}

// No two of the stages that a lesson may have look the same.
func TestStageLooksDiffer(t *testing.T) {
	seen := map[Look]int{}
	for i := range 35 {
		if before, ok := seen[StageLook(i)]; ok {
			t.Errorf("stages %d and %d look the same", before, i)
		}
		seen[StageLook(i)] = i
	}
}
