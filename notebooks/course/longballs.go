package course

import (
	"context"
	"fmt"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

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

// LongBallsSentences says what resampling the demo lesson's headline tells about its
// long balls.
func LongBallsSentences(ctx context.Context, yards float64) ([]string, error) {
	l, err := datasets.DemoLesson()
	if err != nil {
		return nil, err
	}
	pair := l.Pairs()[0]
	before, err1 := pair.Before.Clean()
	after, err2 := pair.After.Clean()
	if err := allOf(err1, err2); err != nil {
		return nil, err
	}
	b, err := compare.Bootstrap(ctx, before, after, LongBalls(yards), compare.Options{})
	if err != nil {
		return nil, err
	}
	says := []string{fmt.Sprintf("The share of balls beyond %g yd changed by %+.2f; percentile %.2f to %.2f, BCa %.2f to %.2f.",
		yards, b.Estimate, b.Percentile.Low, b.Percentile.High, b.BCa.Low, b.BCa.High)}
	for _, w := range b.Warnings {
		says = append(says, w.Error()+".")
	}
	return says, nil
}
