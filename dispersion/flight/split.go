package flight

import (
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// The parts of a split, in the order in which they are told.
const (
	PartSpeed     = "ball speed"
	PartAngle     = "launch angle"
	PartSpin      = "spin"
	PartDirection = "direction and axis" // start line and tilt of the spin axis
	PartRest      = "rest"               // what none of these went with
)

var partNames = [parts]string{PartSpeed, PartAngle, PartSpin, PartDirection}

// parts is how many parts there are beside the rest.
const parts = 4

// A Share is how much of a gain moved along with something.
type Share struct {
	Estimate float64 // in the Unit of its Split; of Shapes, where 1 is all
	Interval dispersion.Interval
}

// An Agreement is what two ways to take a gain apart say of each other.
type Agreement string

const (
	Agree    Agreement = "agree"      // they fit each other, and both are sure enough to say
	Disagree Agreement = "disagree"   // their difference can't be chance alone
	Unsure   Agreement = "can't tell" // they fit each other, but would fit almost anything
)

// A Part is what of a gain moved along with one thing.
type Part struct {
	Name       string
	Flight     Share  // by the fitted flights
	Regression *Share // by the measured columns alone; nil where the split has none
	Agreement  Agreement
}

// A Split is a change of a mean, after minus before, taken apart.
type Split struct {
	Of            string  // "carry", "height" or "curve"
	Unit          string  // m
	Before, After float64 // the means
	Gain          float64 // After minus Before
	N1, N2        int
	Parts         []Part // they add up to the gain, whichever way they were found

	// Agreement of the two ways over all parts: [Disagree] if they do in one, else
	// [Unsure] if they can't tell in one. It is [Unsure] without a regression.
	Agreement Agreement

	Level     float64
	Resamples int
	Seed      uint64

	// Warnings tell why there is no regression, and what else a reader must know.
	Warnings []error
}

// Splits are the changes of one pair of stages taken apart.
type Splits struct {
	Carry  Split  // of the mean carry
	Height *Split // of the apex; nil where it was not measured of every shot
	Curve  *Split // right of the start line positive; nil where before or after have no start lines
}

// ErrNoRegression is the warning that a split has no second opinion.
var ErrNoRegression = errors.New("the measured columns can't be asked without physics: the shots are too few for them, or columns move together or hardly at all")

const (
	leastToSplit          = 5
	defaultSplitResamples = 1000
)

// SplitGain takes the changes of mean carry, height and curve from the shots
// before to those after apart into what moved along with ball speed, launch
// angle, spin, direction and axis, and the rest.
//
// By the fitted flights: every shot before is paired with every shot after, and
// flown with each set of the four taken from the one after and the others from
// the one before. The part of each is what it adds on average over all orders of
// changing them (Shapley), and the rest is what the flights leave. So the parts
// add up to the gain, and no order is preferred. The misreading to prevent: they
// say what moved along, not what caused what: a cleaner strike moves ball speed,
// launch and spin together.
//
// By regression, without physics: the measured value on ball speed, launch angle,
// spin, start line, tilt and the stage, by least squares; a part is a slope times
// the change of the mean. It is far less sure, and shares no assumption with the
// flights but the columns.
//
// Intervals resample the shots of both stages and draw the coefficients of the
// fit from their covariance and the form from [FormDoubt]: percentiles, widened for few shots. Two ways
// disagree where the interval of their difference, at a level shared out over the
// parts, leaves out 0; they can't tell where it is wider than the
// gain and than two standard deviations of the shots.
//
// With o.Resamples of 0 it takes 1,000. o.Block does not matter.
//
// Errors: [ErrMissing]; *[dispersion.TooFewError] below 5 shots a side;
// *[ShotError], the shots after being counted on from those before;
// [dispersion.ErrLevel]; [compare.ErrResamples]; *[UndeterminedError] as for
// [InAir]; the context's error. Warnings: [ErrNoRegression].
//
// The answer depends on the seed and not on the number of cores. It flies n₁·n₂·16·9
// balls: 12 against 12 take a fifth of a second, 30 against 30 more than one.
//
// References: for the parts see Shapley 1953, and A. F. Shorrocks, "Decomposition
// Procedures for Distributional Analysis: A Unified Framework Based on the
// Shapley Value", Journal of Economic Inequality 11, 2013, pp. 99-126; for the
// regression A. S. Blinder, "Wage Discrimination: Reduced Form and Structural
// Estimates", Journal of Human Resources 8, 1973, pp. 436-455; for the widening T.
// C. Hesterberg, "What Teachers Should Know About the Bootstrap", The American
// Statistician 69, 2015, pp. 371-386 (all from memory).
func SplitGain(ctx context.Context, before, after []Shot, f Fitted, o compare.Options) (Splits, error) {
	o, err := splitOptions(ctx, before, after, o)
	if err != nil {
		return Splits{}, err
	}
	if err := f.check(); err != nil {
		return Splits{}, err
	}
	s := &splitting{before: before, after: after, fit: f, options: o}
	s.columns = s.regressors()
	if err := s.fly(ctx); err != nil {
		return Splits{}, err
	}
	if err := s.resample(ctx); err != nil {
		return Splits{}, err
	}
	out := Splits{Carry: s.split(0)}
	if s.measured(1) {
		height := s.split(1)
		out.Height = &height
	}
	if s.measured(2) {
		curve := s.split(2)
		out.Curve = &curve
	}
	return out, nil
}

// splitOptions checks what every split needs.
func splitOptions(ctx context.Context, before, after []Shot, o compare.Options) (compare.Options, error) {
	if n := min(len(before), len(after)); ctx != nil && n < leastToSplit {
		return o, tooFew(n, leastToSplit, "taking a gain apart, before and after alike,")
	}
	return groupOptions(ctx, append(append([]Shot{}, before...), after...), "taking a gain apart", o)
}

// groupOptions checks what everything with resamples needs.
func groupOptions(ctx context.Context, shots []Shot, what string, o compare.Options) (compare.Options, error) {
	if ctx == nil {
		return o, fmt.Errorf("flight: no context: %w", ErrMissing)
	}
	if o.Level == 0 {
		o.Level = 0.95
	}
	if o.Resamples == 0 {
		o.Resamples = defaultSplitResamples
	}
	switch {
	case !(o.Level > 0 && o.Level < 1):
		return o, fmt.Errorf("flight: level %g: %w", o.Level, dispersion.ErrLevel)
	case o.Resamples < 0 || o.Resamples > resample.Most:
		return o, fmt.Errorf("flight: %d resamples: %w", o.Resamples, compare.ErrResamples)
	}
	return o, checkShots(shots, leastToSplit, what)
}

// An outcome is what of a flight is taken apart.
type outcome struct {
	name      string
	fromStart bool // whether it is counted from the start line
	measured  func(Shot) (v float64, ok bool)
	flown     func(Launch, Flight) float64
}

var splitOutcomes = [3]outcome{
	{"carry", false, func(s Shot) (float64, bool) { return s.Carry, true }, func(_ Launch, f Flight) float64 { return f.Carry }},
	{"height", false, func(s Shot) (float64, bool) { return s.Apex, s.Apex != 0 }, func(_ Launch, f Flight) float64 { return f.Apex }},
	{"curve", true, func(s Shot) (float64, bool) { return s.Curve(), true }, func(l Launch, f Flight) float64 { return f.Side - f.Carry*math.Tan(l.Direction) }},
}
