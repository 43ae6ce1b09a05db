package page

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// luminance is the relative luminance of a colour such as #24211c.
// Source: W3C, Web Content Accessibility Guidelines 2.2, definition of
// relative luminance.
func luminance(t *testing.T, colour string) float64 {
	t.Helper()
	n, err := strconv.ParseUint(strings.TrimPrefix(colour, "#"), 16, 24)
	if err != nil {
		t.Fatal(err)
	}
	linear := func(channel uint64) float64 {
		c := float64(channel) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(n>>16) + 0.7152*linear(n>>8&255) + 0.0722*linear(n&255)
}

// contrast is the contrast ratio of WCAG 2.2: black on white has 21.
func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	la, lb := luminance(t, a), luminance(t, b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func TestContrastFormula(t *testing.T) {
	if got := contrast(t, "#ffffff", "#000000"); math.Abs(got-21) > 1e-12 {
		t.Errorf("black on white: %v, want 21", got)
	}
}

// Success criterion 1.4.3 (level AA) asks for 4.5 for text, 1.4.11 for 3 for
// marks such as the bar beside an error and the ring around the focus.
func TestContrast(t *testing.T) {
	blocks := regexp.MustCompile(`(?s):root \{(.*?)\}`).FindAllStringSubmatch(style, -1)
	if len(blocks) != 2 {
		t.Fatalf("%d sets of colours, want light and dark", len(blocks))
	}
	for i, mode := range []string{"light", "dark"} {
		colour := map[string]string{}
		for _, m := range regexp.MustCompile(`--([a-z]+): (#[0-9a-f]{6});`).FindAllStringSubmatch(blocks[i][1], -1) {
			colour[m[1]] = m[2]
		}
		for _, ink := range []string{"ink", "soft", "link", "word", "string", "number", "comment"} {
			for _, ground := range []string{"paper", "tint"} {
				if got := contrast(t, colour[ink], colour[ground]); got < 4.5 {
					t.Errorf("%s: %s on %s has a contrast of %.2f", mode, ink, ground, got)
				}
			}
		}
		if got := contrast(t, colour["alarm"], colour["paper"]); got < 3 {
			t.Errorf("%s: alarm has a contrast of %.2f", mode, got)
		}
	}
}
