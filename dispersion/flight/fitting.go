package flight

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// A fitting is a fit at work.
type fitting struct {
	shots      []Shot
	conditions Conditions
	free       Freedom
	form       Form // to put the coefficients into
	names      []string
	at         []float64  // the coefficients
	scale      [3]float64 // scatter of carry, apex, descent
	rows       []fitRow   // at the coefficients
	values     int
}

// A fitRow is one measured value: what is left of it, and how what the model
// says moves with each coefficient.
type fitRow struct {
	shot, kind int
	left       float64
	slope      [3]float64
}

func newFitting(shots []Shot, c Conditions, free Freedom, start Form) *fitting {
	f := &fitting{shots: shots, conditions: c, free: free, form: start, names: []string{"drag", "lift"}, at: []float64{start.Drag, start.Lift}}
	if free == DragSpinToo {
		f.names, f.at = append(f.names, "drag with spin"), append(f.at, start.DragSpin)
	}
	f.scale = [3]float64{2, 1, 1.5 * Degree}
	return f
}

// with returns the form with the coefficients put in.
func (form Form) with(at []float64) Form {
	form.Drag, form.Lift = at[0], at[1]
	if len(at) > 2 {
		form.DragSpin = at[2]
	}
	return form
}

// outcomes returns what the model says of a shot.
func (f *fitting) outcomes(s Shot, at []float64) ([3]float64, error) {
	got, err := Model{Coefficients: f.form.with(at), Precision: fitPrecision}.Fly(s.Launch, f.conditions)
	return [3]float64{got.Carry, got.Apex, got.Descent}, err
}

// look fills the rows at some coefficients, with their slopes if asked.
func (f *fitting) look(at []float64, slopes bool) ([]fitRow, error) {
	const nudge = 5e-3
	var rows []fitRow
	for i, s := range f.shots {
		model, err := f.outcomes(s, at)
		if err != nil {
			return nil, &ShotError{Index: i, Err: err}
		}
		var moved [3][3]float64
		for k := 0; slopes && k < len(at); k++ {
			there := slices.Clone(at)
			there[k] += nudge
			if moved[k], err = f.outcomes(s, there); err != nil {
				return nil, &ShotError{Index: i, Err: err}
			}
		}
		for kind, measured := range [3]float64{s.Carry, s.Apex, s.Descent} {
			if kind > 0 && measured == 0 {
				continue
			}
			row := fitRow{shot: i, kind: kind, left: measured - model[kind]}
			for k := range at {
				row.slope[k] = (moved[k][kind] - model[kind]) / nudge
			}
			rows = append(rows, row)
		}
	}
	return rows, nil
}

// loss returns the weighted sum of squares.
func (f *fitting) loss(rows []fitRow) float64 {
	var sum float64
	for _, r := range rows {
		z := r.left / f.scale[r.kind]
		sum += z * z
	}
	return sum
}

// run finds the coefficients, then the scatter, and both again, until the
// scatter no longer matters.
func (f *fitting) run() error {
	if err := f.start(); err != nil {
		return err
	}
	for range fitRounds {
		if err := f.descend(); err != nil {
			return err
		}
		f.scatter()
	}
	return f.descend()
}

// start finds coefficients with which every shot comes down where it did: a ball
// that lifts more than the one of long ago may land on ground which that one does
// not rise to. Where none do, the first failure says which shot and why.
func (f *fitting) start() error {
	_, first := f.look(f.at, false)
	if first == nil {
		return nil
	}
	for _, share := range [][2]float64{{1, 1.5}, {.75, 1.5}, {.75, 2}, {.5, 2.5}} {
		at := slices.Clone(f.at)
		at[0] *= share[0]
		at[1] *= share[1]
		if _, err := f.look(at, true); err == nil {
			f.at = at
			return nil
		}
	}
	return first
}

// descend goes downhill to the least sum of squares for the scale as it is
// (Levenberg and Marquardt).
func (f *fitting) descend() error {
	damping := 1e-3
	var err error
	if f.rows, err = f.look(f.at, true); err != nil {
		return err
	}
	loss := f.loss(f.rows)
	for range fitSteps {
		a, g := f.normal(f.rows)
		move, ok := solveDamped(a, g, damping)
		if !ok {
			return f.untold(a)
		}
		next := slices.Clone(f.at)
		small := true
		for k := range next {
			next[k] += move[k]
			small = small && math.Abs(move[k]) < 1e-5
		}
		if small {
			return nil
		}
		if k := f.impossible(next); k >= 0 {
			if damping *= 10; damping > 1e8 {
				return &UndeterminedError{Coefficient: f.names[k], Value: f.at[k]}
			}
			continue
		}
		// With coefficients with which some shot can't have flown, the step was too long.
		if rows, err := f.look(next, true); err == nil {
			if l := f.loss(rows); l < loss {
				f.at, f.rows, loss, damping = next, rows, l, max(damping/10, 1e-9)
				continue
			}
		}
		if damping *= 10; damping > 1e8 { // as low as the precision of the flights lets it go
			return nil
		}
	}
	return nil
}

// impossible keeps the search among coefficients that a ball may have: it returns
// which of them is not, or -1.
func (f *fitting) impossible(at []float64) int {
	limits := [3][2]float64{{0.02, 1.5}, {0.01, 3}, {-3, 3}}
	for k, v := range at {
		if !(v > limits[k][0] && v < limits[k][1]) {
			return k
		}
	}
	return -1
}

// untold names the coefficient that moves the shots least.
func (f *fitting) untold(a *mat.SymDense) error {
	least := 0
	for k := range f.at {
		if a.At(k, k) < a.At(least, least) {
			least = k
		}
	}
	return &UndeterminedError{Coefficient: f.names[least]}
}

// normal returns JᵀWJ and JᵀWr.
func (f *fitting) normal(rows []fitRow) (*mat.SymDense, []float64) {
	p := len(f.at)
	a, g := mat.NewSymDense(p, nil), make([]float64, p)
	for _, r := range rows {
		w := 1 / (f.scale[r.kind] * f.scale[r.kind])
		for i := range p {
			g[i] += w * r.slope[i] * r.left
			for j := i; j < p; j++ {
				a.SetSym(i, j, a.At(i, j)+w*r.slope[i]*r.slope[j])
			}
		}
	}
	return a, g
}

func solveDamped(a *mat.SymDense, g []float64, damping float64) ([]float64, bool) {
	p := len(g)
	b := mat.NewSymDense(p, nil)
	b.CopySym(a)
	for i := range p {
		b.SetSym(i, i, a.At(i, i)*(1+damping))
	}
	var chol mat.Cholesky
	if !chol.Factorize(b) {
		return nil, false
	}
	var x mat.VecDense
	if err := chol.SolveVecTo(&x, mat.NewVecDense(p, slices.Clone(g))); err != nil {
		return nil, false
	}
	return x.RawVector().Data, true
}

// leastScatter is what a device can tell of carry, apex and descent at best.
var leastScatter = [3]float64{.05, .05, .05 * Degree}

// scatter measures the residuals of each kind, each kind having spent its share
// of the coefficients. It is never taken for less than a device can tell.
func (f *fitting) scatter() {
	var sum, n [3]float64
	for _, r := range f.rows {
		sum[r.kind] += r.left * r.left
		n[r.kind]++
	}
	f.values = len(f.rows)
	spent := float64(len(f.at)) / float64(f.values)
	for k := range sum {
		if n[k] > 0 {
			f.scale[k] = max(math.Sqrt(sum[k]/n[k]/max(1-spent, .1)), leastScatter[k])
		}
	}
}
