package strokes

import (
	"fmt"
	"math"
)

// A GenericHole is the surroundings that a computed baseline plays in: a
// straight fairway of one width with rough on either side, trees beyond, and a
// round green with the flag in its middle. Lengths are in metres.
type GenericHole struct {
	Fairway     float64 // width
	Rough       float64 // width on either side, up to where recovery begins
	Green       float64 // radius
	Surround    float64 // how far around the green reaches what follows
	GreenSand   float64 // share of the surround that is sand
	GreenShort  float64 // share of the surround that is mown like the fairway
	FairwaySand float64 // share of the rough that is sand, along the fairway
}

// CommonHole is the hole used where none is stated: common sizes, from no
// source.
func CommonHole() GenericHole {
	return GenericHole{Fairway: 32, Rough: 18, Green: 13, Surround: 15, GreenSand: 0.2, GreenShort: 0.3, FairwaySand: 0.08}
}

func (h GenericHole) check() error {
	for _, c := range []struct {
		what         string
		v, low, high float64
	}{
		{"Fairway", h.Fairway, 1, 200},
		{"Rough", h.Rough, 0, 200},
		{"Green", h.Green, 3, 40},
		{"Surround", h.Surround, 0, 60},
		{"GreenSand", h.GreenSand, 0, 1},
		{"GreenShort", h.GreenShort, 0, math.Round((1-h.GreenSand)*1e9) / 1e9}, // 1 - 0.8 is a little less than 0.2
		{"FairwaySand", h.FairwaySand, 0, 1},
	} {
		if !(c.v >= c.low && c.v <= c.high) {
			return fmt.Errorf("strokes: hole: %s is %g, it must be from %g to %g: %w", c.what, c.v, c.low, c.high, ErrPlayer)
		}
	}
	return nil
}

// The grounds of a generic hole, each with its own mixture of lies.
const (
	onGreen = iota
	bySurround
	onFairway
	bySide
	inTrees
	numGrounds
)

// ground tells where a ball is that leaves so much and is so far to the side of
// the line.
func (h GenericHole) ground(left, side float64) int {
	switch {
	case left <= h.Green:
		return onGreen
	case left <= h.Green+h.Surround:
		return bySurround
	case side <= h.Fairway/2:
		return onFairway
	case side <= h.Fairway/2+h.Rough:
		return bySide
	}
	return inTrees
}
