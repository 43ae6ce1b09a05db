package course

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// The levels of the two intervals that are asked in the blind test. Each at the
// first, they raise a false alarm together in about one pair of twenty; each at
// the second in about one of five.
const (
	blindLevel = 0.975
	boldLevel  = 0.90
)

// intervals tells whether the carry gain or the ratio of spreads of a pair leaves
// out "nothing changed" at the given level.
func (p blindPair) intervals(ctx context.Context, level float64) (carry, spread bool, err error) {
	before, err1 := dispersion.NewGroup(p.Before)
	after, err2 := dispersion.NewGroup(p.After)
	if err := allOf(err1, err2); err != nil {
		return false, false, err
	}
	o := compare.Options{Level: level, Resamples: 1} // the intervals need no resamples
	gain, err1 := compare.CarryGain(ctx, before, after, o)
	ratio, err2 := compare.SpreadRatio(ctx, before, after, o)
	return !holds(gain, 0), !holds(ratio, 1), allOf(err1, err2)
}

// BlindBalls says how many balls would have helped: how often the two intervals
// see each kind of change, and raise a false alarm, with so many balls a pattern;
// and how often they are right if they may raise a false alarm in one pair of five.
func BlindBalls(ctx context.Context, sizes []int, pairs int, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("The same test taken by the two intervals, %d fresh pairs of each kind a row, of 100. Right in all: half of the pairs unchanged, as in the test. Bold: at %.0f %%, so that about one unchanged pair in five raises a false alarm.", pairs, 100*boldLevel),
		Header:  []string{"Balls each", "Longer, seen", "Tighter, seen", "Same swing, false alarm", "Right in all", "Right in all, if bold"},
	}
	for _, n := range sizes {
		r := random(seed, 130+uint64(n)) // by the balls, so that a row is the same in any table
		var seen, bold seenOf
		for range pairs {
			for _, c := range []change{unchanged, longer, tighter} {
				p := blindPair{chart.Pair{Before: OneSwing.Draw(r, n), After: c.after().Draw(r, n)}, c}
				carry, spread, err1 := p.intervals(ctx, blindLevel)
				boldCarry, boldSpread, err2 := p.intervals(ctx, boldLevel)
				if err := allOf(err1, err2); err != nil {
					return t, err
				}
				seen[c] += 100 * float64(one(carry || spread)) / float64(pairs)
				bold[c] += 100 * float64(one(boldCarry || boldSpread)) / float64(pairs)
			}
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(n), fmt.Sprintf("%.0f", seen[longer]), fmt.Sprintf("%.0f", seen[tighter]),
			fmt.Sprintf("%.0f", seen[unchanged]), fmt.Sprintf("%.0f", seen.right()), fmt.Sprintf("%.0f", bold.right())})
	}
	return t, nil
}

// seenOf is how many pairs of a hundred of each kind were called changed.
type seenOf [3]float64

// right is how many of a hundred pairs are called rightly where half are
// unchanged.
func (s seenOf) right() float64 { return (100-s[unchanged])/2 + (s[longer]+s[tighter])/4 }

// BlindPlan says what a plan would have said beforehand, for one question alone
// at 95 %.
func BlindPlan(power float64) ([]string, error) {
	carry, err1 := compare.BallsForCarry(OneSwing.SD.Y, BlindGain, power, 0.95)
	spread, err2 := compare.BallsForSpread(BlindRadius, power, 0.95)
	if err := allOf(err1, err2); err != nil {
		return nil, err
	}
	return []string{
		fmt.Sprintf("To see %g yd of carry at σ = %g yd in %.0f of 100 lessons it takes %d balls a side.", BlindGain, OneSwing.SD.Y, math.Round(100*power), carry),
		fmt.Sprintf("To see a radius of %.0f %% of the old one as often, it takes %d.", 100*BlindRadius, spread),
	}, nil
}
