package flight

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// share returns an estimate from n₁ and n₂ shots, 0 for a single group, with the
// percentile interval of its resamples. Those are too narrow for few shots and are
// therefore taken further out, at
//
//	Φ(-t·√(n/(n-1))),  n the smaller number,  t of n₁-1 + n₂-1 degrees of freedom
//
// See Hesterberg 2015, at [SplitGain].
func share(estimate float64, drawn []float64, level float64, n1, n2 int) Share {
	n, df := float64(n1), float64(n1-1)
	if n2 > 0 {
		n, df = float64(min(n1, n2)), float64(n1+n2-2)
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile((1 + level) / 2)
	tail := distuv.UnitNormal.CDF(-t * math.Sqrt(n/(n-1)))
	sorted := slices.Clone(drawn)
	slices.Sort(sorted)
	k := min(max(int(float64(len(sorted)+1)*tail), 1), (len(sorted)+1)/2)
	return Share{Estimate: estimate, Interval: dispersion.Interval{
		Low: min(sorted[k-1], estimate), High: max(sorted[len(sorted)-k], estimate), Level: level,
	}}
}

// once is the weight of the shots as they are.
func once(n int) []float64 {
	weights := make([]float64, n)
	for i := range weights {
		weights[i] = 1
	}
	return weights
}

// drawWeights draws how often each shot of both stages is in a resample.
func drawWeights(stream *resample.Stream, n1, n2 int) []float64 {
	weights := make([]float64, n1+n2)
	for range n1 {
		weights[stream.Below(n1)]++
	}
	for range n2 {
		weights[n1+stream.Below(n2)]++
	}
	return weights
}
