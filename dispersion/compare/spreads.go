package compare

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// A SpreadTest tells whether the spreads of several stages differ.
type SpreadTest struct {
	Distances []float64 // of each stage, the mean distance of its shots from their middle, corrected for n
	N         []int     // shots of each stage
	F         float64   // the statistic: spread between stages over spread within them
	DF1, DF2  float64   // degrees of freedom of F
	P         float64   // chance of an F as large from equal spreads
}

// Spreads tests whether the spreads of two or more stages differ: an analysis of
// variance of the distances of the shots from the geometric median of their
// stage, each times √(n/(n-1)), since a middle found from few shots lies too
// close to them:
//
//	F = [Σ nⱼ(d̄ⱼ-d̄)²/(k-1)] / [ΣΣ (dᵢⱼ-d̄ⱼ)²/(N-k)]
//
// P comes from F(k-1, N-k). Distances are as they are, in the unit of the points,
// where [SpreadRatio] takes them in the common shape of two groups and gives an
// interval; for two stages read that. A small P says that not all spreads are
// equal and not which one differs.
//
// It assumes independent shots and patterns that may differ in size alone.
//
// It takes two stages of three shots.
//
// Errors: [ErrMissing]; [dispersion.ErrLevel], [ErrResamples]; [ErrStages] for
// fewer than two stages; *[dispersion.TooFewError] below 3 shots in a stage;
// [dispersion.ErrDegenerate] where within each stage all shots are equally far
// from its middle; the context's error.
//
// It is deterministic and takes O(N).
//
// References: M. J. Anderson, "Distance-Based Tests for Homogeneity of
// Multivariate Dispersions", Biometrics 62(1), 2006, pp. 245-253; the factor: A.
// C. Stier et al., Ecology 94(1), 2013, pp. 195-205 (from memory).
func Spreads(ctx context.Context, stages []*dispersion.Group, o Options) (SpreadTest, error) {
	if len(stages) < 2 {
		return SpreadTest{}, fmt.Errorf("compare: spreads of %d stages: %w", len(stages), ErrStages)
	}
	for _, g := range stages {
		if _, err := start(ctx, g, g, o); err != nil {
			return SpreadTest{}, err
		}
		if g.N() < 3 {
			return SpreadTest{}, fmt.Errorf("compare: %w", &dispersion.TooFewError{Have: g.N(), Need: 3, For: "a comparison of spreads, in each stage,"})
		}
	}
	var t SpreadTest
	var within, total float64
	plain := shape{l11: 1, l22: 1}
	all := 0
	for _, g := range stages {
		distances, err := plain.distances(g)
		if err != nil {
			return SpreadTest{}, err
		}
		n := float64(g.N())
		for i := range distances {
			distances[i] *= math.Sqrt(n / (n - 1))
		}
		s := summaryOf(distances)
		t.Distances, t.N = append(t.Distances, s.mean), append(t.N, g.N())
		within += s.ss
		total += s.mean * n
		all += g.N()
	}
	mean := total / float64(all)
	var between float64
	for j, d := range t.Distances {
		between += float64(t.N[j]) * (d - mean) * (d - mean)
	}
	t.DF1, t.DF2 = float64(len(stages)-1), float64(all-len(stages))
	if !(within > equalDistances*equalDistances*mean*mean) {
		return SpreadTest{}, fmt.Errorf("compare: spreads: all shots equally far from the middle of their stage: %w", dispersion.ErrDegenerate)
	}
	t.F = between / t.DF1 / (within / t.DF2)
	t.P = upperTail(t.F, t.DF1, t.DF2)
	if math.IsInf(t.F, 0) || math.IsNaN(t.F+t.P) {
		return SpreadTest{}, fmt.Errorf("compare: spreads: %w", dispersion.ErrOverflow)
	}
	return t, nil
}
