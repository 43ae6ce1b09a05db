package dispersion

import (
	"fmt"
	"math"

	"github.com/montanaflynn/stats"
)

// madScale makes the median absolute deviation of many normal values equal to
// their standard deviation: 1/Φ⁻¹(3/4), to the digits in general use.
const madScale = 1.4826

// ScaledMAD returns a standard deviation that wild values do not move: the
// median absolute deviation from the median, times 1.4826,
//
//	1.4826 · median |x - median(x)|
//
// in the unit of the values. Up to half of the values may be wild before it
// breaks down. It is 0 where more than half of the values are equal. For a few
// values it is too small on average, by a sixth at n = 5.
//
// Errors: *[TooFewError] for no values; an error naming the first value that is
// not a finite number. One value gives 0.
//
// Reference: F. R. Hampel, "The Influence Curve and Its Role in Robust
// Estimation", Journal of the American Statistical Association 69(346), 1974,
// pp. 383-393.
func ScaledMAD(values []float64) (float64, error) {
	centre, err := Median(values)
	if err != nil {
		return 0, err
	}
	away := make([]float64, len(values))
	for i, v := range values {
		away[i] = math.Abs(v - centre)
	}
	m, err := Median(away)
	return madScale * m, err
}

// Median returns the middle value, or the mean of the two middle ones.
//
// Errors: *[TooFewError] for no values; an error naming the first value that is
// not finite, or beyond twice [MaxCoordinate] in size.
func Median(values []float64) (float64, error) {
	if len(values) == 0 {
		return 0, tooFew(0, 1, "a median")
	}
	for i, v := range values {
		if !(math.Abs(v) <= 2*MaxCoordinate) { // twice: differences of coordinates come here too
			return 0, fmt.Errorf("dispersion: value %d is %g: a median needs finite numbers", i, v)
		}
	}
	return stats.Median(values)
}
