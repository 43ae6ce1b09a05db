package compare

import (
	"fmt"
	"math"
)

// The smallest changes worth having, unless coach and pupil agree on others.
const (
	// SmallestSpread is the share by which the radius must shrink. Common
	// practice, no source.
	SmallestSpread = 0.20

	// SmallestMishitRate is the fall of the mishit rate, one ball in ten. Our
	// own choice, no source.
	SmallestMishitRate = 0.10
)

// SmallestCarry returns the smallest carry gain worth having: 5 yards, half the
// gap between two clubs, or 3.5 % of the carry where that is more. The result
// is in the unit of meanCarry, of which unitsPerYard make a yard: 1 for yards,
// 0.9144 for metres. Common practice, no source.
//
// Errors: *[ValueError] for a carry or unit that is not above 0 and finite.
func SmallestCarry(meanCarry, unitsPerYard float64) (float64, error) {
	for _, v := range []float64{meanCarry, unitsPerYard} {
		if !(v > 0) || math.IsInf(v, 1) {
			return 0, fmt.Errorf("compare: smallest carry gain: %w", &ValueError{Side: "given", Value: v, Reason: "a mean carry and a unit must be above 0"})
		}
	}
	smallest := max(5*unitsPerYard, 0.035*meanCarry)
	if math.IsInf(smallest, 1) {
		return 0, fmt.Errorf("compare: smallest carry gain: %w", &ValueError{Side: "given", Value: unitsPerYard, Reason: "too large"})
	}
	return smallest, nil
}
