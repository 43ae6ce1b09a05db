package strokes

import (
	"fmt"
	"math"
)

// A OnePutter gives the share of putts that are holed from a distance.
type OnePutter interface {
	// OnePutt returns the share of putts from a distance in metres that drop.
	// Within 0.0326 m the ball has dropped, and the share is 1.
	//
	// Errors: *[RangeError] for what is no distance; [ErrModel] for parameters
	// out of range.
	OnePutt(distance float64) (float64, error)
}

// An AngleModel holes the putts that start within the angle which the hole
// spans, whatever their pace. With hole and ball of radius R and r, a putt of
// length x drops with probability
//
//	p = 2Φ(asin((R-r)/x)/σ) - 1
//
// It assumes that no putt is short or too fast, so long putts are holed too
// often.
//
// Reference: A. Gelman, D. Nolan, "A Probability Model for Golf Putting",
// Teaching Statistics 24(3), 2002, pp. 93-95.
type AngleModel struct {
	Angle float64 // σ, the standard deviation of the direction, radians
}

// OnePutt implements [OnePutter].
func (m AngleModel) OnePutt(distance float64) (float64, error) {
	if err := m.check(); err != nil {
		return 0, err
	}
	return onePutt(distance, m.shares)
}

func (m AngleModel) check() error {
	if m.Angle > 0 && m.Angle <= maxPuttAngle {
		return nil
	}
	return fmt.Errorf("strokes: an angle of %g radians: %w", m.Angle, ErrModel)
}

func (m AngleModel) shares(distance float64) (holed, missed float64) {
	return between(missAngle(distance) / m.Angle)
}

// An AngleDistanceModel holes the putts that start within the angle which the
// hole spans and have the right pace: a putt of length x is hit to run o past the
// hole, and drops if it would run past it by less than t. Its run has a standard
// deviation of τ times the run that is meant:
//
//	p = pₐ(x) · [Φ((t-o)/((x+o)τ)) - Φ(-o/((x+o)τ))]   o = 1 ft, t = 3 ft
//
// with pₐ as in [AngleModel].
//
// Reference: A. Gelman, "Model building and expansion for golf putting", Stan
// case studies 6, 2019, after M. Broadie.
type AngleDistanceModel struct {
	Angle    float64 // σ, radians
	Distance float64 // τ, a share of the run
}

// How far past the hole a putt is meant to run, and how far past it may run and
// still drop, in metres: 1 and 3 feet, as in the reference.
const (
	overshot  = 0.3048
	tolerance = 0.9144
)

// Bounds of the parameters: half a radian, 29°, and half of the length. Nobody
// who keeps count putts as wildly.
const (
	maxPuttAngle = 0.5
	maxPuttShare = 0.5
)

// OnePutt implements [OnePutter].
func (m AngleDistanceModel) OnePutt(distance float64) (float64, error) {
	if err := m.check(); err != nil {
		return 0, err
	}
	return onePutt(distance, m.shares)
}

func (m AngleDistanceModel) check() error {
	if m.Angle > 0 && m.Angle <= maxPuttAngle && m.Distance > 0 && m.Distance <= maxPuttShare {
		return nil
	}
	return fmt.Errorf("strokes: an angle of %g radians with a distance spread of %g: %w", m.Angle, m.Distance, ErrModel)
}

func (m AngleDistanceModel) shares(distance float64) (holed, missed float64) {
	aimed, wide := between(missAngle(distance) / m.Angle)
	spread := (distance + overshot) * m.Distance
	short, long := normalTail(overshot/spread), normalTail((tolerance-overshot)/spread)
	return aimed * (1 - short - long), wide + aimed*(short+long)
}

// A LogisticModel is the curve that a general-purpose program would fit:
//
//	p = 1/(1 + exp(-(a + b·x)))   a = Intercept, b = Slope per metre
//
// It knows nothing of hole and ball and is here for comparison.
type LogisticModel struct {
	Intercept float64
	Slope     float64
}

// OnePutt implements [OnePutter].
func (m LogisticModel) OnePutt(distance float64) (float64, error) {
	if math.IsNaN(m.Intercept) || math.IsInf(m.Intercept, 0) || !(m.Slope <= 0) || math.IsInf(m.Slope, 0) {
		return 0, fmt.Errorf("strokes: an intercept of %g with a slope of %g: %w", m.Intercept, m.Slope, ErrModel)
	}
	return onePutt(distance, m.shares)
}

func (m LogisticModel) shares(distance float64) (holed, missed float64) {
	e := math.Exp(-math.Abs(m.Intercept + m.Slope*distance))
	large, small := 1/(1+e), e/(1+e)
	if m.Intercept+m.Slope*distance >= 0 {
		return large, small
	}
	return small, large
}

func onePutt(distance float64, shares func(float64) (holed, missed float64)) (float64, error) {
	if !(distance >= 0 && distance <= maxDistance) {
		return 0, rangeError(Green, distance, 0, maxDistance)
	}
	if distance <= clearance {
		return 1, nil
	}
	holed, _ := shares(distance)
	return holed, nil
}

// missAngle returns the angle off the line at which a putt just misses.
func missAngle(distance float64) float64 { return math.Asin(min(1, clearance/distance)) }

// between returns the shares of normal values within and beyond z standard
// deviations, each with all its digits.
func between(z float64) (within, beyond float64) {
	return math.Erf(z / math.Sqrt2), math.Erfc(z / math.Sqrt2)
}

// normalTail returns 1 - Φ(z).
func normalTail(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }
