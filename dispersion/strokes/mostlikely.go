package strokes

import (
	"math"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/stat/distuv"

	"github.com/landfall-golf/landfall/dispersion"
)

// An optimum is where a loss, minus a log likelihood, is least.
type optimum struct {
	at   []float64
	se   []float64 // from the inverse of the curvature
	loss float64
}

// mostLikely searches from start by the simplex of Nelder and Mead, then takes
// Newton steps, which bring the digits that a simplex leaves open.
//
// Errors: [ErrNoFit] where the loss has no minimum with a curvature.
func mostLikely(start []float64, loss func([]float64) float64) (optimum, error) {
	finite := func(x []float64) float64 {
		if v := loss(x); !math.IsNaN(v) {
			return v
		}
		return math.Inf(1)
	}
	if math.IsInf(finite(start), 0) {
		return optimum{}, ErrNoFit
	}
	settings := &optimize.Settings{
		MajorIterations: 5000,
		Converger:       &optimize.FunctionConverge{Absolute: 1e-12, Relative: 1e-14, Iterations: 100},
	}
	result, err := optimize.Minimize(optimize.Problem{Func: finite}, start, settings, &optimize.NelderMead{})
	if err != nil || result.Status == optimize.IterationLimit {
		return optimum{}, ErrNoFit
	}
	best := optimum{at: result.X, loss: result.F}
	n := len(start)
	inverse := mat.NewSymDense(n, nil)
	for range 3 {
		var cholesky mat.Cholesky
		hessian := mat.NewSymDense(n, nil)
		fd.Hessian(hessian, finite, best.at, &fd.Settings{Formula: fd.Central, Step: 5e-4})
		if !cholesky.Factorize(hessian) || cholesky.InverseTo(inverse) != nil {
			return optimum{}, ErrNoFit
		}
		gradient := fd.Gradient(nil, finite, best.at, &fd.Settings{Formula: fd.Central, Step: 1e-5})
		step := mat.NewVecDense(n, nil)
		step.MulVec(inverse, mat.NewVecDense(n, gradient))
		next := make([]float64, n)
		for i := range next {
			next[i] = best.at[i] - step.AtVec(i)
		}
		// Near the minimum rounding decides whether a step helps: a
		// worsening beyond rounding means that the search had not arrived.
		v := finite(next)
		if v > best.loss+1e-6*(1+math.Abs(best.loss)) {
			return optimum{}, ErrNoFit
		}
		best.at, best.loss = next, v
	}
	best.se = make([]float64, n)
	for i := range best.se {
		best.se[i] = math.Sqrt(inverse.At(i, i))
	}
	for i := range best.at {
		if math.IsNaN(best.at[i]+best.se[i]) || math.IsInf(best.at[i]+best.se[i], 0) {
			return optimum{}, ErrNoFit
		}
	}
	return best, nil
}

// mostLikelyPositive is mostLikely for the logarithms of positive parameters. A
// parameter that the data leave open by a factor of thousands is not fitted.
func mostLikelyPositive(start []float64, loss func([]float64) float64) (optimum, error) {
	best, err := mostLikely(start, loss)
	if err != nil {
		return optimum{}, err
	}
	for _, se := range best.se {
		if se > math.Log(1000) {
			return optimum{}, ErrNoFit
		}
	}
	return best, nil
}

// plain returns parameter i as it was searched for.
func plain(name string, best optimum, i int) Parameter {
	v, se, z := best.at[i], best.se[i], intervalZ()
	return Parameter{Name: name, Value: v, SE: se, Interval: dispersion.Interval{Low: v - z*se, High: v + z*se, Level: fitLevel}}
}

// positive returns parameter i, whose logarithm was searched for.
func positive(name string, best optimum, i int) Parameter {
	v, z := math.Exp(best.at[i]), intervalZ()
	return Parameter{Name: name, Value: v, SE: v * best.se[i], Interval: dispersion.Interval{Low: v * math.Exp(-z*best.se[i]), High: v * math.Exp(z*best.se[i]), Level: fitLevel}}
}

func intervalZ() float64 { return distuv.UnitNormal.Quantile((1 + fitLevel) / 2) }
