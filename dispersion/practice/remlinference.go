package practice

import "math"

// A remlInference is what a fit says beyond its estimates. All of it uses the
// expected information of the λ and ln σ² in the restricted likelihood,
//
//	½·( tr(PVₖPVₗ)  tr(PVₖ) )
//	  ( tr(PVₗ)     N-p     ),   Vₖ = ZₖZₖ'
//
// with every term in it, those estimated as zero too.
type remlInference struct {
	s       *remlState
	inv, rr []float64
	e       []float64 // see residual
	pzz     []float64 // U'PU
	joint   []float64 // inverse of the information
}

// infer returns the inference at the state's λ, false where the information has
// no inverse: a term that can't be told from the rest.
func (s *remlState) infer() (*remlInference, bool) {
	c, d := s.c, s.c.d
	m := d - 1
	f := &remlInference{s: s, inv: s.inverse(m), rr: s.first()}
	f.e = s.residual(f.inv)
	// E = I - SMS·W, and U'PU = W·E.
	e := make([]float64, d*d)
	for i := range d {
		e[i*d+i] = 1
		if i == m {
			continue
		}
		for k := range m {
			v := f.inv[i*m+k]
			if v == 0 {
				continue
			}
			for j := range d {
				e[i*d+j] -= v * s.w[k*d+j]
			}
		}
	}
	f.pzz = product(s.w, e, d)
	k := c.terms()
	info := make([]float64, (k+1)*(k+1))
	trace, _ := s.slopes(false)
	for i, t := range trace {
		info[i*(k+1)+k], info[k*(k+1)+i] = t/2, t/2
	}
	info[k*(k+1)+k] = c.freedom(false) / 2
	info[0] = s.firstSquared(f.inv, f.rr) / 2
	rre := product(f.rr, e, d)
	for i, rows := range c.random {
		var v float64
		for j := rows[0]; j < rows[1]; j++ {
			for l := range d {
				v += e[l*d+j] * rre[l*d+j]
			}
		}
		info[i+1], info[(i+1)*(k+1)] = v/2, v/2
		for l, cols := range c.random[:i+1] {
			var v float64
			for a := rows[0]; a < rows[1]; a++ {
				for b := cols[0]; b < cols[1]; b++ {
					v += f.pzz[a*d+b] * f.pzz[a*d+b]
				}
			}
			info[(i+1)*(k+1)+l+1], info[(l+1)*(k+1)+i+1] = v/2, v/2
		}
	}
	var ok bool
	f.joint, ok = inverted(info, k+1)
	return f, ok
}

// firstSquared returns tr(PZZ'PZZ') of the first term, from
// Z'PZ = diag(s/(1+λs)) - R·SMS·R'.
func (s *remlState) firstSquared(inv, rr []float64) float64 {
	c, d := s.c, s.c.d
	m := d - 1
	var v float64
	cubed := make([]float64, d*d)
	for i := range c.classes {
		k := &c.classes[i]
		g := 1 / (1 + s.lambda[0]*k.size)
		v += float64(k.count) * k.size * k.size * g * g
		f := k.size * k.size * g * g * g
		for j, b := range k.between {
			cubed[j] += f * b
		}
	}
	a := make([]float64, m*m) // SMS·R'R
	for i := range m {
		for j := range m {
			for l := range m {
				a[i*m+j] += inv[i*m+l] * rr[l*d+j]
			}
			v -= 2 * inv[i*m+j] * cubed[i*d+j]
		}
	}
	for i := range m {
		for j := range m {
			v += a[i*m+j] * a[j*m+i]
		}
	}
	return v
}

func product(a, b []float64, d int) []float64 {
	p := make([]float64, d*d)
	for i := range d {
		for k := range d {
			v := a[i*d+k]
			if v == 0 {
				continue
			}
			for j := range d {
				p[i*d+j] += v * b[k*d+j]
			}
		}
	}
	return p
}

// inverted returns the inverse of a small symmetric matrix, false where one row
// says what the others say: less than one part in 10⁹ is left of its diagonal.
func inverted(a []float64, d int) ([]float64, bool) {
	scale := make([]float64, d)
	l := make([]float64, d*d)
	for i := range d {
		scale[i] = 1 / math.Sqrt(a[i*d+i])
	}
	for i := range d {
		for j := range d {
			l[i*d+j] = a[i*d+j] * scale[i] * scale[j]
		}
	}
	if !cholesky(l, d) {
		return nil, false
	}
	inv := make([]float64, d*d)
	for j := range d {
		x := make([]float64, d)
		for i := range d {
			v := 0.0
			if i == j {
				v = 1
			}
			v -= dotProduct(l[i*d:i*d+i], x[:i])
			x[i] = v / l[i*d+i]
			if l[i*d+i] < 3e-5 {
				return nil, false
			}
		}
		for i := d - 1; i >= 0; i-- {
			for k := i + 1; k < d; k++ {
				x[i] -= l[k*d+i] * x[k]
			}
			x[i] /= l[i*d+i]
		}
		for i := range d {
			inv[i*d+j] = x[i] * scale[i] * scale[j]
		}
	}
	return inv, true
}

// contrast returns the estimate of a combination of the fixed columns as used, its
// variance over σ² and Satterthwaite's df,
//
//	2·v²/(∇v' · information⁻¹ · ∇v),  ∂v/∂λₖ = σ²·|Zₖ'V⁻¹X(X'V⁻¹X)⁻¹c|²,  ∂v/∂ln σ² = v
func (f *remlInference) contrast(weights []float64) (estimate, variance, df float64) {
	c, d := f.s.c, f.s.c.d
	m := d - 1
	x := c.fixed[0]
	u := make([]float64, d)
	for i := range m {
		u[i] = dotProduct(f.inv[i*m+x:i*m+m], weights)
	}
	for j, w := range weights {
		estimate -= w * f.e[x+j]
		variance += w * u[x+j]
	}
	k := c.terms()
	slope := make([]float64, k+1)
	slope[0] = quadraticForm(f.rr, u, d) / variance
	for i, cols := range c.random {
		for j := cols[0]; j < cols[1]; j++ {
			v := dotProduct(f.s.w[j*d:j*d+d], u)
			slope[i+1] += v * v / variance
		}
	}
	slope[k] = 1
	return estimate, variance, 2 / quadraticForm(f.joint, slope, k+1)
}

// deviation returns the shrunken deviation of a level, in units of the scaled
// values, and its mean squared error over σ²,
//
//	û = λ·z'Py,  λ - λ²γ + 2γ·(1-λγ)²·var λ̂,  γ = z'Pz
//
// whose last part is there because λ is an estimate; of the other terms' λ it
// knows nothing.
func (f *remlInference) deviation(term, i int) (u, mse float64) {
	c, d := f.s.c, f.s.c.d
	m := d - 1
	lambda := f.s.lambda[term]
	var gamma, z float64
	if term == 0 {
		l := &c.levels[i]
		g := 1 / (1 + lambda*l.size)
		z = math.Sqrt(l.size) * g * dotProduct(l.mean, f.e)
		gamma = l.size*g - l.size*g*g*quadraticForm(f.inv, l.mean[:m], m)
	} else {
		j := c.random[term-1][0] + i
		z, gamma = f.pzz[j*d+m], f.pzz[j*d+j]
	}
	left := 1 - lambda*gamma
	return lambda * z, lambda*left + 2*gamma*left*left*f.joint[term*(c.terms()+1)+term]
}

// levelFreedom returns the degrees of freedom that tell how the levels of a term
// differ: tr((λZ'PZ)²) where λ is so large that the levels are all that matters,
// 100,000 times what the shots tell of one level. In the limit that is a whole
// number. It is 0 where the fixed part says all that the levels could.
func (c *remlData) levelFreedom(term int, lambda []float64) float64 {
	s := c.newState()
	copy(s.lambda, lambda)
	s.lambda[term] = 0
	s.set(false)
	if !s.ok {
		return 0
	}
	levels, size := float64(len(c.levels)), 0.0
	if term == 0 {
		for _, k := range c.classes {
			size += float64(k.count) * k.size
		}
	} else {
		cols := c.random[term-1]
		levels = float64(cols[1] - cols[0])
		for j := cols[0]; j < cols[1]; j++ {
			size += s.w[j*c.d+j]
		}
	}
	trace, _ := s.slopes(false)
	if !(trace[term] > 1e-9*size) {
		return 0
	}
	large := 1e5 * levels / trace[term]
	s.lambda[term] = large
	s.set(false)
	if !s.ok {
		return 0
	}
	if term == 0 {
		return math.Round(large * large * s.firstSquared(s.inverse(c.d-1), s.first()))
	}
	f, _ := s.infer()
	cols := c.random[term-1]
	var v float64
	for a := cols[0]; a < cols[1]; a++ {
		for b := cols[0]; b < cols[1]; b++ {
			v += f.pzz[a*c.d+b] * f.pzz[a*c.d+b]
		}
	}
	return math.Round(large * large * v)
}
