package flight

import (
	"fmt"
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
	Name  string  // "drag", "lift", "drag with spin"
	Value float64 // without a unit, as all coefficients of a Form
	SE    float64 // standard error of Value
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

	// Warnings name shots far from where the fit has them, and what it misses altogether.
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
	Value, SE   float64 // both 0 where any value fits; SE 0 where none fits that a ball may have

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
	case e.SE == 0 && e.Value != 0:
		doubt = fmt.Sprintf("the fit goes from %.2g to where no ball is", e.Value)
	case e.SE > 0:
		doubt = fmt.Sprintf("%.2g fits with a standard error of %.2g", e.Value, e.SE)
	}
	return fmt.Sprintf("these shots can't tell the coefficient of %s: %s. Apex or descent angle, or launches that differ more, would", e.Coefficient, doubt)
}

// An OddShotWarning names a shot far from where the fit has it. It may be a
// misread: look at it.
type OddShotWarning struct {
	Index int     // from 0
	Of    string  // "carry", "apex" or "descent"
	Times float64 // how many standard deviations of the other shots' misses it is off
}

func (w *OddShotWarning) Error() string {
	return fmt.Sprintf("the %s of shot %d is %.1f standard deviations from what its launch says: it may be misread", w.Of, w.Index+1, w.Times)
}

// A MisfitWarning says that no coefficients of the form come near what was measured,
// as with a column read in the wrong unit. Nothing said through such a fit is to
// be trusted.
type MisfitWarning struct {
	Of      string  // "carry", "apex" or "descent"
	Scatter float64 // of the fit without odd shots, m or radians
	Mean    float64 // of what was measured of the same, m or radians
}

func (w *MisfitWarning) Error() string {
	return fmt.Sprintf("the fitted flights miss the %s by %.0f %% of it: check the units, yards or metres and metres or feet, and the air", w.Of, 100*w.Scatter/w.Mean)
}

const (
	fitPrecision  = 0.01 // m
	leastToFit    = 5    // shots
	mostDoubt     = 1. / 3
	mostInflation = 10
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
// Warnings: *[OddShotWarning] for a miss that, measured by the misses of the other
// shots, is as rare as 4 standard deviations of a known law, which of few shots is
// far more than 4; *[MisfitWarning] for a scatter of the others above 5 % of the mean
// carry, 20 % of the mean apex or 15 % of the mean descent angle.
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
	c, err := c.resolved()
	if err != nil {
		return Fitted{}, err
	}
	f := newFitting(shots, c, free, Illustrative())
	if err := f.run(); err != nil {
		return Fitted{}, fmt.Errorf("flight: %w", err)
	}
	return f.result()
}
