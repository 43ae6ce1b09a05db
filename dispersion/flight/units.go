package flight

import "math"

// Units in terms of those of this package: 95 * MPH is a speed in m/s. All but
// InchOfMercury are exact by definition.
//
// Reference: A. Thompson, B. N. Taylor, Guide for the Use of the International
// System of Units, NIST Special Publication 811, 2008, Appendix B; the
// conventional inch of mercury is from memory.
const (
	Inch = 0.0254   // m
	Foot = 0.3048   // m
	Yard = 0.9144   // m
	Mile = 1609.344 // m

	MPH = Mile / 3600   // m/s
	KMH = 1000.0 / 3600 // m/s

	Ounce         = 0.028349523125 // kg, avoirdupois
	InchOfMercury = 3386.389       // Pa

	Degree = math.Pi / 180 // rad
	RPM    = math.Pi / 30  // rad/s
)
