package main

import (
	"fmt"
	"image/color"
	"math"
	"testing"
)

func eyeNamed(t *testing.T, name string) eye {
	t.Helper()
	for _, e := range eyes {
		if e.name == name {
			return e
		}
	}
	t.Fatalf("no eye for %s", name)
	return eye{}
}

// Source: R 4.2.2, colorspace 2.1-0: protan and deutan of each colour, with
// linear = TRUE; its matrices are those of Machado et al. 2009.
func TestColourBlindEyesAgainstR(t *testing.T) {
	for from, want := range map[string][2]string{
		"#FF0000": {"#6D5F00", "#A39000"}, "#00FF00": {"#FFE500", "#EFD63A"}, "#0000FF": {"#0059FF", "#003DFB"},
		"#0072B2": {"#5375B5", "#3B67B1"}, "#D55E00": {"#817100", "#9E8C00"}, "#009E73": {"#9A9271", "#8A8676"},
		"#CC79A7": {"#808BA9", "#9498A5"}, "#E69F00": {"#B9A200", "#CAB411"}, "#FBF8F1": {"#FAF8F1", "#FBF9F1"}, "#808080": {"#808080", "#808080"},
	} {
		c := color.NRGBA{A: 255}
		if _, err := fmt.Sscanf(from, "#%02X%02X%02X", &c.R, &c.G, &c.B); err != nil {
			t.Fatal(err)
		}
		for i, name := range []string{"protanopia", "deuteranopia"} {
			s := eyeNamed(t, name).colour(c)
			if got := fmt.Sprintf("#%02X%02X%02X", s.R, s.G, s.B); got != want[i] {
				t.Errorf("%s in %s: %s, want %s", from, name, got, want[i])
			}
		}
	}
}

// Every eye sees grey as grey: the rows of its matrix sum to 1. The grey of a
// colour has its luminance.
//
// Source: IEC 61966-2-1 (sRGB), the weights of red, green and blue in luminance,
// as W3C prints them in WCAG 2.2.
func TestGreyStaysGrey(t *testing.T) {
	for _, e := range eyes {
		for v := range 256 {
			c := color.NRGBA{uint8(v), uint8(v), uint8(v), 255}
			if got := e.colour(c); got != c {
				t.Fatalf("%s: %v is seen as %v", e.name, c, got)
			}
		}
	}
	c := color.NRGBA{0x00, 0x72, 0xB2, 255}
	want := 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
	got := eyeNamed(t, "grey").colour(c)
	// A step of 1 in 255 around there is a step of 0.006 in light at most.
	if math.Abs(linear(got.R)-want) > 0.003 || got.R != got.G || got.G != got.B {
		t.Errorf("blue of luminance %.4f is seen as %v", want, got)
	}
}
