package chart

import (
	"errors"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// ErrEmpty is returned where there is nothing to draw.
var ErrEmpty = errors.New("there is nothing to draw")

// An InputError says which part of the input cannot be drawn and why.
type InputError struct {
	Where   string // such as "stage 2, shot 5", counted from 1
	Problem string // and what would be right
}

func (e *InputError) Error() string { return "chart: " + e.Where + ": " + e.Problem }

// largest is the greatest size of a number that is drawn: far beyond any use,
// and far from where the arithmetic of a picture would overflow.
const largest = 1e9

func checkNumber(v float64, where, what string) error {
	if math.Abs(v) <= largest { // false for NaN
		return nil
	}
	return &InputError{where, fmt.Sprintf("the %s is %g: a picture needs numbers of at most %g in size", what, v, largest)}
}

// checkShots checks the landing points of one group.
func checkShots(points []dispersion.Point, mishit []bool, where string) error {
	if len(points) == 0 {
		return fmt.Errorf("chart: %s has no shots: leave it out: %w", where, ErrEmpty)
	}
	if mishit != nil && len(mishit) != len(points) {
		return &InputError{where, fmt.Sprintf("%d shots but %d marks for mishits: give one for each shot, or none", len(points), len(mishit))}
	}
	for i, p := range points {
		shot := fmt.Sprintf("%s, shot %d", where, i+1)
		if err := checkNumber(p.X, shot, "side"); err != nil {
			return err
		}
		if err := checkNumber(p.Y, shot, "carry"); err != nil {
			return err
		}
	}
	return nil
}
