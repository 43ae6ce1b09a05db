package flight

import (
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
)

// FormDoubt is how unsure the numbers of [Illustrative] are that a fit keeps, as
// standard deviations: .18 of DragSpin, .06 of DragReynolds and .2 of LiftPower.
// Balls differ by as much; our own choice, no source. Whatever is said through a
// fit says it with that doubt: the fit is made again with each of them lower and
// higher by so much, and half the difference counts as a standard error.
func FormDoubt() Form { return Form{DragSpin: .18, DragReynolds: .06, LiftPower: .2} }

// doubts are the models to look through for how unsure a value is: the fitted
// one, one for each coefficient a little larger, then two for each number of the
// form, lower and higher.
type doubts struct {
	models []Model
	root   *mat.TriDense // its product with its transpose is the covariance of the coefficients
}

const (
	coefficientNudge = 5e-3
	formNumbers      = 3
)

func (f Fitted) doubts() (doubts, error) {
	d := doubts{models: []Model{f.Model()}}
	at := make([]float64, len(f.Coefficients))
	for k, c := range f.Coefficients {
		at[k] = c.Value
	}
	for k := range at {
		at[k] += coefficientNudge
		m := f.Model()
		m.Coefficients = f.Form.with(at)
		d.models = append(d.models, m)
		at[k] -= coefficientNudge
	}
	off := FormDoubt()
	for number := range formNumbers {
		for _, way := range []float64{-1, 1} {
			start := Illustrative()
			switch number {
			case 0: // where the drag with spin is fitted, this changes only where the search begins
				start.DragSpin += way * off.DragSpin
			case 1:
				start.DragReynolds += way * off.DragReynolds
			case 2:
				start.LiftPower += way * off.LiftPower
			}
			// No standard error is asked of it, so it need not be one that tells them well.
			other := newFitting(f.shots, f.Conditions, f.free, start)
			if err := other.run(); err != nil {
				return d, fmt.Errorf("flight: with a ball of another form: %w", err)
			}
			d.models = append(d.models, Model{Coefficients: other.form.with(other.at), Precision: fitPrecision})
		}
	}
	p := len(f.Coefficients)
	covariance := mat.NewSymDense(p, nil)
	for i := range p {
		for j := i; j < p; j++ {
			covariance.SetSym(i, j, f.Covariance[i][j])
		}
	}
	d.root = mat.NewTriDense(p, mat.Lower, nil)
	var chol mat.Cholesky
	if chol.Factorize(covariance) { // else the fit is exact and leaves no doubt
		chol.LTo(d.root)
	}
	return d, nil
}

// slopes turns what the models say, in their order, into how a value moves: with
// each coefficient, then with one standard deviation of each number of the form.
func (d doubts) slopes(values []float64) []float64 {
	p, _ := d.root.Dims()
	slopes := make([]float64, p+formNumbers)
	for k := range p {
		slopes[k] = (values[1+k] - values[0]) / coefficientNudge
	}
	for number := range formNumbers {
		low := 1 + p + 2*number
		slopes[p+number] = (values[low+1] - values[low]) / 2
	}
	return slopes
}

// se returns the standard errors that the fit and the form give a value with such
// slopes.
func (d doubts) se(slopes []float64) (fit, form float64) {
	p, _ := d.root.Dims()
	for j := range p {
		var along float64
		for i := j; i < p; i++ {
			along += slopes[i] * d.root.At(i, j)
		}
		fit += along * along
	}
	for _, s := range slopes[p:] {
		form += s * s
	}
	return math.Sqrt(fit), math.Sqrt(form)
}

// draw draws how far the coefficients are from the fitted ones, and the numbers of
// the form from those that were kept, the latter in standard deviations.
func (d doubts) draw(normal *rand.Rand) []float64 {
	p, _ := d.root.Dims()
	shift := make([]float64, p+formNumbers)
	for j := range p {
		z := normal.NormFloat64()
		for i := j; i < p; i++ {
			shift[i] += d.root.At(i, j) * z
		}
	}
	for number := range formNumbers {
		shift[p+number] = normal.NormFloat64()
	}
	return shift
}

// none is the shift of the fit as it is.
func (d doubts) none() []float64 {
	p, _ := d.root.Dims()
	return make([]float64, p+formNumbers)
}

// check tells a fit from a value that only looks like one.
func (f Fitted) check() error {
	p := len(f.Coefficients)
	ok := p >= 2 && p <= 3 && len(f.Covariance) == p && len(f.shots) >= leastToFit
	for _, row := range f.Covariance {
		ok = ok && len(row) == p
	}
	if !ok {
		return fmt.Errorf("flight: no fit: use what FitCoefficients has returned: %w", ErrMissing)
	}
	return nil
}
