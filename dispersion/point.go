package dispersion

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Point is where a ball first landed: X is the side, right of the target line
// positive, and Y the carry along it. The unit is the caller's. Points need no
// golf: any plane will do.
type Point = r2.Vec

// MaxCoordinate is the largest size of a coordinate that a [Group] takes.
// Beyond it sums of squares would overflow.
const MaxCoordinate = 1e150

// A PointError names a point that cannot be used.
type PointError struct {
	Index int   // of the point in the input, from 0
	Point Point // as given
}

func (e *PointError) Error() string {
	what := fmt.Sprintf("is larger than %g", MaxCoordinate)
	for _, v := range []float64{e.Point.X, e.Point.Y} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			what = "is not a finite number"
		}
	}
	return fmt.Sprintf("point %d (side %g, carry %g) %s: leave it out or correct it", e.Index, e.Point.X, e.Point.Y, what)
}

// usable tells whether a coordinate and the sums of its squares are finite.
func usable(v float64) bool { return math.Abs(v) <= MaxCoordinate }

func checkPoints(points []Point) error {
	for i, p := range points {
		if !usable(p.X) || !usable(p.Y) {
			return fmt.Errorf("dispersion: %w", &PointError{Index: i, Point: p})
		}
	}
	return nil
}

// jsonPoint is how every result writes a point.
type jsonPoint struct {
	Side  float64 `json:"side"`
	Carry float64 `json:"carry"`
}
