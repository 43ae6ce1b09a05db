package flight

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// A Freedom is which of the numbers of [Illustrative] are fitted; the others are
// kept.
type Freedom int

const (
	// DragAndLift fits Form.Drag and Form.Lift: what ten shots of one club can tell.
	DragAndLift Freedom = iota

	// DragSpinToo fits Form.DragSpin as well. It takes shots with little and with
	// much spin.
	DragSpinToo
)

// A Coefficient is one fitted number of a form.
type Coefficient struct {
	Name  string // "drag", "lift", "drag with spin"
	Value float64
	SE    float64
}

// A Residual is by how much a shot went beyond what the fit says, 0 where the
// value was not measured.
type Residual struct {
	Carry, Apex float64 // m
	Descent     float64 // radians
}

// Fitted are coefficients of drag and lift that fit some shots.
type Fitted struct {
	Form       Form
	Conditions Conditions // in which the shots were taken to fly

	Coefficients []Coefficient
	Covariance   [][]float64 // of the coefficients, in their order

	// Scatter is the standard deviation of the residuals of each kind, 0 where
	// none was measured. It holds what the device gets wrong at both ends of the
	// flight and what the form does.
	Scatter   Residual
	Residuals []Residual // parallel to the shots

	N      int // shots
	Values int // measured values that were fitted

	// Warnings name shots far from where the fit has them.
	Warnings []error

	shots []Shot // for [InAir], which asks what other forms would say of them
	free  Freedom
}

// Model returns the ball of the rules with the fitted coefficients.
func (f Fitted) Model() Model { return Model{Coefficients: f.Form, Precision: fitPrecision} }

// An UndeterminedError says which coefficient some shots can't tell. It is
// always returned as *UndeterminedError, wrapped.
type UndeterminedError struct {
	Coefficient string
	Value, SE   float64 // SE is 0 where not even that can be told

	// Inflation is how many times larger its variance is than it would be if the
	// other coefficients were known. Far above 1, two of them trade against each
	// other and small errors of the launches decide; 0 where it can't be told.
	Inflation float64
}

func (e *UndeterminedError) Error() string {
	doubt := "any fits"
	switch {
	case e.Inflation > mostInflation:
		doubt = fmt.Sprintf("others make up for it, at %.0f times the variance", e.Inflation)
	case e.SE > 0:
		doubt = fmt.Sprintf("%.2g fits with a standard error of %.2g", e.Value, e.SE)
	}
	return fmt.Sprintf("these shots can't tell the coefficient of %s: %s. Apex or descent angle, or launches that differ more, would", e.Coefficient, doubt)
}

// An OddShotWarning names a shot far from where the fit has it. It may be a
// misread: look at it.
type OddShotWarning struct {
	Index int    // from 0
	Of    string // "carry", "apex" or "descent"
	Times float64
}

func (w *OddShotWarning) Error() string {
	return fmt.Sprintf("the %s of shot %d is %.1f standard deviations from what its launch says: it may be misread", w.Of, w.Index+1, w.Times)
}

const (
	fitPrecision  = 0.01 // m
	leastToFit    = 5    // shots
	mostDoubt     = 1. / 3
	mostInflation = 10
	oddTimes      = 4
	fitRounds     = 3
	fitSteps      = 40
)

// FitCoefficients returns the coefficients of drag and lift with which flights
// in the conditions given fit the shots best, by weighted least squares:
//
//	Σ (carry residual/s₁)² + (apex residual/s₂)² + (descent residual/s₃)²
//
// over whatever of the three was measured, s being the scatter of each, which is
// found along with them. The conditions matter: coefficients found in the wrong
// air or wind make up for it, and serve only to compare flights in the same.
//
// The standard errors are those of the sandwich formula with each shot as one
// cluster, since an error of its launch moves all three. They allow for scatter,
// not for the form being wrong.
//
// Errors: *[dispersion.TooFewError] below 5 shots; *[ShotError] for a shot that
// can't be or can't fly; *[UndeterminedError] where the standard error of a
// coefficient exceeds a third of it or its variance is inflated more than
// tenfold, which is what happens to carry alone; errors of [Model.Fly] for the conditions.
// Warnings: *[OddShotWarning] beyond 4 standard deviations.
//
// FitCoefficients is deterministic; 60 shots take some hundredths of a second.
//
// References: D. W. Marquardt, "An Algorithm for Least-Squares Estimation of
// Nonlinear Parameters", SIAM Journal on Applied Mathematics 11, 1963, pp.
// 431-441; J. G. MacKinnon, H. White, "Some Heteroskedasticity-Consistent
// Covariance Matrix Estimators with Improved Finite Sample Properties", Journal
// of Econometrics 29, 1985, pp. 305-325 (the sandwich); D. W. Marquardt,
// "Generalized Inverses, Ridge Regression, Biased Linear Estimation, and
// Nonlinear Estimation", Technometrics 12, 1970, pp. 591-612 (inflation above 10,
// from memory).
func FitCoefficients(shots []Shot, c Conditions, free Freedom) (Fitted, error) {
	if err := checkShots(shots, leastToFit, "fitting drag and lift"); err != nil {
		return Fitted{}, err
	}
	return fitForm(shots, c, free, Illustrative())
}

// fitForm fits some numbers of a form and keeps its others.
func fitForm(shots []Shot, c Conditions, free Freedom, start Form) (Fitted, error) {
	c, err := c.resolved()
	if err != nil {
		return Fitted{}, err
	}
	f := newFitting(shots, c, free, start)
	if err := f.run(); err != nil {
		return Fitted{}, fmt.Errorf("flight: %w", err)
	}
	return f.result()
}

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
	for range fitRounds {
		if err := f.descend(); err != nil {
			return err
		}
		f.scatter()
	}
	return f.descend()
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
			return &UndeterminedError{Coefficient: f.names[0]}
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
		if !f.possible(next) {
			if damping *= 10; damping > 1e8 {
				return &UndeterminedError{Coefficient: f.names[0], Value: f.at[0]}
			}
			continue
		}
		rows, err := f.look(next, true)
		if err != nil {
			return err
		}
		if l := f.loss(rows); l < loss {
			f.at, f.rows, loss, damping = next, rows, l, max(damping/10, 1e-9)
			continue
		}
		if damping *= 10; damping > 1e8 { // as low as the precision of the flights lets it go
			return nil
		}
	}
	return nil
}

// possible keeps the search among coefficients that a ball may have.
func (f *fitting) possible(at []float64) bool {
	ok := at[0] > 0.02 && at[0] < 1.5 && at[1] > 0.01 && at[1] < 3
	return ok && (len(at) < 3 || math.Abs(at[2]) < 3)
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

// scatter measures the residuals of each kind, each kind having spent its share
// of the coefficients. It is never taken for less than a device can tell.
func (f *fitting) scatter() {
	least := [3]float64{.05, .05, .05 * Degree}
	var sum, n [3]float64
	for _, r := range f.rows {
		sum[r.kind] += r.left * r.left
		n[r.kind]++
	}
	f.values = len(f.rows)
	spent := float64(len(f.at)) / float64(f.values)
	for k := range sum {
		if n[k] > 0 {
			f.scale[k] = max(math.Sqrt(sum[k]/n[k]/max(1-spent, .1)), least[k])
		}
	}
}
