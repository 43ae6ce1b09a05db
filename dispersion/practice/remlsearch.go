package practice

import "math"

// A remlQuestion asks for the smallest criterion with one quantity held fixed, or with
// none. The criterion, -2 ln of the likelihood, is
//
//	ν·ln(2πσ²) + q/σ² + logDet(λ)
//
// with σ² = q/ν where σ is free. The search runs over τ = √λ, in which the
// criterion is smooth and even, so that a variance of zero needs no border.
type remlQuestion struct {
	kind  heldKind
	term  int
	value float64 // of what is held
}

type heldKind int

const (
	heldNothing  heldKind = iota
	heldRatio             // λ of the term
	heldVariance          // σₖ² of the term, in units of the scaled values
	heldResidual          // σ²
)

// A remlSearch holds what its tries share.
type remlSearch struct {
	s  *remlState
	ml bool
	remlQuestion
}

// free returns how many numbers the search runs over: the τ that are free, then
// ln σ² where a term's variance is held.
func (f *remlSearch) free() int {
	k := f.s.c.terms()
	if f.kind == heldRatio {
		k--
	}
	return k
}

// at evaluates the criterion and, if g is not nil, its slope.
func (f *remlSearch) at(x, g []float64) float64 {
	s := f.s
	nu := s.c.freedom(f.ml)
	sigma2 := f.value
	if f.kind == heldVariance {
		sigma2 = math.Exp(x[len(x)-1])
	}
	i := 0
	for k := range s.lambda {
		switch {
		case f.kind == heldRatio && k == f.term:
			s.lambda[k] = f.value
		case f.kind == heldVariance && k == f.term:
			s.lambda[k] = f.value / sigma2
		default:
			s.lambda[k] = x[i] * x[i]
			i++
		}
	}
	s.set(f.ml)
	if !s.ok {
		return math.Inf(1)
	}
	if f.kind == heldNothing || f.kind == heldRatio {
		sigma2 = s.q / nu
	}
	if g != nil {
		trace, square := s.slopes(f.ml)
		i = 0
		for k := range s.lambda {
			slope := trace[k] - square[k]/sigma2
			switch {
			case f.kind == heldRatio && k == f.term:
			case f.kind == heldVariance && k == f.term:
				g[len(g)-1] = nu - s.q/sigma2 - s.lambda[k]*slope
			default:
				g[i] = 2 * x[i] * slope
				i++
			}
		}
	}
	return nu*math.Log(2*math.Pi*sigma2) + s.q/sigma2 + s.logDet + 2*nu*math.Log(s.c.yScale)
}

// descend goes downhill from x by the BFGS method and returns the criterion where
// it stops; x is then that place. It stops where another step could lower the
// criterion by less than tolerance.
//
// Reference: J. Nocedal, S. J. Wright, Numerical Optimization, 2nd ed., Springer
// 2006, algorithm 6.1.
func (f *remlSearch) descend(x []float64, tolerance float64) float64 {
	n := len(x)
	if n == 0 {
		return f.at(x, nil)
	}
	g, next, gNext, step := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	h := make([]float64, n*n)
	value := f.at(x, g)
	reset := func() {
		clear(h)
		for i := range n {
			h[i*n+i] = 1 / (1 + float64(f.s.c.shots))
		}
	}
	reset()
	fresh := true
	for range 200 {
		var slope float64
		for i := range n {
			step[i] = -dotProduct(h[i*n:i*n+n], g)
			slope += step[i] * g[i]
		}
		if -slope < tolerance && !fresh || slope == 0 || math.IsNaN(slope) {
			return value
		}
		// Steps of τ and ln σ² beyond 2 at once only get lost.
		t := 1.0
		for i := range n {
			t = min(t, 2/math.Abs(step[i]))
		}
		noise := 1e-14 * (1 + math.Abs(value))
		var v float64
		for {
			for i := range n {
				next[i] = x[i] + t*step[i]
			}
			v = f.at(next, gNext)
			if v <= value+1e-4*t*slope+noise {
				break
			}
			if t *= 0.4; t < 1e-12 {
				if fresh {
					return f.at(x, g)
				}
				break
			}
		}
		if t < 1e-12 {
			reset()
			fresh = true
			value = f.at(x, g)
			continue
		}
		bfgs(h, x, next, g, gNext, fresh)
		fresh = false
		copy(x, next)
		copy(g, gNext)
		value = v
	}
	return f.at(x, g)
}

// bfgs updates the inverse second derivatives h by what one step showed.
func bfgs(h, x, next, g, gNext []float64, fresh bool) {
	n := len(x)
	s, y, hy := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		s[i], y[i] = next[i]-x[i], gNext[i]-g[i]
	}
	sy := dotProduct(s, y)
	if !(sy > 1e-14*math.Sqrt(dotProduct(s, s)*dotProduct(y, y))) {
		return
	}
	if fresh {
		for i := range n {
			h[i*n+i] = sy / dotProduct(y, y)
		}
	}
	for i := range n {
		hy[i] = dotProduct(h[i*n:i*n+n], y)
	}
	f := (1 + dotProduct(y, hy)/sy) / sy
	for i := range n {
		for j := range n {
			h[i*n+j] += f*s[i]*s[j] - (hy[i]*s[j]+s[i]*hy[j])/sy
		}
	}
}

// best returns the lowest criterion, from more than one start, with the state left
// there. A variance that does no good is set to zero exactly.
func (c *remlData) best(ml bool) (*remlState, float64) {
	f := &remlSearch{s: c.newState(), ml: ml}
	var x []float64
	value := math.Inf(1)
	for _, start := range []float64{0.3, 1.5} {
		at := make([]float64, c.terms())
		for k := range at {
			at[k] = start
		}
		if v := f.descend(at, 1e-17); v < value {
			x, value = at, v
		}
	}
	if x == nil { // nothing is left over at any ratio
		return f.s, value
	}
	for k := range x {
		if was := x[k]; math.Abs(was) < 0.01 {
			x[k] = 0
			if v := f.at(x, nil); v <= value+1e-9 {
				value = v
			} else {
				x[k] = was
			}
		}
	}
	value = f.at(x, nil)
	return f.s, value
}
