package flight

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// result states the coefficients with their standard errors, or that the shots
// can't tell them.
func (f *fitting) result() (Fitted, error) {
	out := Fitted{
		Form: f.form.with(f.at), Conditions: f.conditions, N: len(f.shots), Values: len(f.rows), Residuals: make([]Residual, len(f.shots)),
		shots: slices.Clone(f.shots), free: f.free,
	}
	a, _ := f.normal(f.rows)
	plain, sandwich, ok := f.covariances(a)
	if !ok {
		return Fitted{}, fmt.Errorf("flight: %w", f.untold(a))
	}
	for i, name := range f.names {
		// The sandwich of few shots may be far too thin; the other one, which takes
		// the three kinds for independent, then holds it up.
		se := math.Sqrt(max(plain.At(i, i), sandwich.At(i, i)))
		inflation := plain.At(i, i) * a.At(i, i)
		if !(se <= mostDoubt*math.Abs(f.at[i]) && inflation <= mostInflation) {
			return Fitted{}, fmt.Errorf("flight: %w", &UndeterminedError{Coefficient: name, Value: f.at[i], SE: se, Inflation: inflation})
		}
		out.Coefficients = append(out.Coefficients, Coefficient{Name: name, Value: f.at[i], SE: math.Sqrt(sandwich.At(i, i))})
		row := make([]float64, len(f.at))
		for j := range row {
			row[j] = sandwich.At(i, j)
		}
		out.Covariance = append(out.Covariance, row)
	}
	f.scatter()
	for _, r := range f.rows {
		into, scatter := f.kindOf(r, &out)
		*into, *scatter = r.left, f.scale[r.kind]
	}
	out.Warnings = f.warnings()
	return out, nil
}

// kindOf returns where a row's residual and its scatter belong.
func (f *fitting) kindOf(r fitRow, out *Fitted) (into, scatter *float64) {
	left := &out.Residuals[r.shot]
	switch r.kind {
	case 0:
		return &left.Carry, &out.Scatter.Carry
	case 1:
		return &left.Apex, &out.Scatter.Apex
	}
	return &left.Descent, &out.Scatter.Descent
}

// covariances returns, with a = JᵀWJ, its inverse and the sandwich
//
//	(JᵀWJ)⁻¹ · Σ gᵢgᵢᵀ · (JᵀWJ)⁻¹ · n/(n-p)
//
// with gᵢ the part of shot i in JᵀWr.
func (f *fitting) covariances(a *mat.SymDense) (plain, sandwich *mat.SymDense, ok bool) {
	var chol mat.Cholesky
	if !chol.Factorize(a) {
		return nil, nil, false
	}
	plain = &mat.SymDense{}
	if err := chol.InverseTo(plain); err != nil {
		return nil, nil, false
	}
	n, p := len(f.shots), len(f.at)
	parts := mat.NewDense(n, p, nil)
	for _, r := range f.rows {
		w := 1 / (f.scale[r.kind] * f.scale[r.kind])
		for k := range p {
			parts.Set(r.shot, k, parts.At(r.shot, k)+w*r.slope[k]*r.left)
		}
	}
	var spread mat.Dense
	spread.Mul(parts, plain) // each row is how the shot moved the coefficients
	sandwich = mat.NewSymDense(p, nil)
	scale := float64(n) / float64(n-p)
	for i := range p {
		for j := i; j < p; j++ {
			var sum float64
			for k := range n {
				sum += spread.At(k, i) * spread.At(k, j)
			}
			sandwich.SetSym(i, j, sum*scale)
		}
	}
	return plain, sandwich, true
}
