package flight

import "math"

// A Ball is what flies. The zero value is the ball of the rules of the game, as
// heavy and as small as they allow: 45.93 g and 42.67 mm.
type Ball struct {
	Mass     float64 // kg; 0 means that of the rules
	Diameter float64 // m; 0 means that of the rules
}

// The ball of the rules of the game: at most 1.620 oz, at least 1.680 in.
const (
	ruleMass     = 0.04593 // kg
	ruleDiameter = 0.04267 // m
)

func (b Ball) resolved() (Ball, error) {
	if b.Mass == 0 {
		b.Mass = ruleMass
	}
	if b.Diameter == 0 {
		b.Diameter = ruleDiameter
	}
	if err := within("mass of the ball", b.Mass, 0.01, 0.1, "kg"); err != nil {
		return b, err
	}
	return b, within("diameter of the ball", b.Diameter, 0.02, 0.1, "m")
}

func (b Ball) area() float64 { return math.Pi / 4 * b.Diameter * b.Diameter }
