package practice

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"gonum.org/v1/gonum/stat/distuv"
)

// curveSessions is how many sessions a curve takes: with fewer its three numbers
// follow single days.
const curveSessions = 10

// A Curve is how one pupil's measure went over the sessions, fast at first and then
// levelling off.
type Curve struct {
	Name, Unit string
	At, Values []float64 // the sessions themselves: when, and the measure

	Start    Estimate // the curve at the first session
	HalfLife Estimate // in the unit of At: until half of what is left is gained

	// Plateau is where the curve levels off, if the sessions tell: HasPlateau.
	Plateau    Estimate
	HasPlateau bool

	Fitted []Estimate // the curve at each session
	SD     float64    // session to session around the curve

	// AICc of the curve and of a flat line: the smaller explains the sessions better
	// for the numbers that it has to choose.
	AICc, FlatAICc float64

	// Warnings tell what a reader must know before trusting the numbers above.
	Warnings []error
}

// An Estimate is a value with its interval.
type Estimate struct {
	Value    float64
	Interval dispersion.Interval
}

// PracticeCurve returns the exponential curve through the sessions of one pupil,
//
//	value = plateau + (start-plateau)·exp(-ln 2·(at-first)/halfLife)
//
// by least squares: at is when each session was, its number or its day. The
// half-life is looked for between a quarter of the mean distance of sessions and
// four times the whole time. The intervals are those of the profile: the values
// with which some curve leaves a sum of squares of no more than
//
//	least·(1 + F(level; 1, n-3)/(n-3))
//
// Fit each pupil alone: the mean curve of many pupils has another shape than
// theirs. It assumes independent sessions of equal spread, so means of about as
// many balls. It is performance, what was hit on the day; whether it was kept
// shows at a later session's first balls. A curve that has levelled off is not
// the pupil's limit but that of this practice.
//
// It takes ten sessions at four or more different times. With fewer there is no
// curve: the result then has the sessions alone, beside a *[CurveError].
//
// Errors: *[CurveError]; [ErrColumns]; *[ColumnValueError]; [dispersion.ErrLevel];
// [dispersion.ErrDegenerate] where the sessions lie on a curve exactly or have no
// spread. Warnings: [ErrFlat], [ErrNoPlateau]. Level 0 means 0.95. Deterministic.
//
// References: A. Heathcote, S. Brown, D. J. K. Mewhort, "The Power Law Repealed: The
// Case for an Exponential Law of Practice", Psychonomic Bulletin & Review 7(2),
// 2000, pp. 185-207. D. M. Bates, D. G. Watts, Nonlinear Regression Analysis and
// Its Applications, Wiley 1988, chapter 6, for the intervals.
func PracticeCurve(name, unit string, at, values []float64, level float64) (Curve, error) {
	o, err := FitOptions{Level: level}.resolved()
	if err != nil {
		return Curve{}, err
	}
	if err := checkColumn("the times of sessions", at, len(values)); err != nil {
		return Curve{}, err
	}
	if err := checkColumn(name, values, len(values)); err != nil {
		return Curve{}, err
	}
	c := Curve{Name: name, Unit: unit, At: append([]float64(nil), at...), Values: append([]float64(nil), values...)}
	n := len(values)
	if n < curveSessions {
		return c, fmt.Errorf("practice: %s: %w", name, &CurveError{n, curveSessions})
	}
	f, err := newCurveFit(at, values)
	if err != nil {
		return Curve{}, fmt.Errorf("practice: %s: %w", name, err)
	}
	best := f.best()
	if !(best.squares > 1e-20*f.total) {
		return Curve{}, fmt.Errorf("practice: %s: nothing is left over: %w", name, dispersion.ErrDegenerate)
	}
	N := float64(n)
	cut := best.squares * (1 + distuv.F{D1: 1, D2: N - 3}.Quantile(o.Level)/(N-3))
	within := f.within(cut, best)
	c.SD = math.Sqrt(best.squares/(N-3)) * f.unit
	c.AICc, c.FlatAICc = aicc(best.squares, N, 4), aicc(f.total, N, 2)
	estimate := func(plateau, gap float64) Estimate { // of plateau·A + gap·B, for e = gap at that time
		return f.profile(within, best, cut, o.Level, func(linearCurve) (float64, float64) { return plateau, gap })
	}
	c.Start = estimate(1, 1)
	for _, x := range f.at {
		c.Fitted = append(c.Fitted, f.profile(within, best, cut, o.Level, func(l linearCurve) (float64, float64) { return 1, math.Exp(-l.rate * x) }))
	}
	slow, fast := within[0].rate, within[len(within)-1].rate
	c.HalfLife = Estimate{
		Value:    math.Ln2 / best.rate * f.span,
		Interval: dispersion.Interval{Low: math.Ln2 / fast * f.span, High: math.Ln2 / slow * f.span, Level: o.Level},
	}
	if c.HasPlateau = slow > f.slowest*(1+1e-9); c.HasPlateau {
		c.Plateau = estimate(1, 0)
	} else {
		c.Warnings = append(c.Warnings, ErrNoPlateau)
	}
	if c.FlatAICc <= c.AICc {
		c.Warnings = append(c.Warnings, ErrFlat)
	}
	return c, nil
}

// aicc is Akaike's criterion, corrected for few values: k numbers were chosen.
func aicc(squares, n, k float64) float64 {
	return n*math.Log(squares/n) + 2*k + 2*k*(k+1)/(n-k-1)
}
