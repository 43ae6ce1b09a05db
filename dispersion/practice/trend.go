package practice

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// A Shape is how a session begins or ends differently from its middle.
type Shape string

// The shapes that are fitted.
const (
	Fading     Shape = "fading"      // a cold start that halves again and again
	BrokenFrom Shape = "broken from" // a straight line to the level, and level from a break on
	BrokenTo   Shape = "broken to"   // level to a break, and a straight line from there
)

// A Trend is how far the first balls, or the last, were off the level of the
// rest, and how sure that is.
type Trend struct {
	Shape Shape
	Level float64 // of the balls that are off no more, or not yet

	// Off is the first ball (of a tiring pupil the last one) minus Level: Before
	// is Level, After the fitted value there. Neither way is better in itself.
	Off compare.Effect

	// Place is the half-life of a fading start, or where the line breaks, in the
	// unit of the places. Its interval is cut to where it was looked for.
	Place         float64
	PlaceInterval dispersion.Interval

	Explained float64   // share of the balls' spread
	Fitted    []float64 // at the places given
}

const (
	trendShots = 8   // balls that a trend takes
	trendGrid  = 100 // places tried
)

// ColdStart returns how far off a session began, if that faded away by halves.
// With places u from the first ball on (ball numbers, or minutes),
//
//	x = level + off·2^(-u/h)
//
// fitted by least squares over off, level and 100 half-lives h from one mean step
// between balls to a third of the way. An interval holds the values for which the
// best fit leaves
//
//	SS <= SSmin·(1 + 2·F(level; 2, n-3)/(n-3))
//
// over; two and not one degree of freedom because the place is looked for. P is
// the share of random orders of the balls that leave as little over.
//
// It assumes independent balls of equal spread. An off that reaches no further
// than its interval is nothing to warm up for; a start that takes longer than a
// third of the session to halve is a drift and not a cold start, see
// [RunChart.DriftOrStages].
//
// Name and unit label the result; nil places are ball numbers from 1. It takes
// eight balls. Simulated with sessions of 12 and 30 normal balls, the 95 %
// interval of off holds it in 96 to 99 %.
//
// Errors: [ErrMissing] for a nil context; [ErrPlaces]; *[ValueError];
// *[dispersion.TooFewError]; [dispersion.ErrLevel], [ErrResamples];
// [dispersion.ErrDegenerate] where the balls have no spread, or the curve leaves
// none; the context's error. The same inputs give the same bits on any number of
// cores.
//
// Reference: G. A. F. Seber, C. J. Wild, Nonlinear Regression, Wiley 1989,
// sections 5.2 and 9.3 (from memory).
func ColdStart(ctx context.Context, name, unit string, places, values []float64, o compare.Options) (Trend, error) {
	return fitTrend(ctx, Fading, name, unit, places, values, o)
}

// WarmUp returns the same as [ColdStart] for a start that rises, or falls, in a
// straight line to a break c and stays there:
//
//	x = level + off·max(0, 1 - u/c),  c from two mean steps to two thirds of the way
func WarmUp(ctx context.Context, name, unit string, places, values []float64, o compare.Options) (Trend, error) {
	return fitTrend(ctx, BrokenFrom, name, unit, places, values, o)
}

// Tiring returns the same for an end that leaves the level at a break c in a
// straight line, with u going from 0 to U:
//
//	x = level + off·max(0, (u-c)/(U-c)),  c from a third of the way to two mean steps before the end
func Tiring(ctx context.Context, name, unit string, places, values []float64, o compare.Options) (Trend, error) {
	return fitTrend(ctx, BrokenTo, name, unit, places, values, o)
}

// A curve is a shape with its place settled: 1 where the balls are off most.
type curve struct {
	place  float64
	unit   []float64 // centred and of length 1
	mean   float64
	length float64
}

func fitTrend(ctx context.Context, shape Shape, name, unit string, places, values []float64, o compare.Options) (Trend, error) {
	if ctx == nil {
		return Trend{}, fmt.Errorf("practice: %w", ErrMissing)
	}
	level, err := checkLevel(o.Level)
	if err != nil {
		return Trend{}, err
	}
	resamples, err := checkResamples(o.Resamples)
	if err != nil {
		return Trend{}, err
	}
	if err := checkSeries(values, trendShots, "a start or an end that is off"); err != nil {
		return Trend{}, err
	}
	if places, err = checkPlaces(places, len(values)); err != nil {
		return Trend{}, err
	}
	n := float64(len(values))
	centre := meanOf(values)
	off := make([]float64, len(values))
	var squares float64
	for i, v := range values {
		off[i] = v - centre
		squares += off[i] * off[i]
	}
	curves := shape.curves(places)
	best, most := -1, math.Inf(-1)
	along := make([]float64, len(curves))
	for i, c := range curves {
		along[i] = dot(c.unit, off)
		if s := along[i] * along[i]; s > most {
			best, most = i, s
		}
	}
	left := squares - most
	if !(left > 1e-14*squares) {
		return Trend{}, fmt.Errorf("practice: %s: %w", name, dispersion.ErrDegenerate)
	}
	limit := left * (1 + 2*distuv.F{D1: 2, D2: n - 3}.Quantile(level)/(n-3))
	c := curves[best]
	size := along[best] / c.length
	t := Trend{
		Shape: shape, Level: centre - size*c.mean, Place: c.place,
		PlaceInterval: dispersion.Interval{Low: c.place, High: c.place, Level: level},
		Explained:     most / squares,
	}
	ends := dispersion.Interval{Low: size, High: size, Level: level}
	for i, c := range curves {
		slack := limit - (squares - along[i]*along[i])
		if slack < 0 {
			continue
		}
		t.PlaceInterval.Low, t.PlaceInterval.High = min(t.PlaceInterval.Low, c.place), max(t.PlaceInterval.High, c.place)
		half := math.Sqrt(slack)
		ends.Low, ends.High = min(ends.Low, (along[i]-half)/c.length), max(ends.High, (along[i]+half)/c.length)
	}
	for i := range values {
		t.Fitted = append(t.Fitted, t.Level+size*(c.unit[i]*c.length+c.mean))
	}
	p, err := drawnP(ctx, o, resamples, "trend "+string(shape), func() func(*resample.Stream) bool {
		order := append([]float64(nil), off...)
		return func(s *resample.Stream) bool {
			shuffle(s, order)
			for _, c := range curves {
				if a := dot(c.unit, order); a*a >= most*(1-1e-9) {
					return true
				}
			}
			return false
		}
	})
	if err != nil {
		return Trend{}, err
	}
	t.Off = compare.Effect{
		Name: name, Unit: unit, Method: fmt.Sprintf("%s line by least squares; profile interval; p by permutation, %d random orders", shape, resamples),
		Before: t.Level, After: t.Level + size, N1: len(values), N2: len(values),
		Estimate: size, Interval: ends, NoBetter: true,
		P: p, PFloor: 1 / float64(resamples+1), HasP: true, Seed: o.Seed, Resamples: resamples,
	}
	return t, checkFinite(name, t.Level, t.Off.After, ends.Low, ends.High)
}

// curves returns the shape at the places tried.
func (s Shape) curves(places []float64) []curve {
	n := len(places)
	first, whole := places[0], places[n-1]-places[0]
	step := whole / float64(n-1)
	curves := make([]curve, trendGrid)
	for i := range curves {
		part := float64(i) / (trendGrid - 1)
		c := curve{unit: make([]float64, n)}
		var at func(u float64) float64
		switch s {
		case Fading:
			c.place = step * math.Pow(whole/3/step, part)
			at = func(u float64) float64 { return math.Exp2(-u / c.place) }
		case BrokenFrom:
			from := 2 * step
			c.place = from + part*(2*whole/3-from)
			at = func(u float64) float64 { return max(0, 1-u/c.place) }
		case BrokenTo:
			to := whole - 2*step
			c.place = whole/3 + part*(to-whole/3)
			at = func(u float64) float64 { return max(0, (u-c.place)/(whole-c.place)) }
		}
		for j, p := range places {
			c.unit[j] = at(p - first)
		}
		c.mean = meanOf(c.unit)
		for j := range c.unit {
			c.unit[j] -= c.mean
		}
		c.length = math.Sqrt(dot(c.unit, c.unit))
		for j := range c.unit {
			c.unit[j] /= c.length
		}
		if s != Fading {
			c.place += first // where on the axis of the places, not how far from the first
		}
		curves[i] = c
	}
	return curves
}

// checkPlaces returns the places, ball numbers where there are none.
func checkPlaces(places []float64, n int) ([]float64, error) {
	if places == nil {
		places = make([]float64, n)
		for i := range places {
			places[i] = float64(i + 1)
		}
		return places, nil
	}
	if len(places) != n {
		return nil, fmt.Errorf("practice: %d places of %d values: %w", len(places), n, ErrPlaces)
	}
	if err := checkValues(places); err != nil {
		return nil, err
	}
	for i, p := range places[1:] {
		if !(p > places[i]) {
			return nil, fmt.Errorf("practice: place %d is %g after %g: %w", i+2, p, places[i], ErrPlaces)
		}
	}
	return places, nil
}

func dot(a, b []float64) float64 {
	var sum float64
	for i, v := range a {
		sum += float64(v * b[i])
	}
	return sum
}

// checkFinite refuses what overflowed on the way.
func checkFinite(name string, values ...float64) error {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("practice: %s: %w", name, dispersion.ErrOverflow)
		}
	}
	return nil
}
