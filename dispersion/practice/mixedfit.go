package practice

import (
	"fmt"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
	"gonum.org/v1/gonum/stat/distuv"
)

// A MixedFit is a fitted [Model].
type MixedFit struct {
	Name, Unit, Method string
	N                  int
	Criterion          float64       // -2 ln of the likelihood, restricted or full
	Fixed              []Coefficient // the intercept first
	Random             []RandomPart  // in the order of the model
	SD                 float64       // of the rest: shot to shot, when the values are shots
	Level              float64       // of all intervals

	// Fitted are the shrunken fitted values: what the model expects of each value,
	// given its session, its pupil and its stage.
	Fitted []float64

	// Warnings tell what a reader must know before trusting the numbers above.
	Warnings []error

	built   *built
	state   *remlState
	ml      bool
	infer   *remlInference
	df      []float64 // of each built term: what tells how its levels differ
	weights []float64 // to turn the coefficients as used into the intercept
}

// A Coefficient is a fixed effect.
type Coefficient struct {
	Name         string
	Estimate, SE float64 // in the unit of the values, with its standard error
	DF           float64 // Satterthwaite's
	Interval     dispersion.Interval
	P            float64 // two-sided, of a true value of 0
}

// A RandomPart is what a term amounts to.
type RandomPart struct {
	Name   string
	SD     float64     // of the deviations; 0 where chance among shots explains all
	Levels []Deviation // the deviation of each level
}

// A Deviation is how far a level lies from what the fixed part expects, shrunken
// toward 0 by as much as its shots are few and the levels alike.
type Deviation struct {
	Of           string  // the level, such as a session or a pupil
	N            int     // values of this level
	Estimate, SE float64 // in the unit of the values, with its standard error
	Interval     dispersion.Interval
}

func (b *built) fit(m Model, o FitOptions, s *remlState, criterion float64) (MixedFit, error) {
	c := b.data
	nu := c.freedom(o.ML)
	infer, ok := s.infer()
	f := MixedFit{
		Name: m.Name, Unit: m.Unit, Method: "restricted maximum likelihood", N: c.shots, Level: o.Level,
		Criterion: criterion, SD: math.Sqrt(s.q/nu) * c.yScale,
		built: b, state: s, ml: o.ML, infer: infer,
	}
	if o.ML {
		f.Method = "maximum likelihood"
	}
	for k, t := range b.terms {
		df := c.levelFreedom(k, s.lambda)
		f.df = append(f.df, df)
		if df < 1 {
			return MixedFit{}, fmt.Errorf("practice: %s: %w", m.Name, &AliasedError{m.Random[t.at].Name})
		}
	}
	if !ok {
		// The finest term is the one that its shots are too few for.
		return MixedFit{}, fmt.Errorf("practice: %s: %w", m.Name, &AliasedError{m.Random[b.terms[0].at].Name})
	}
	f.weights = make([]float64, 1+len(b.columns))
	f.weights[0] = 1
	for j := range b.columns {
		f.weights[j+1] = -b.centre[j] / b.unit[j]
	}
	f.Fixed = append(f.Fixed, f.coefficient("intercept", f.weights, b.yCentre))
	for j, x := range m.Fixed {
		w := make([]float64, len(f.weights))
		w[j+1] = 1 / b.unit[j]
		f.Fixed = append(f.Fixed, f.coefficient(x.Name, w, 0))
	}
	f.Random = make([]RandomPart, len(b.terms))
	for k, t := range b.terms {
		f.Random[t.at] = f.part(m.Random[t.at].Name, k)
		if f.Random[t.at].SD == 0 {
			f.Warnings = append(f.Warnings, &NoVarianceWarning{m.Random[t.at].Name})
		}
		if need := levelsNeeded(o.Level) + len(t.names) - int(f.df[k]); len(t.names) < need {
			f.Warnings = append(f.Warnings, &FewLevelsWarning{m.Random[t.at].Name, len(t.names), need})
		}
	}
	f.fitted()
	err := f.sound()
	return f, err
}

// levelsNeeded returns the degrees of freedom from which the interval of a known
// normal law's standard deviation reaches no further than twice the estimate.
func levelsNeeded(level float64) int {
	df := 1
	for df < 10_000 && float64(df)/(distuv.ChiSquared{K: float64(df)}).Quantile((1-level)/2) > 4 {
		df++
	}
	return df
}

// coefficient returns the combination of the coefficients as used, plus an offset.
func (f *MixedFit) coefficient(name string, weights []float64, offset float64) Coefficient {
	estimate, variance, df := f.infer.contrast(weights)
	// Of a sum of mean squares, Satterthwaite's df are never below the smallest of
	// theirs; uneven sessions can bring the formula below, even to 1 and less.
	df = max(df, slices.Min(f.df))
	scale := f.built.data.yScale
	se := f.SD * math.Sqrt(variance)
	estimate = offset + scale*estimate
	t := distuv.StudentsT{Sigma: 1, Nu: df}
	half := se * t.Quantile((1+f.Level)/2)
	return Coefficient{
		Name: name, Estimate: estimate, SE: se, DF: df,
		Interval: dispersion.Interval{Low: estimate - half, High: estimate + half, Level: f.Level},
		P:        2 * t.CDF(-math.Abs(estimate/se)),
	}
}

// Contrast returns a combination of the coefficients, in the order of Fixed, the
// intercept's weight first: one stage against another that isn't the first, say.
//
// Errors: [ErrColumns] where the weights are not as many as the coefficients or
// are all 0; *[ColumnValueError].
func (f MixedFit) Contrast(name string, weights []float64) (Coefficient, error) {
	if f.infer == nil {
		return Coefficient{}, fmt.Errorf("practice: %s: no fit: %w", name, ErrColumns)
	}
	if err := checkColumn(name, weights, len(f.Fixed)); err != nil {
		return Coefficient{}, err
	}
	w := make([]float64, len(weights))
	var largest float64
	for j, v := range weights {
		largest = max(largest, math.Abs(v))
		w[j] = weights[0] * f.weights[j]
		if j > 0 {
			w[j] += v / f.built.unit[j-1]
		}
	}
	if largest == 0 {
		return Coefficient{}, fmt.Errorf("practice: %s: all weights are 0: %w", name, ErrColumns)
	}
	return f.coefficient(name, w, weights[0]*f.built.yCentre), nil
}

// part returns the deviations of a term.
func (f *MixedFit) part(name string, k int) RandomPart {
	t := f.built.terms[k]
	p := RandomPart{Name: name, SD: f.SD * math.Sqrt(f.state.lambda[k]) / t.unit}
	quantile := distuv.StudentsT{Sigma: 1, Nu: f.df[k]}.Quantile((1 + f.Level) / 2)
	for i, of := range t.names {
		u, mse := f.infer.deviation(k, i)
		d := Deviation{Of: of, N: t.counts[i], Estimate: u * f.built.data.yScale / t.unit, SE: f.SD * math.Sqrt(max(0, mse)) / t.unit}
		half := quantile * d.SE
		d.Interval = dispersion.Interval{Low: d.Estimate - half, High: d.Estimate + half, Level: f.Level}
		p.Levels = append(p.Levels, d)
	}
	return p
}

// fitted fills in the shrunken fitted values.
func (f *MixedFit) fitted() {
	b, c := f.built, f.built.data
	f.Fitted = make([]float64, c.shots)
	for i := range f.Fitted {
		v := -f.infer.e[c.fixed[0]]
		for j, x := range b.columns {
			v -= f.infer.e[c.fixed[0]+1+j] * x[i]
		}
		f.Fitted[i] = b.yCentre + v*c.yScale
	}
	for _, t := range b.terms {
		levels := f.Random[t.at].Levels
		for i := range f.Fitted {
			f.Fitted[i] += levels[t.of[i]].Estimate * t.times[i] * t.unit
		}
	}
}

// sound refuses a fit with a number that is none.
func (f *MixedFit) sound() error {
	numbers := append([]float64{f.Criterion, f.SD}, f.Fitted...)
	for _, c := range f.Fixed {
		numbers = append(numbers, c.Estimate, c.SE, c.DF, c.Interval.Low, c.Interval.High, c.P)
	}
	for _, p := range f.Random {
		numbers = append(numbers, p.SD)
		for _, d := range p.Levels {
			numbers = append(numbers, d.Estimate, d.SE)
		}
	}
	for _, v := range numbers {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			name := f.Name
			*f = MixedFit{}
			return fmt.Errorf("practice: %s: %w", name, dispersion.ErrOverflow)
		}
	}
	return nil
}
