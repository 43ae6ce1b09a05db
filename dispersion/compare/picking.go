package compare

import (
	"context"
	"fmt"
	"math"
	"slices"
)

// A PickRule is a way in which shots come to be shown and others not.
type PickRule int

const (
	// BestShots: the longest Keep of Of shots.
	BestShots PickRule = iota + 1
	// LastShots: the last shots of Of, as many as look best but at least Keep.
	// The last Keep, settled beforehand, are no picking at all.
	LastShots
	// BestStage: the longest of Of stages of Keep shots each.
	BestStage
	// StoppedWhenGood: the stage ended after the shot at which its mean looked
	// best, after Keep shots at the earliest and Of at the latest.
	StoppedWhenGood
)

// A Picking says how the shots shown were chosen after they had been hit.
type Picking struct {
	Rule     PickRule // how they were chosen
	Keep, Of int      // as the rule says
}

// maxPicked is the most shots or stages that a picking may choose from.
const maxPicked = 100

func (p Picking) check() error {
	ok := p.Keep >= 1 && p.Of >= 1 && p.Keep <= maxPicked && p.Of <= maxPicked
	if p.Rule != BestStage {
		ok = ok && p.Keep <= p.Of
	}
	if !ok || p.Rule < BestShots || p.Rule > StoppedWhenGood {
		return fmt.Errorf("compare: picking by rule %d, %d of %d: %w", p.Rule, p.Keep, p.Of, ErrPicking)
	}
	return nil
}

// shots is how many shots are hit for one picking.
func (p Picking) shots() int {
	if p.Rule == BestStage {
		return p.Keep * p.Of
	}
	return p.Of
}

// PickInflation returns how much longer the shots picked look than they are, in
// standard deviations of single shots, when nothing has changed at all: the mean
// of what is picked, on average, minus the mean of what was hit.
//
//	BestShots        mean of the expected largest Keep of Of normal order statistics
//	BestStage        expected largest of Of, over √Keep
//	LastShots,       expected largest of the means of the first (or the last)
//	StoppedWhenGood  Keep, Keep+1, … Of shots; the two rules are mirror images
//
// The best three of ten look 1.065 standard deviations longer; the best of four
// stages of ten looks 0.33 better than their mean, and twice that better than
// the worst of them; a stage ended between ball 5 and ball 15 when it looked best
// 0.23.
//
// It assumes independent normal shots. What picking can't show: shots chosen
// after the fact tell nothing about the shots that were not chosen, and their
// spread means nothing. What they can show is a gain beyond the inflation, see
// [PickedGain].
//
// Errors: [ErrPicking]. Deterministic; the best stage and the best shots at once, the rules of
// one run in seconds where it may end among a hundred balls, in hundredths of a
// second among twenty.
//
// References: H. L. Harter, "Expected Values of Normal Order Statistics",
// Biometrika 48(1/2), 1961, pp. 151-165.
func PickInflation(p Picking) (float64, error) {
	return pickInflation(context.Background(), p)
}

func pickInflation(ctx context.Context, p Picking) (float64, error) {
	if err := p.check(); err != nil {
		return 0, err
	}
	switch p.Rule {
	case BestShots:
		if p.Keep == p.Of {
			return 0, nil
		}
		return bestOfNormal(p.Keep, p.Of), nil
	case BestStage:
		return bestOfNormal(1, p.Of) / math.Sqrt(float64(p.Keep)), nil
	}
	return bestRunOfNormal(ctx, p.Keep, p.Of)
}

// mean returns the mean of what the rule picks from shots in the order hit. It
// may reorder them.
func (p Picking) mean(shots []float64) float64 {
	switch p.Rule {
	case BestShots:
		slices.Sort(shots)
		return meanOf(shots[len(shots)-p.Keep:])
	case BestStage:
		best := math.Inf(-1)
		for stage := range slices.Chunk(shots, p.Keep) {
			best = max(best, meanOf(stage))
		}
		return best
	case LastShots:
		slices.Reverse(shots)
	}
	best, sum := math.Inf(-1), 0.0
	for i, v := range shots {
		sum += v
		if i+1 >= p.Keep {
			best = max(best, sum/float64(i+1))
		}
	}
	return best
}
