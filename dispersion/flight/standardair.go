package flight

import "math"

// StandardAir is the standard atmosphere at one height.
type StandardAir struct {
	Height      float64 // geopotential, m
	Temperature float64 // K
	Pressure    float64 // Pa
	Density     float64 // kg/m³
	Sound       float64 // speed of sound, m/s
	Viscosity   float64 // Pa·s
}

// Constants of ISO 2533.
const (
	gravity        = 9.80665   // m/s²
	zeroCelsius    = 273.15    // K
	standardKelvin = 288.15    // K, at height 0
	standardPa     = 101325.0  // Pa, at height 0
	dryAir         = 287.05287 // J/(kg·K)
	lapse          = -0.0065   // K/m
	heatRatio      = 1.4       // of the specific heats
	earthRadius    = 6356766.0 // m, of the geopotential
)

// StandardAtmosphere returns the standard atmosphere at a geopotential height in
// metres from -2,000 to 11,000:
//
//	T = 288.15 - 0.0065·H,  p = 101325·(T/288.15)^(g/(0.0065·R)),  ρ = p/(R·T)
//
// It is a yardstick, not a forecast: the air of a day at the height of a course
// may be a tenth lighter or denser. [MoistAir] takes what was measured.
//
// Errors: *[RangeError].
//
// Reference: ISO 2533:1975, Standard Atmosphere.
func StandardAtmosphere(height float64) (StandardAir, error) {
	if err := within("height", height, -2000, 11000, "m"); err != nil {
		return StandardAir{}, err
	}
	return standard(height), nil
}

func standard(height float64) StandardAir {
	t := standardKelvin + lapse*height
	p := standardPa * math.Pow(t/standardKelvin, -gravity/(lapse*dryAir))
	return StandardAir{
		Height: height, Temperature: t, Pressure: p, Density: p / (dryAir * t),
		Sound: math.Sqrt(heatRatio * dryAir * t), Viscosity: viscosity(t),
	}
}

// Air returns what a ball feels of it.
func (a StandardAir) Air() Air { return Air{Density: a.Density, Viscosity: a.Viscosity} }

// Geopotential returns the geopotential height of a height above sea level,
// both in metres: r·z/(r+z) with r = 6,356,766 m. At the height of any course
// they differ by less than a metre in a thousand.
//
// Errors: *[RangeError] for a height outside -2,000 to 11,019 m.
//
// Reference: ISO 2533:1975, section 2.3 (section from memory).
func Geopotential(height float64) (float64, error) {
	if err := within("height", height, -2000, 11019, "m"); err != nil {
		return 0, err
	}
	return earthRadius * height / (earthRadius + height), nil
}
