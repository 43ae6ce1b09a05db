package compare

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// AngleSpreadRatio returns the spread of the shot angles after over the spread
// before. Side grows with carry at the same angle, so this is the ratio to read
// where the carry has moved by more than a few percent. With the angle of a
// shot atan2(side, carry) and m the median angle of its group,
//
//	D = mean of |angle-m| · √(n/(n-1))
//	ln(D₂/D₁) ± t(ν)·c·√(1/n₁+1/n₂)
//
// c² being the mean of the two squared coefficients of variation of |angle-m|,
// weighted by nⱼ-1, and ν as for [SpreadRatio]. P comes from the same t. Before
// and After are D₁ and D₂ in radians.
//
// It assumes independent shots that start from one place, the origin of the
// points. It sees one axis where [SpreadRatio] sees two, so it is less sure.
//
// It takes three shots a side; at three the interval says little.
//
// Errors: [ErrMissing]; [dispersion.ErrLevel], [ErrResamples];
// *[dispersion.TooFewError] below 3 shots a side; *[ValueError] for a shot
// whose carry is not above 0; [dispersion.ErrDegenerate] where a side has no
// spread of angles, or all its shots are equally far from the middle; the
// context's error. Warnings: *[FewShotsWarning].
//
// It is deterministic and takes O(n log n).
func AngleSpreadRatio(ctx context.Context, before, after *dispersion.Group, o Options) (Effect, error) {
	o, err := start(ctx, before, after, o)
	if err != nil {
		return Effect{}, err
	}
	if err := enough(before.N(), after.N(), 3, "a ratio of angle spreads"); err != nil {
		return Effect{}, err
	}
	d1, err := angleDistances("before", before)
	if err != nil {
		return Effect{}, err
	}
	d2, err := angleDistances("after", after)
	if err != nil {
		return Effect{}, err
	}
	return ratioOfDistances(Effect{
		Name: NameAngleSpreadRatio, Unit: "rad", Method: "ratio of mean distances from the median angles; t interval on the log scale",
	}, d1, d2, halfNormalVariation, o)
}

// angleDistances returns how far the angle of each shot is from the median
// angle of the group. All carries are above 0, so no angle wraps around.
func angleDistances(side string, g *dispersion.Group) ([]float64, error) {
	angles := make([]float64, g.N())
	for i, p := range g.Points() {
		if !(p.Y > 0) {
			return nil, fmt.Errorf("compare: %w", &ValueError{side, i, p.Y, "a shot needs a carry above 0 to have an angle"})
		}
		angles[i] = dispersion.ShotAngle(p)
	}
	middle, err := dispersion.Median(angles)
	if err != nil {
		return nil, err
	}
	for i, a := range angles {
		angles[i] = math.Abs(a - middle)
	}
	return angles, nil
}
