package flight

import "math"

// Air is what a ball feels of the air.
type Air struct {
	Density   float64 // kg/m³
	Viscosity float64 // Pa·s
}

// SeaLevel is the standard air of ISO 2533 at height 0: 15 °C, 101,325 Pa, dry.
func SeaLevel() Air { return standard(0).Air() }

// check tells whether a ball can be flown through the air: from a fifth to
// twice that at sea level.
func (a Air) check() error {
	if err := within("density of the air", a.Density, 0.2, 2.5, "kg/m³"); err != nil {
		return err
	}
	return within("viscosity of the air", a.Viscosity, 1e-5, 3e-5, "Pa·s")
}

// viscosity returns that of dry air at a temperature in kelvin, by Sutherland's
// formula with the constants of ISO 2533. Vapour changes it by less than 1 %.
func viscosity(kelvin float64) float64 {
	return 1.458e-6 * kelvin * math.Sqrt(kelvin) / (kelvin + 110.4)
}
