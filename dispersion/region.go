package dispersion

import "fmt"

// A Region is an area of the plane of side and carry, its edge included.
type Region interface {
	// Area is in the square of the points' unit; 0 for a line or a point.
	Area() float64
	// Contains tells whether p lies in the region or, to rounding, on its edge.
	Contains(p Point) bool
	// Outline returns the edge as points to be joined in turn,
	// counter-clockwise and closed by the first. A curve is drawn with n of
	// them; straight edges need no more than their corners, whatever n. It is
	// nil for n below 1.
	Outline(n int) []Point
	// Holds says in words which share of what the region holds.
	Holds() string
}

// Holds says what the ellipse holds, such as "the next shot, with probability
// 0.95".
func (e Ellipse) Holds() string {
	if e.Kind == ToleranceRegion {
		return fmt.Sprintf("at least %g of all shots, with confidence %g", e.Level, e.Confidence)
	}
	return fmt.Sprintf(e.Kind.holds(), e.Level)
}

// holds returns what a region of this kind holds, with a place for the level.
func (k RegionKind) holds() string {
	switch k {
	case MeanRegion:
		return "the true mean, with confidence %g"
	case MedianRegion:
		return "the true geometric median, with confidence %g"
	case ShiftRegion:
		return "the true shift, with confidence %g"
	case PredictionRegion:
		return "the next shot, with probability %g"
	case MCDMeanRegion:
		return "the true centre of the good shots, with confidence %g"
	case MCDRegion:
		return "the next good shot, with probability %g"
	case TMeanRegion:
		return "the true centre, with confidence %g"
	case TRegion:
		return "the next shot, with probability %g"
	}
	return "an unknown share (%g)"
}
