package compare

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// AnyDifference tests whether the two patterns differ in anything at all: place,
// spread, slant or shape. The statistic is the energy distance
//
//	n₁n₂/(n₁+n₂) · [2·mean|x-y| - mean|x-x'| - mean|y-y'|]
//
// over all pairs of a shot x before and y after, and all ordered pairs within a
// side, each shot with itself included; it is 0 for equal sides and else above.
// P comes from permutation, as in [Permute]. The unit of the statistic is that
// of the points; it is no measure of how much has changed.
//
// It assumes exchangeable shots and nothing else. To be open to everything
// costs power: a mere gain in carry is seen sooner by [CarryGain].
//
// It takes two shots a side, which are too few to say anything.
//
// Errors: [ErrMissing]; [dispersion.ErrLevel], [ErrResamples];
// *[dispersion.TooFewError] below 2 shots a side; [dispersion.ErrOverflow]; the
// context's error. Warnings: *[FloorWarning].
//
// The same inputs give the same bits on any number of cores. It keeps a table of
// (n₁+n₂)² distances and takes about min(n₁, n₂)²/2 additions a split.
//
// Reference: G. J. Székely, M. L. Rizzo, "Energy Statistics: A Class of
// Statistics Based on Distances", Journal of Statistical Planning and Inference
// 143(8), 2013, pp. 1249-1272.
func AnyDifference(ctx context.Context, before, after *dispersion.Group, o Options) (Permutation, error) {
	o, err := start(ctx, before, after, o)
	if err != nil {
		return Permutation{}, err
	}
	n1, n2 := before.N(), after.N()
	if err := enough(n1, n2, 2, "a test for any difference"); err != nil {
		return Permutation{}, err
	}
	d := distancesBetween(append(before.Points(), after.Points()...))
	if math.IsInf(d.total*float64(d.n), 1) {
		return Permutation{}, fmt.Errorf("compare: any difference: %w", dispersion.ErrOverflow)
	}
	return splitTest{
		n1: n1, n2: n2, tag: "any difference", what: "energy distance", mirrored: true,
		// Of sides that are equal the energy is 0, but for the rounding of these sums.
		unit: 1e-3 * d.total / float64(d.n*d.n),
		statistic: func() func(resample.Split) (float64, error) {
			return func(s resample.Split) (float64, error) { return d.energy(s), nil }
		},
	}.run(ctx, o)
}

// pairDistances holds the distances between all shots of both sides.
type pairDistances struct {
	n     int
	table []float64 // of shot i from shot j at i·n+j
	sums  []float64 // of each shot from all others
	total float64   // of all pairs, each counted once
}

func distancesBetween(points []dispersion.Point) pairDistances {
	n := len(points)
	d := pairDistances{n: n, table: make([]float64, n*n), sums: make([]float64, n)}
	for i, p := range points {
		for j, q := range points {
			// Hypot is not the same bits everywhere; nothing here can overflow.
			dx, dy := p.X-q.X, p.Y-q.Y
			away := math.Sqrt(float64(dx*dx) + float64(dy*dy))
			d.table[i*n+j] = away
			d.sums[i] += away
		}
		d.total += d.sums[i] / 2
	}
	return d
}

// energy returns the energy distance of a split. With the distances within one
// part and the sums of its shots' distances from all, those within the other
// part and across follow, so only pairs within the smaller part are looked up.
func (d pairDistances) energy(s resample.Split) float64 {
	few, many := s.Order[:s.First], s.Order[s.First:]
	if len(few) > len(many) {
		few, many = many, few
	}
	var within, fromAll float64
	for k, i := range few {
		row := d.table[i*d.n : (i+1)*d.n]
		within += sumAt(row, few[:k])
		fromAll += d.sums[i]
	}
	across := fromAll - 2*within
	rest := d.total - fromAll + within
	n1, n2 := float64(len(few)), float64(len(many))
	return n1 * n2 / (n1 + n2) * 2 * (across/(n1*n2) - within/(n1*n1) - rest/(n2*n2))
}

// sumAt returns the sum of the values at the indices, as four sums side by side
// that don't wait for each other, in an order that is always the same.
func sumAt(values []float64, indices []int) float64 {
	var a, b, c, d float64
	for ; len(indices) >= 4; indices = indices[4:] {
		a += values[indices[0]]
		b += values[indices[1]]
		c += values[indices[2]]
		d += values[indices[3]]
	}
	for _, i := range indices {
		a += values[i]
	}
	return (a + b) + (c + d)
}
