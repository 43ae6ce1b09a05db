package flight

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// A regressor is a measured column that a regression may use, and the part that
// its share belongs to.
type regressor struct {
	of   func(Shot) float64
	part int
}

var allRegressors = []regressor{
	{func(s Shot) float64 { return s.Speed }, 0},
	{func(s Shot) float64 { return s.Angle }, 1},
	{func(s Shot) float64 { return s.Spin }, 2},
	{func(s Shot) float64 { return s.Direction }, 3},
	{func(s Shot) float64 { return s.Tilt }, 3},
}

const spareForRegression = 5 // degrees of freedom to be left

// regressors returns the columns that vary within a stage, or none where there
// are too few shots for them.
func (s *splitting) regressors() []int {
	var columns []int
	for k, r := range allRegressors {
		if varies(s.before, r.of) || varies(s.after, r.of) {
			columns = append(columns, k)
		}
	}
	if len(columns) == 0 || len(s.before)+len(s.after)-2-len(columns) < spareForRegression {
		return nil
	}
	return columns
}

func varies(shots []Shot, of func(Shot) float64) bool {
	for _, s := range shots {
		if of(s) != of(shots[0]) {
			return true
		}
	}
	return false
}

// regress returns the parts by regression with so much weight on each shot, before
// and then after, the rest last; ok is false where these shots tell no slopes. Each
// stage has its own mean taken off, which is what a term for the stage does:
//
//	parts = slope · (mean after - mean before),  slopes = (XᵀWX)⁻¹XᵀWy
func (s *splitting) regress(o int, weights []float64) (share [parts + 1]float64, ok bool) {
	p, n1 := len(s.columns), len(s.before)
	x := make([][]float64, p) // the columns, then their means taken off
	moved := make([]float64, p)
	shot := func(i int) Shot {
		if i < n1 {
			return s.before[i]
		}
		return s.after[i-n1]
	}
	for k, column := range s.columns {
		x[k] = make([]float64, len(weights))
		for i := range weights {
			x[k][i] = allRegressors[column].of(shot(i))
		}
		moved[k] = takeMeansOff(x[k], weights, n1)
	}
	y := make([]float64, len(weights))
	for i := range weights {
		y[i], _ = splitOutcomes[o].measured(shot(i))
	}
	gain := takeMeansOff(y, weights, n1)
	a, g, scale := mat.NewSymDense(p, nil), mat.NewVecDense(p, nil), make([]float64, p)
	for k := range p {
		if scale[k] = math.Sqrt(weighted(weights, x[k], x[k])); scale[k] == 0 {
			return share, false
		}
	}
	for k := range p {
		g.SetVec(k, weighted(weights, x[k], y)/scale[k])
		for l := k; l < p; l++ {
			a.SetSym(k, l, weighted(weights, x[k], x[l])/(scale[k]*scale[l]))
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(a) || chol.Cond() > 1e8 {
		return share, false
	}
	var slope mat.VecDense
	if err := chol.SolveVecTo(&slope, g); err != nil {
		return share, false
	}
	share[parts] = gain
	for k, column := range s.columns {
		part := slope.AtVec(k) / scale[k] * moved[k]
		share[allRegressors[column].part] += part
		share[parts] -= part
	}
	return share, true
}

// takeMeansOff takes the weighted mean of each stage off its values and returns
// the mean after minus that before.
func takeMeansOff(values, weights []float64, n1 int) float64 {
	off := func(values, weights []float64) float64 {
		var sum, w float64
		for i, v := range values {
			sum += weights[i] * v
			w += weights[i]
		}
		m := sum / w
		for i := range values {
			values[i] -= m
		}
		return m
	}
	before := off(values[:n1], weights[:n1])
	return off(values[n1:], weights[n1:]) - before
}

func weighted(weights, x, y []float64) float64 {
	var sum float64
	for i, w := range weights {
		sum += w * x[i] * y[i]
	}
	return sum
}
