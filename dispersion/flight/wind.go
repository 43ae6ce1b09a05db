package flight

import "math"

// Wind is the wind over level ground, the zero value none. With a roughness it
// grows with the height z above where the ball lay by the law of logarithms,
//
//	w(z) = w(10 m) · ln(1 + z/z₀) / ln(1 + 10 m/z₀)
//
// the 1 keeping it from being below none near the ground. Below where the ball lay
// there is then no wind at all.
//
// Reference: J. Wieringa, "Updating the Davenport roughness classification",
// Journal of Wind Engineering and Industrial Aerodynamics 41, 1992, pp. 357-368
// (for the roughness of kinds of ground, from memory).
type Wind struct {
	Along  float64 // m/s at 10 m; from behind positive
	Across float64 // m/s at 10 m; toward the right positive

	// Roughness is z₀ in metres: 0.01 over mown grass, 0.1 over crops and bushes,
	// 0.5 among trees. 0 means the same wind at every height.
	Roughness float64
}

const windHeight = 10.0 // m, where weather stations measure

func (w Wind) check() error {
	for _, err := range []error{
		within("wind along", w.Along, -60, 60, "m/s"),
		within("wind across", w.Across, -60, 60, "m/s"),
		within("roughness", w.Roughness, 0, 2, "m"),
	} {
		if err != nil {
			return err
		}
	}
	return nil
}

// Conditions are what a ball flies through and where it comes down. Air left
// out is standard air at sea level.
type Conditions struct {
	Air     Air
	Wind    Wind
	Landing float64 // height of the ground where it lands above where it lay, m
}

func (c Conditions) resolved() (Conditions, error) {
	if c.Air == (Air{}) {
		c.Air = SeaLevel()
	}
	if err := c.Air.check(); err != nil {
		return c, err
	}
	if err := c.Wind.check(); err != nil {
		return c, err
	}
	return c, within("landing height", c.Landing, -500, 500, "m")
}

// profile returns how strong the wind is at a height, as a share of that at 10 m.
func (w Wind) profile() func(z float64) float64 {
	if w.Roughness == 0 || w.Along == 0 && w.Across == 0 {
		return nil
	}
	scale := 1 / math.Log1p(windHeight/w.Roughness)
	return func(z float64) float64 {
		if z <= 0 {
			return 0
		}
		return scale * math.Log1p(z/w.Roughness)
	}
}
