package flight

import (
	"fmt"
	"math"
)

// HumidAir is the air of a day, from what a weather station says.
type HumidAir struct {
	Celsius  float64 // temperature, °C
	Pressure float64 // where the ball is, not reduced to sea level; Pa
	Humidity float64 // relative, a fraction

	Density         float64 // kg/m³
	Viscosity       float64 // Pa·s
	VapourFraction  float64 // mole fraction of water vapour
	Compressibility float64 // Z

	// Warnings tell that the formula was published for a narrower range.
	Warnings []error
}

// carbonDioxide is the mole fraction that the formula takes for granted; 0.0001
// more makes the air denser by 4 parts in 100,000.
const carbonDioxide = 0.0004

// MoistAir returns the density of air of a temperature in °C, a pressure in Pa
// and a relative humidity in [0, 1], by the formula CIPM-2007:
//
//	ρ = p·Ma/(Z·R·T) · (1 - x·(1 - Mv/Ma))
//
// with x the mole fraction of vapour and Z the compressibility. Damp air is
// lighter than dry air, by 1 % on a hot day. The misreading to prevent: weather
// reports reduce the pressure to sea level; what counts is that at the place.
//
// Errors: *[RangeError] outside -40 to 60 °C, 30,000 to 110,000 Pa and a
// humidity of 0 to 1. Warnings: [ErrExtrapolated] outside 15 to 27 °C and
// 60,000 to 110,000 Pa, for which the formula is stated; the law of ideal gases
// agrees with it to 1.5 parts in 1,000 there too.
//
// Reference: A. Picard, R. S. Davis, M. Gläser, K. Fujii, "Revised formula for
// the density of moist air (CIPM-2007)", Metrologia 45, 2008, pp. 149-155.
func MoistAir(celsius, pressure, humidity float64) (HumidAir, error) {
	for _, err := range []error{
		within("temperature", celsius, -40, 60, "°C"),
		within("pressure", pressure, 30000, 110000, "Pa"),
		within("relative humidity", humidity, 0, 1, "(a fraction)"),
	} {
		if err != nil {
			return HumidAir{}, err
		}
	}
	const (
		molarGas = 8.314472    // J/(mol·K)
		vapour   = 18.01528e-3 // kg/mol
	)
	dry := (28.96546 + 12.011*(carbonDioxide-0.0004)) * 1e-3 // kg/mol
	t, kelvin := celsius, celsius+zeroCelsius
	enhancement := 1.00062 + 3.14e-8*pressure + 5.6e-7*t*t
	x := humidity * enhancement * saturation(kelvin) / pressure
	p := pressure / kelvin
	z := 1 - p*(1.58123e-6-2.9331e-8*t+1.1043e-10*t*t+(5.707e-6-2.051e-8*t)*x+(1.9898e-4-2.376e-6*t)*x*x) + p*p*(1.83e-11-0.765e-8*x*x)
	a := HumidAir{
		Celsius: celsius, Pressure: pressure, Humidity: humidity,
		Density:        pressure * dry / (z * molarGas * kelvin) * (1 - x*(1-vapour/dry)),
		Viscosity:      viscosity(kelvin),
		VapourFraction: x, Compressibility: z,
	}
	if celsius < 15 || celsius > 27 || pressure < 60000 {
		a.Warnings = []error{fmt.Errorf("the density of moist air is stated for 15 to 27 °C and 60,000 to 110,000 Pa, this is %g °C and %g Pa: %w", celsius, pressure, ErrExtrapolated)}
	}
	return a, nil
}

// saturation returns the vapour pressure of water, in Pa, at a temperature in
// kelvin.
func saturation(kelvin float64) float64 {
	return math.Exp(1.2378847e-5*kelvin*kelvin - 1.9121316e-2*kelvin + 33.93711047 - 6.3431645e3/kelvin)
}

// Air returns what a ball feels of it.
func (a HumidAir) Air() Air { return Air{Density: a.Density, Viscosity: a.Viscosity} }
