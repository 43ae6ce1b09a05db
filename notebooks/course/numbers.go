package course

import (
	"errors"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

func carries(shots []dispersion.Point) []float64 {
	c := make([]float64, len(shots))
	for i, p := range shots {
		c[i] = p.Y
	}
	return c
}

// allOf joins what went wrong while several numbers of one row were found.
func allOf(errs ...error) error {
	if err := errors.Join(errs...); err != nil {
		return fmt.Errorf("course: %w", err)
	}
	return nil
}

func distance(a, b dispersion.Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

func mean(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}

// tenths writes a number with one decimal, and what rounds to nothing without a
// sign.
func tenths(v float64) string {
	if s := fmt.Sprintf("%.1f", v); s != "-0.0" {
		return s
	}
	return "0.0"
}
