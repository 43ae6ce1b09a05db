package chart

import (
	"bytes"
	"errors"
	"image/png"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// A Figure is a finished picture. It is safe for concurrent use and draws the
// same bytes every time.
type Figure struct {
	Title         string  // as drawn: what to see
	Width, Height float64 // in points, 72 to the inch

	alt   string
	paint func(draw.Canvas)
}

// errBlank is what drawing the zero Figure returns.
var errBlank = errors.New("chart: an empty figure: make one with a function of this package")

// Alt returns what is to be seen in words, with the numbers, for those who do
// not see the picture.
func (f Figure) Alt() string { return f.alt }

// pixelsPerInch of a PNG: twice the 96 that a page takes for an inch.
const pixelsPerInch = 192

// SVG returns the figure as one svg element with its text as text. It needs
// nothing from outside: the fonts named are those with the widths that the
// layout was made with, and any sans-serif will do in their place.
func (f Figure) SVG() ([]byte, error) {
	if f.paint == nil {
		return nil, errBlank
	}
	canvas := vgsvg.New(vg.Length(f.Width), vg.Length(f.Height))
	f.paint(draw.New(canvas))
	var buf bytes.Buffer
	if _, err := canvas.WriteTo(&buf); err != nil {
		return nil, err
	}
	return finishSVG(buf.Bytes(), f.alt), nil
}

// PNG returns the figure at two pixels for each pixel of the page.
func (f Figure) PNG() ([]byte, error) {
	if f.paint == nil {
		return nil, errBlank
	}
	canvas := vgimg.NewWith(vgimg.UseWH(vg.Length(f.Width), vg.Length(f.Height)), vgimg.UseDPI(pixelsPerInch))
	f.paint(draw.New(canvas))
	var buf bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := encoder.Encode(&buf, canvas.Image()); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

// finishSVG makes the drawing fit to be put into a page: it drops the XML
// declaration, gives the picture its words and the fonts a fallback.
func finishSVG(svg []byte, alt string) []byte {
	if at := bytes.Index(svg, []byte("<svg ")); at > 0 {
		svg = svg[at:]
	}
	open := `<svg role="img" aria-label="` + escape(alt) + `" `
	svg = append([]byte(open), svg[len("<svg "):]...)
	// A label holds no bare quotation mark, so this meets style attributes only.
	return bytes.ReplaceAll(svg, []byte(`style="font-family:Liberation Sans;`),
		[]byte(`style="font-family:Liberation Sans,Arimo,Helvetica,Arial,sans-serif;`))
}

// A sheet is a figure in the making, filled from the top down.
type sheet struct {
	y     float64 // used so far, from the top
	parts []part
}

// A part paints on the canvas of its own height and the full width.
type part struct {
	top, height float64
	paint       func(draw.Canvas)
}

const (
	sheetWidth  = 340.0 // points: a phone of 360 pixels shows it at three quarters
	sheetMargin = 10.0
	textWidth   = sheetWidth - 2*sheetMargin
)

func newSheet() *sheet { return &sheet{y: sheetMargin} }

func (s *sheet) skip(points float64) { s.y += points }

func (s *sheet) add(height float64, paint func(draw.Canvas)) {
	s.parts = append(s.parts, part{s.y, height, paint})
	s.y += height
}

// prose adds a paragraph, wrapped to the sheet and cut after most lines.
func (s *sheet) prose(p pen, text string, most int) {
	for _, l := range p.wrap(text, textWidth, most) {
		s.add(p.leading(), func(c draw.Canvas) {
			p.write(c, c.Min.X+sheetMargin, c.Max.Y-vg.Length(p.size), l)
		})
	}
}

func (s *sheet) figure(title, alt string) Figure {
	height, parts := math.Ceil(s.y+sheetMargin), s.parts
	return Figure{Title: title, Width: sheetWidth, Height: height, alt: alt, paint: func(c draw.Canvas) {
		c.SetColor(paper)
		c.Fill(c.Rectangle.Path())
		for _, p := range parts {
			p.paint(draw.Crop(c, 0, 0, vg.Length(height-p.top-p.height), -vg.Length(p.top)))
		}
	}}
}
