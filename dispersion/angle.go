package dispersion

import "math"

// ShotAngle returns the direction in which a shot went, in radians clockwise
// from the target line: atan2(side, carry), in (-π, π].
func ShotAngle(p Point) float64 { return math.Atan2(p.X, p.Y) }
