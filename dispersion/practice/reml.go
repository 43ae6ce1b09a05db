package practice

import "math"

// A remlData is all that a fit needs to know of the shots: cross products of the
// columns, taken once, so that each try of the variances costs nothing per shot.
//
// The columns are those of all terms but the first, one for each level, then the
// fixed columns, then the values. The first term, the one with the most levels, is
// not among them: with w its multipliers in one level (all 1 for an intercept),
// and size s = w'w,
//
//	(I + λ·ww')⁻¹ = (I - ww'/s) + ww'/s · 1/(1+λs)
//
// so the cross products under any λ are those within the levels plus those
// between, shrunk. Levels of one size shrink alike and are added up in one class.
type remlData struct {
	shots   int
	random  [][2]int // columns of the terms beyond the first, half open
	fixed   [2]int   // columns of the fixed part, half open
	d       int      // number of columns; the values are the last
	within  []float64
	classes []remlClass
	levels  []remlLevel // of the first term

	logScale float64 // Σ ln of the units the fixed columns were divided by
	yScale   float64 // unit of the values
}

type remlClass struct {
	size    float64 // s of each level
	count   int
	between []float64 // Σ (w'a)(w'b)/s over its levels
}

type remlLevel struct {
	size float64
	mean []float64 // w'a/√s for each column a
}

// terms returns how many random terms there are.
func (c *remlData) terms() int { return 1 + len(c.random) }

// freedom is N-p for the restricted likelihood, N for the full one.
func (c *remlData) freedom(ml bool) float64 {
	if ml {
		return float64(c.shots)
	}
	return float64(c.shots - (c.fixed[1] - c.fixed[0]))
}

// A remlState is what the variance ratios λ = σₖ²/σ² make of the cross products.
// With U the columns, V = I + Σ λₖZₖZₖ', V₁ the first term's part of it and S a
// scaling of the random columns by √λ,
//
//	w      = U'V₁⁻¹U
//	chol   = Cholesky factor of S·w·S + 1 on the random columns
//	q      = y'Py, the last pivot squared
//	logDet = ln|V|, and for the restricted likelihood also ln|X'V⁻¹X|
//
// P is V⁻¹ without what the fixed columns explain.
//
// Reference: D. Bates, M. Mächler, B. Bolker, S. Walker, "Fitting Linear
// Mixed-Effects Models Using lme4", Journal of Statistical Software 67(1), 2015,
// section 3, for the criteria; the elimination of one term is the textbook one.
type remlState struct {
	c      *remlData
	lambda []float64
	w      []float64
	root   []float64 // S: √λ for random columns, 1 for the others
	chol   []float64
	q      float64
	logDet float64
	ok     bool // false where the columns leave nothing over
}

func (c *remlData) newState() *remlState {
	return &remlState{
		c: c, lambda: make([]float64, c.terms()), w: make([]float64, c.d*c.d),
		root: make([]float64, c.d), chol: make([]float64, c.d*c.d),
	}
}

// set evaluates the state at s.lambda.
func (s *remlState) set(ml bool) {
	c, d := s.c, s.c.d
	copy(s.w, c.within)
	s.logDet = 0
	for i := range c.classes {
		k := &c.classes[i]
		shrunk := 1 / (1 + s.lambda[0]*k.size)
		s.logDet -= float64(k.count) * math.Log(shrunk)
		for j, b := range k.between {
			s.w[j] += shrunk * b
		}
	}
	for j := range s.root {
		s.root[j] = 1
	}
	for k, cols := range c.random {
		for j := cols[0]; j < cols[1]; j++ {
			s.root[j] = math.Sqrt(s.lambda[k+1])
		}
	}
	for i := range d {
		for j := range i + 1 {
			s.chol[i*d+j] = s.root[i] * s.w[i*d+j] * s.root[j]
		}
		if i < c.fixed[0] {
			s.chol[i*d+i]++
		}
	}
	s.ok = cholesky(s.chol, d)
	last := s.chol[d*d-1]
	s.q = last * last
	stop := c.fixed[1]
	if ml {
		stop = c.fixed[0]
	}
	for i := range stop {
		s.logDet += 2 * math.Log(s.chol[i*d+i])
	}
	if !ml {
		s.logDet += 2 * c.logScale
	}
}

// cholesky turns the lower triangle of a symmetric d×d matrix into its factor. It
// returns false where the matrix has no inverse as far as its digits tell: a
// pivot is lost when it is below 1e-13 of what it was before.
func cholesky(a []float64, d int) bool {
	for i := range d {
		row := a[i*d : i*d+d]
		for j := range i + 1 {
			v := row[j]
			for k := range j {
				v -= row[k] * a[j*d+k]
			}
			if j < i {
				row[j] = v / a[j*d+j]
				continue
			}
			if !(v > 1e-13*row[i]) {
				return false
			}
			row[i] = math.Sqrt(v)
		}
	}
	return true
}

// inverse returns (LL')⁻¹ of the leading m×m block of the factor, scaled on both
// sides by root: what S·M⁻¹·S is in the text.
func (s *remlState) inverse(m int) []float64 {
	d := s.c.d
	l := make([]float64, m*m) // L⁻¹
	for j := range m {
		l[j*m+j] = 1 / s.chol[j*d+j]
		for i := j + 1; i < m; i++ {
			var v float64
			for k := j; k < i; k++ {
				v -= s.chol[i*d+k] * l[k*m+j]
			}
			l[i*m+j] = v / s.chol[i*d+i]
		}
	}
	inv := make([]float64, m*m)
	for i := range m {
		for j := range i + 1 {
			var v float64
			for k := i; k < m; k++ {
				v += l[k*m+i] * l[k*m+j]
			}
			v *= s.root[i] * s.root[j]
			inv[i*m+j], inv[j*m+i] = v, v
		}
	}
	return inv
}

// residual returns e with Py = V₁⁻¹·U·e: the values less what the random and the
// fixed columns explain of them. It takes the inverse of all columns but the values.
func (s *remlState) residual(inv []float64) []float64 {
	d := s.c.d
	m := d - 1
	e := make([]float64, d)
	e[m] = 1
	for i := range m {
		for j := range m {
			e[i] -= inv[i*m+j] * s.w[j*d+m]
		}
	}
	return e
}

// first returns R'R, R having a row z'V₁⁻¹U for each level z of the first term.
func (s *remlState) first() []float64 {
	rr := make([]float64, len(s.w))
	for i := range s.c.classes {
		k := &s.c.classes[i]
		f := k.size / ((1 + s.lambda[0]*k.size) * (1 + s.lambda[0]*k.size))
		for j, b := range k.between {
			rr[j] += f * b
		}
	}
	return rr
}

// slopes returns for each term tr(PZZ'), or tr(V⁻¹ZZ') for the full likelihood,
// and |Z'Py|²: what the criterion's derivatives are made of,
//
//	∂logDet/∂λ = trace,  ∂q/∂λ = -square
func (s *remlState) slopes(ml bool) (trace, square []float64) {
	c, d := s.c, s.c.d
	m := d - 1
	inv := s.inverse(m)
	e := s.residual(inv)
	rr := s.first()
	trace, square = make([]float64, c.terms()), make([]float64, c.terms())
	square[0] = quadraticForm(rr, e, d)
	for k, cols := range c.random {
		for j := cols[0]; j < cols[1]; j++ {
			v := dotProduct(s.w[j*d:j*d+d], e)
			square[k+1] += v * v
		}
	}
	if ml {
		m = c.fixed[0]
		inv = s.inverse(m)
	}
	for i := range c.classes {
		k := &c.classes[i]
		trace[0] += float64(k.count) * k.size / (1 + s.lambda[0]*k.size)
	}
	for i := range m {
		trace[0] -= dotProduct(inv[i*m:i*m+m], rr[i*d:i*d+m])
	}
	for k, cols := range c.random {
		for j := cols[0]; j < cols[1]; j++ {
			trace[k+1] += s.w[j*d+j] - quadraticForm(inv, s.w[j*d:j*d+m], m)
		}
	}
	return trace, square
}

func dotProduct(a, b []float64) float64 {
	var v float64
	for i := range a {
		v += a[i] * b[i]
	}
	return v
}

// quadraticForm returns e'Ae.
func quadraticForm(a, e []float64, d int) float64 {
	var v float64
	for i := range d {
		v += e[i] * dotProduct(a[i*d:i*d+d], e)
	}
	return v
}
