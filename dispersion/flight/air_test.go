package flight

import (
	"errors"
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.12g, want %.12g to %g", what, got, want, tolerance)
	}
}

// Source: ISO 2533:1975 (the same as ICAO Doc 7488), the printed tables; the
// values are those of its formulas with two more digits, computed apart.
func TestStandardAtmosphereTable(t *testing.T) {
	for _, row := range []struct{ height, kelvin, pascal, density, sound float64 }{
		{-1000, 294.65, 113929.09, 1.346996, 344.1107},
		{0, 288.15, 101325.00, 1.225000, 340.2940},
		{500, 284.90, 95460.84, 1.167269, 338.3695},
		{1000, 281.65, 89874.56, 1.111643, 336.4340},
		{1500, 278.40, 84555.99, 1.058067, 334.4873},
		{2000, 275.15, 79495.20, 1.006490, 332.5292},
		{3000, 268.65, 70108.53, .909122, 328.5779},
		{5000, 255.65, 54019.89, .736116, 320.5294},
		{11000, 216.65, 22632.04, .363918, 295.0695},
	} {
		a, err := StandardAtmosphere(row.height)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "temperature", a.Temperature, row.kelvin, 1e-9)
		near(t, "pressure", a.Pressure, row.pascal, .5)
		near(t, "density", a.Density, row.density, 2e-6)
		near(t, "speed of sound", a.Sound, row.sound, 1e-4)
	}
}

// Source: ISO 2533:1975: a height of 1,000 m above sea level, and a mile of
// geopotential height, by its formulas, computed apart; the viscosity at height
// 0, 1.7894e-5 Pa·s, is printed there.
func TestStandardAtmosphereElsewhere(t *testing.T) {
	h, err := Geopotential(1000)
	if err != nil {
		t.Fatal(err)
	}
	a, err := StandardAtmosphere(h)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "pressure at 1000 m", a.Pressure, 89876.278, .5)
	near(t, "density at 1000 m", a.Density, 1.111660, 2e-6)
	if a, err = StandardAtmosphere(Mile); err != nil {
		t.Fatal(err)
	}
	near(t, "pressure at a mile", a.Pressure, 83427.58, .5)
	near(t, "density at a mile", a.Density, 1.046619, 2e-6)
	near(t, "viscosity", SeaLevel().Viscosity, 1.7894e-5, 5e-10)
}

// Source: A. Picard et al., "Revised formula for the density of moist air
// (CIPM-2007)", Metrologia 45, 2008: its formula and constants in a program of
// its own, not kept; the saturation pressure at 20 °C is 2339.16 Pa by it.
func TestMoistAirTable(t *testing.T) {
	for _, row := range []struct{ celsius, pascal, humidity, density, vapour, z float64 }{
		{20, 101325, .5, 1.19931, .0115893, .999615},
		{20, 101325, 0, 1.20456, 0, .999643},
		{15, 101325, 0, 1.22552, 0, .999592},
		{25, 101325, .5, 1.17732, .0157065, .999651},
		{10, 101325, .5, 1.24438, .00608365, .999523},
		{23, 101325, .5, 1.18608, .0139276, .999637},
		{20, 100000, .5, 1.18356, .0117424, .999619},
		{35, 84000, .3, .942617, .0201824, .999773},
	} {
		a, err := MoistAir(row.celsius, row.pascal, row.humidity)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "density", a.Density, row.density, 1e-5)
		near(t, "vapour", a.VapourFraction, row.vapour, 1e-6)
		near(t, "compressibility", a.Compressibility, row.z, 1e-6)
		outside := row.celsius < 15 || row.celsius > 27
		if warned := len(a.Warnings) == 1 && errors.Is(a.Warnings[0], ErrExtrapolated); warned != outside || len(a.Warnings) > 1 {
			t.Errorf("at %g °C and %g Pa there are the warnings %v", row.celsius, row.pascal, a.Warnings)
		}
	}
	near(t, "saturation", saturation(293.15), 2339.16, .005)
}

// The law of ideal gases, ρ = (p - 0.378·e)/(R·T), is what the formula refines.
func TestMoistAirIsNearlyIdeal(t *testing.T) {
	for celsius := -40.0; celsius <= 60; celsius += 5 {
		for _, humidity := range []float64{0, .4, 1} {
			for _, pressure := range []float64{60000, 95000, 110000} {
				a, err := MoistAir(celsius, pressure, humidity)
				if err != nil {
					t.Fatal(err)
				}
				kelvin := celsius + zeroCelsius
				ideal := (pressure - .378*humidity*saturation(kelvin)) / (287.05 * kelvin)
				near(t, "density", a.Density, ideal, 1.5e-3*ideal)
			}
		}
	}
}

func TestAirRefuses(t *testing.T) {
	var out *RangeError
	for _, height := range []float64{-2001, 11001, math.NaN(), math.Inf(1)} {
		if _, err := StandardAtmosphere(height); !errors.As(err, &out) || out.Of != "height" {
			t.Errorf("height %g: %v", height, err)
		}
		if _, err := Geopotential(20 * height); !errors.As(err, &out) {
			t.Errorf("height %g: %v", 20*height, err)
		}
	}
	for _, w := range [][3]float64{{61, 1e5, .5}, {20, 1013, .5}, {20, 1e5, 50}, {20, 1e5, -.1}, {math.NaN(), 1e5, .5}, {20, math.NaN(), .5}, {20, 1e5, math.NaN()}} {
		if _, err := MoistAir(w[0], w[1], w[2]); !errors.As(err, &out) {
			t.Errorf("%v: %v", w, err)
		}
	}
}

// Source: NIST Special Publication 811, Appendix B, and the agreement of 1959 on
// yard and pound: 317 yd are 289.8648 m, 120, 125 and 183 mph are 53.6448, 55.88
// and 81.80832 m/s; 255 ft/s are 77.724 m/s; 1.620 oz and 1.680 in are the
// weight and the diameter of the rules of the game, to their digits in grams
// and millimetres.
func TestUnits(t *testing.T) {
	near(t, "317 yd", 317*Yard, 289.8648, 1e-12*289)
	near(t, "120 mph", 120*MPH, 53.6448, 1e-12*53)
	near(t, "125 mph", 125*MPH, 55.88, 1e-12*55)
	near(t, "183 mph", 183*MPH, 81.80832, 1e-12*81)
	near(t, "255 ft/s", 255*Foot, 77.724, 1e-12*77)
	near(t, "1.620 oz", 1.620*Ounce, .04593, 5e-6)
	near(t, "1.680 in", 1.680*Inch, .04267, 5e-6)
	near(t, "36 km/h", 36*KMH, 10, 1e-14)
	near(t, "180°", 180*Degree, math.Pi, 1e-15)
	near(t, "60 rpm", 60*RPM, 2*math.Pi, 1e-15)
	near(t, "29.92 inHg", 29.9213*InchOfMercury, 101325, 1)
}
