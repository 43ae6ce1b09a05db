package flight

import (
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// A MeanFlight is the mean of the flights of some shots, at equal shares of
// their times in the air, and how they scatter about it.
type MeanFlight struct {
	Spots            []Spot    // means of time, side, carry and height
	SideSD, HeightSD []float64 // of each spot, m
	CarrySD          []float64 // of each spot, m
	N                int
}

// meanSpots is how many spots a mean flight has.
const meanSpots = 81

// MeanFlightOf flies shots with a model and returns the mean of the flights. It is
// a picture of the launches: what the model does not know of a shot is not in it,
// and where the ball was measured to land need not be where it ends.
//
// It takes two shots. Errors: *[dispersion.TooFewError]; *[ShotError]; those of
// [Model.Fly].
func MeanFlightOf(shots []Shot, m Model, c Conditions) (MeanFlight, error) {
	if err := checkShots(shots, 2, "a mean flight"); err != nil {
		return MeanFlight{}, err
	}
	var ground, air [meanSpots]dispersion.Moments // X side, Y carry; X time, Y height
	for i, s := range shots {
		_, path, err := m.Path(s.Launch, c, meanSpots)
		if err != nil {
			return MeanFlight{}, &ShotError{Index: i, Err: err}
		}
		for k, spot := range path {
			ground[k].Add(dispersion.Point{X: spot.Side, Y: spot.Carry})
			air[k].Add(dispersion.Point{X: spot.Time, Y: spot.Height})
		}
	}
	mean := MeanFlight{N: len(shots)}
	for k := range meanSpots {
		g, a := ground[k].Mean, air[k].Mean
		mean.Spots = append(mean.Spots, Spot{Time: a.X, Side: g.X, Carry: g.Y, Height: a.Y})
		mean.SideSD = append(mean.SideSD, sd(ground[k].SXX, len(shots)))
		mean.CarrySD = append(mean.CarrySD, sd(ground[k].SYY, len(shots)))
		mean.HeightSD = append(mean.HeightSD, sd(air[k].SYY, len(shots)))
	}
	return mean, nil
}

func sd(squares float64, n int) float64 { return math.Sqrt(squares / float64(n-1)) }
