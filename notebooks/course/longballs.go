package course

import "github.com/landfall-golf/landfall/dispersion"

// LongBalls returns the statistic that is the share of balls after that carry
// farther than so many yards, less the share before.
func LongBalls(yards float64) func(before, after []dispersion.Point) (float64, error) {
	share := func(balls []dispersion.Point) float64 {
		n := 0
		for _, p := range balls {
			if p.Y > yards {
				n++
			}
		}
		return float64(n) / float64(len(balls))
	}
	return func(before, after []dispersion.Point) (float64, error) { return share(after) - share(before), nil }
}
