package chart

import (
	"html"
	"image/color"
	"math"
	"strconv"
	"strings"
	"unicode"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// A pen writes in one font, size and colour.
type pen struct {
	face   font.Face
	size   float64
	colour color.NRGBA
}

func newPen(size float64, weight xfont.Weight, colour color.NRGBA) pen {
	f := font.Font{Typeface: "Liberation", Variant: "Sans", Weight: weight}
	return pen{plot.DefaultTextHandler.Cache().Lookup(f, vg.Length(size)), size, colour}
}

var (
	titlePen    = newPen(13, xfont.WeightBold, ink)
	sentencePen = newPen(10.5, xfont.WeightNormal, ink)
	namePen     = newPen(9.5, xfont.WeightBold, ink)
	notePen     = newPen(9, xfont.WeightNormal, ink)
	smallPen    = newPen(8.5, xfont.WeightNormal, pencil)
)

func (p pen) leading() float64 { return p.size * 1.25 }

func (p pen) width(s string) float64 { return float64(p.face.Width(s)) }

// write writes s with its baseline starting at (x, y).
func (p pen) write(c vg.Canvas, x, y vg.Length, s string) {
	if s == "" {
		return
	}
	c.SetColor(p.colour)
	c.FillString(p.face, vg.Point{X: x, Y: y}, s)
}

// fit cuts s with an ellipsis to what fits into the width.
func (p pen) fit(s string, width float64) string {
	if p.width(s) <= width {
		return s
	}
	runes := []rune(s)
	for n := len(runes) - 1; n > 0; n-- {
		if cut := strings.TrimRight(string(runes[:n]), " ") + "…"; p.width(cut) <= width {
			return cut
		}
	}
	return "…"
}

// wrap breaks s at spaces into lines that fit into the width, the last of at
// most most lines being cut.
func (p pen) wrap(s string, width float64, most int) []string {
	var lines []string
	words := strings.Fields(s)
	for len(words) > 0 {
		if len(lines) == most-1 {
			return append(lines, p.fit(strings.Join(words, " "), width))
		}
		n := 1
		for n < len(words) && p.width(strings.Join(words[:n+1], " ")) <= width {
			n++
		}
		lines = append(lines, p.fit(strings.Join(words[:n], " "), width))
		words = words[n:]
	}
	return lines
}

const (
	longestName = 60  // characters of a name that are looked at
	longestText = 400 // of a title or a sentence
)

// plain makes s one line of at most most characters that can be seen: blanks
// and control characters become single spaces, what cannot be printed is left
// out.
func plain(s string, most int) string {
	var kept []rune
	space := false
	for _, r := range s {
		if unicode.IsSpace(r) || unicode.IsControl(r) {
			space = len(kept) > 0
			continue
		}
		if !unicode.IsPrint(r) {
			continue
		}
		if space {
			kept, space = append(kept, ' '), false
		}
		kept = append(kept, r)
		if len(kept) > most {
			return strings.TrimRight(string(kept[:most-1]), " ") + "…"
		}
	}
	return string(kept)
}

// escape makes s fit to stand in an attribute or between tags.
func escape(s string) string { return html.EscapeString(s) }

// number writes v with the given decimals and a true minus sign, zero without
// one.
func number(v float64, decimals int) string {
	s := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	if v < 0 && strings.Trim(s, "0.") != "" {
		return "−" + s
	}
	return s
}

// length writes a length with its unit.
func length(v float64, unit string) string {
	if unit == "" {
		return number(v, 1)
	}
	return number(v, 1) + " " + unit
}

// count writes "1 shot", "3 shots".
func count(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + one + "s"
}
