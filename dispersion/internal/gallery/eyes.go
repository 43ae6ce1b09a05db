package main

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
)

// An eye is a way to see colours: a matrix on linear red, green and blue.
type eye struct {
	name   string
	matrix [3][3]float64
}

// eyes are those that a figure must be readable to. Grey is the relative
// luminance of IEC 61966-2-1 (sRGB). The two colour-blind eyes lack the
// long-wave and the middle-wave cones.
//
// Source: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A
// Physiologically-based Model for Simulation of Color Vision Deficiency", IEEE
// Transactions on Visualization and Computer Graphics 15(6), 2009, pp. 1291-1298,
// severity 1.0.
var eyes = []eye{
	{"colour", [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}},
	{"grey", [3][3]float64{{0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}}},
	{"protanopia", [3][3]float64{{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}},
	{"deuteranopia", [3][3]float64{{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}},
}

// see returns a PNG as the eye sees it.
func (e eye) see(picture []byte) ([]byte, error) {
	in, err := png.Decode(bytes.NewReader(picture))
	if err != nil {
		return nil, err
	}
	b := in.Bounds()
	out := image.NewNRGBA(b)
	seen := map[color.NRGBA]color.NRGBA{}
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			c := color.NRGBAModel.Convert(in.At(x, y)).(color.NRGBA)
			to, ok := seen[c]
			if !ok {
				to = e.colour(c)
				seen[c] = to
			}
			out.SetNRGBA(x, y, to)
		}
	}
	var buf bytes.Buffer
	err = png.Encode(&buf, out)
	return buf.Bytes(), err
}

// colour returns a colour as the eye sees it.
func (e eye) colour(c color.NRGBA) color.NRGBA {
	light := [3]float64{linear(c.R), linear(c.G), linear(c.B)}
	var out [3]uint8
	for i, row := range e.matrix {
		out[i] = encoded(row[0]*light[0] + row[1]*light[1] + row[2]*light[2])
	}
	return color.NRGBA{out[0], out[1], out[2], c.A}
}

// linear returns the light of an sRGB value, from 0 to 1 (IEC 61966-2-1).
func linear(v uint8) float64 {
	s := float64(v) / 255
	if s <= 0.04045 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}

// encoded returns the sRGB value of a light.
func encoded(light float64) uint8 {
	s := 12.92 * light
	if light > 0.0031308 {
		s = 1.055*math.Pow(light, 1/2.4) - 0.055
	}
	return uint8(math.Round(255 * min(1, max(0, s))))
}
