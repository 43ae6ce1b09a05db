package chart

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	xfont "golang.org/x/image/font"
)

// A picture is an SVG read back: what a test can ask of it without knowing how
// it was drawn. Places are in points from the lower left corner.
type picture struct {
	root  xml.StartElement
	texts []svgText
	paths []svgPath
}

type svgText struct {
	x, y, size float64
	bold       bool
	text       string
}

type svgPath struct {
	d     string
	style map[string]string
}

func read(t testing.TB, f Figure) picture {
	t.Helper()
	svg, err := f.SVG()
	if err != nil {
		t.Fatal(err)
	}
	p, err := parse(svg)
	if err != nil {
		t.Fatalf("%v\n%s", err, svg)
	}
	return p
}

func parse(svg []byte) (picture, error) {
	if bytes.Contains(svg, []byte("NaN")) || bytes.Contains(svg, []byte("Inf")) {
		return picture{}, errors.New("a number in the SVG is not finite")
	}
	var p picture
	d := xml.NewDecoder(bytes.NewReader(svg))
	var open *svgText
	for {
		token, err := d.Token()
		if err == io.EOF {
			return p, nil
		}
		if err != nil {
			return p, err
		}
		switch e := token.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case "svg":
				p.root = e
			case "path":
				style := styleOf(e)
				if style["fill"] == "" {
					style["fill"] = "#000000" // what SVG takes it for
				}
				p.paths = append(p.paths, svgPath{attribute(e, "d"), style})
			case "text":
				style := styleOf(e)
				x, errX := strconv.ParseFloat(attribute(e, "x"), 64)
				y, errY := strconv.ParseFloat(attribute(e, "y"), 64)
				size, errSize := strconv.ParseFloat(strings.TrimSuffix(style["font-size"], "px"), 64)
				if err := errors.Join(errX, errY, errSize); err != nil {
					return p, err
				}
				p.texts = append(p.texts, svgText{x: x, y: -y, size: size, bold: style["font-weight"] == "bold"})
				open = &p.texts[len(p.texts)-1]
			case "g":
			default:
				return p, fmt.Errorf("an element <%s>, which no figure has", e.Name.Local)
			}
		case xml.CharData:
			if open != nil {
				open.text += string(e)
			}
		case xml.EndElement:
			open = nil
		}
	}
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func styleOf(e xml.StartElement) map[string]string {
	style := map[string]string{}
	for _, entry := range strings.Split(attribute(e, "style"), ";") {
		if key, value, ok := strings.Cut(entry, ":"); ok {
			style[key] = value
		}
	}
	return style
}

// box returns the box of a text: its width in the font of the layout, and the
// height from its descenders to its capitals.
func (x svgText) box() (left, bottom, right, top float64) {
	weight := xfont.WeightNormal
	if x.bold {
		weight = xfont.WeightBold
	}
	w := newPen(x.size, weight, ink).width(x.text)
	return x.x, x.y - 0.21*x.size, x.x + w, x.y + 0.73*x.size
}

// checkTexts fails if two texts overlap or one leaves the sheet.
func checkTexts(t *testing.T, f Figure, p picture) {
	t.Helper()
	for i, a := range p.texts {
		al, ab, ar, at := a.box()
		if al < 0 || ab < 0 || ar > f.Width || at > f.Height {
			t.Errorf("%q leaves the sheet: %.1f to %.1f across, %.1f to %.1f up, of %g by %g", a.text, al, ar, ab, at, f.Width, f.Height)
		}
		for _, b := range p.texts[:i] {
			bl, bb, br, bt := b.box()
			if al < br && bl < ar && ab < bt && bb < at {
				t.Errorf("%q and %q overlap", a.text, b.text)
			}
		}
	}
}

// count counts the paths with the given entries in their style.
func (p picture) count(entries ...string) int {
	n := 0
	for _, path := range p.paths {
		all := true
		for i := 0; i < len(entries); i += 2 {
			all = all && path.style[entries[i]] == entries[i+1]
		}
		if all {
			n++
		}
	}
	return n
}

func (p picture) has(text string) bool {
	for _, x := range p.texts {
		if x.text == text {
			return true
		}
	}
	return false
}

// corners returns the points of a path of straight lines.
func (p svgPath) corners() (x, y []float64) {
	for _, pair := range strings.FieldsFunc(p.d, func(r rune) bool { return strings.ContainsRune("MLZ", r) }) {
		a, b, ok := strings.Cut(pair, ",")
		u, errU := strconv.ParseFloat(a, 64)
		v, errV := strconv.ParseFloat(b, 64)
		if !ok || errU != nil || errV != nil {
			return nil, nil
		}
		x, y = append(x, u), append(y, v)
	}
	return x, y
}

// perUnit fits place = a + b·value to what stands on an axis and returns b and
// the largest departure from that line.
func perUnit(values, places []float64) (b, worst float64) {
	n := len(values)
	b = (places[n-1] - places[0]) / (values[n-1] - values[0])
	for i := range values {
		worst = max(worst, math.Abs(places[i]-places[0]-b*(values[i]-values[0])))
	}
	return b, worst
}
