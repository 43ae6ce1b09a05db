package strokes

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"github.com/landfall-golf/landfall/dispersion"
)

// A PuttFit tells how a putting model was fitted and how well it fits.
type PuttFit struct {
	Parameters    []Parameter // in the order of the model's fields
	LogLikelihood float64     // at the estimates
	Rows          int         // distances
	Putts         int         // putts in all
	Level         float64

	// Deviance is twice the log likelihood that is lost against a model with a
	// share of its own at every distance. Where the model holds and every
	// distance has many putts it is about Rows less the parameters. It is 0
	// with HasDeviance false for a fit by [FitAngleDistance], where the extra
	// error takes up the misfit.
	Deviance    float64
	HasDeviance bool

	// Warnings: *[MisfitWarning], *[ThinWarning].
	Warnings []error
}

// A Parameter is an estimate with its standard error and interval.
type Parameter struct {
	Name     string
	Value    float64 // in the unit that the model gives for it
	SE       float64 // standard error of Value
	Interval dispersion.Interval
}

// A MisfitWarning tells that the counts lie further from the fitted curve than
// chance would put them in one lesson out of a thousand. Neighbouring distances
// are joined for it until five putts holed and five missed are expected, since
// the deviance of fewer follows no χ².
type MisfitWarning struct {
	Deviance float64 // as PuttFit.Deviance, of the joined distances
	DF       int     // joined distances less parameters
}

func (w *MisfitWarning) Error() string {
	return fmt.Sprintf("the curve misses the counts by more than chance: a deviance of %.0f where about %d would be usual; use it as a description only", w.Deviance, w.DF)
}

// A ThinWarning tells that a distance has too few putts for the normal law that
// the fit takes the shares to follow.
type ThinWarning struct {
	Distance float64 // of the first such count, metres
	Have     int     // putts from there
	Need     int     // putts that would do
}

func (w *ThinWarning) Error() string {
	return fmt.Sprintf("%d putts from %.2f m are too few for this fit, which needs %d there: join distances, or fit the angle alone", w.Have, w.Distance, w.Need)
}

// fitLevel is the level of the intervals of a fit's parameters.
const fitLevel = 0.95

// FitAngle returns the [AngleModel] under which the counts are most likely, each
// count being binomial. The standard error is from the curvature of the log
// likelihood, the interval symmetric in log σ.
//
// It assumes that putts are independent. One distance is enough.
//
// Errors: [ErrMissing] for no counts; [ErrPutts]; [ErrNoFit], as where every
// putt or none was holed. Warnings: *[MisfitWarning].
func FitAngle(putts []PuttCount) (AngleModel, PuttFit, error) {
	tried, err := checkPutts(putts, 1, "an angle")
	if err != nil {
		return AngleModel{}, PuttFit{}, err
	}
	if noContrast(putts) {
		return AngleModel{}, PuttFit{}, fmt.Errorf("strokes: an angle: all putts or none were holed: %w", ErrNoFit)
	}
	model := func(x []float64) AngleModel { return AngleModel{Angle: math.Exp(x[0])} }
	best, err := mostLikelyPositive([]float64{math.Log(0.03)}, func(x []float64) float64 {
		return binomialLoss(putts, model(x).shares)
	})
	if err != nil {
		return AngleModel{}, PuttFit{}, fmt.Errorf("strokes: an angle: %w", err)
	}
	m := model(best.at)
	if err := m.check(); err != nil {
		return AngleModel{}, PuttFit{}, fmt.Errorf("%w: %w", err, ErrNoFit)
	}
	fit := newBinomialFit(putts, tried, best.loss, 1, m.shares)
	fit.Parameters = []Parameter{positive("angle", best, 0)}
	return m, fit, nil
}

// FitLogistic returns the [LogisticModel] under which the counts are most
// likely, each count being binomial. The slope is per metre.
//
// Errors: [ErrMissing] below two distances; [ErrPutts]; [ErrNoFit], as where a
// distance divides all misses from all hits. Warnings: *[MisfitWarning].
func FitLogistic(putts []PuttCount) (LogisticModel, PuttFit, error) {
	tried, err := checkPutts(putts, 2, "a logistic curve")
	if err != nil {
		return LogisticModel{}, PuttFit{}, err
	}
	if divided(putts) {
		return LogisticModel{}, PuttFit{}, fmt.Errorf("strokes: a logistic curve: a distance divides the putts holed from those missed: %w", ErrNoFit)
	}
	model := func(x []float64) LogisticModel { return LogisticModel{Intercept: x[0], Slope: x[1]} }
	best, err := mostLikely([]float64{1, -0.3}, func(x []float64) float64 {
		return binomialLoss(putts, model(x).shares)
	})
	if err != nil {
		return LogisticModel{}, PuttFit{}, fmt.Errorf("strokes: a logistic curve: %w", err)
	}
	m := model(best.at)
	if !(m.Slope <= 0) {
		return LogisticModel{}, PuttFit{}, fmt.Errorf("strokes: a logistic curve: more putts were holed from further away: %w", ErrNoFit)
	}
	fit := newBinomialFit(putts, tried, best.loss, 2, m.shares)
	fit.Parameters = []Parameter{plain("intercept", best, 0), plain("slope", best, 1)}
	return m, fit, nil
}

// FitAngleDistance returns the [AngleDistanceModel] under which the shares holed
// are most likely. Each share y/n is taken to be normal around the curve p with
// a variance that has a part of its own for what the curve can't know:
//
//	p(1-p)/n + e² + 1/(12n²)
//
// where e, the parameter "extra", is common to all distances and the last term
// is the rounding of a share to whole putts, without which putts that can't miss
// would be weighed as exact knowledge. Where chance alone explains the
// counts e is 0, and there is no such parameter. With tens of thousands of putts at
// each distance a plain binomial fit follows the shortest putts alone and
// misses the long ones; e prevents that.
//
// It needs three distances, and many putts from each.
//
// Errors: [ErrMissing] below three distances; [ErrPutts]; [ErrNoFit].
// Warnings: *[ThinWarning].
//
// Reference: A. Gelman, "Model building and expansion for golf putting", Stan
// case studies 6, 2019.
func FitAngleDistance(putts []PuttCount) (AngleDistanceModel, PuttFit, error) {
	tried, err := checkPutts(putts, 3, "an angle and a distance spread")
	if err != nil {
		return AngleDistanceModel{}, PuttFit{}, err
	}
	if noContrast(putts) {
		return AngleDistanceModel{}, PuttFit{}, fmt.Errorf("strokes: an angle and a distance spread: all putts or none were holed: %w", ErrNoFit)
	}
	model := func(x []float64) AngleDistanceModel {
		return AngleDistanceModel{Angle: math.Exp(x[0]), Distance: math.Exp(x[1])}
	}
	start := []float64{math.Log(0.02), math.Log(0.1), math.Log(0.01)}
	best, err := mostLikelyPositive(start, func(x []float64) float64 {
		return shareLoss(putts, model(x), math.Exp(x[2]))
	})
	if err != nil { // chance alone may explain the counts: then log e has no minimum
		best, err = mostLikelyPositive(start[:2], func(x []float64) float64 { return shareLoss(putts, model(x), 0) })
	}
	if err != nil {
		return AngleDistanceModel{}, PuttFit{}, fmt.Errorf("strokes: an angle and a distance spread: %w", err)
	}
	m := model(best.at)
	if err := m.check(); err != nil {
		return AngleDistanceModel{}, PuttFit{}, fmt.Errorf("%w: %w", err, ErrNoFit)
	}
	fit := PuttFit{LogLikelihood: -best.loss, Rows: len(putts), Putts: tried, Level: fitLevel}
	fit.Parameters = []Parameter{positive("angle", best, 0), positive("distance", best, 1)}
	if len(best.at) == 3 {
		fit.Parameters = append(fit.Parameters, positive("extra", best, 2))
	}
	for _, p := range putts {
		// The usual rule for a normal share: five holed and five missed.
		holed, missed := m.shares(p.Distance)
		if less := min(holed, missed); float64(p.Tried)*less < 5 && less > 1e-4 {
			fit.Warnings = append(fit.Warnings, &ThinWarning{Distance: p.Distance, Have: p.Tried, Need: int(math.Ceil(5 / less))})
			break
		}
	}
	return m, fit, nil
}

// noContrast tells whether all putts were holed, or none.
func noContrast(putts []PuttCount) bool {
	all, none := true, true
	for _, p := range putts {
		all = all && p.Holed == p.Tried
		none = none && p.Holed == 0
	}
	return all || none
}

// divided tells whether every putt holed was at most, or at least, as long as
// every putt missed: the likelihood then grows without end.
func divided(putts []PuttCount) bool {
	shortHit, longHit := math.Inf(1), math.Inf(-1)
	shortMiss, longMiss := math.Inf(1), math.Inf(-1)
	for _, p := range putts {
		if p.Holed > 0 {
			shortHit, longHit = min(shortHit, p.Distance), max(longHit, p.Distance)
		}
		if p.Holed < p.Tried {
			shortMiss, longMiss = min(shortMiss, p.Distance), max(longMiss, p.Distance)
		}
	}
	return longHit <= shortMiss || longMiss <= shortHit
}

// binomialLoss is half the deviance of the counts: what the curve loses in log
// likelihood against a share of its own for every distance. The binomial
// coefficients, which would cost digits, are no part of it.
func binomialLoss(putts []PuttCount, shares func(float64) (holed, missed float64)) float64 {
	var loss float64
	for _, p := range putts {
		holed, missed := shares(p.Distance)
		n, y := float64(p.Tried), float64(p.Holed)
		loss += xlogy(y, y/n/holed) + xlogy(n-y, (n-y)/n/missed)
	}
	return loss
}

func shareLoss(putts []PuttCount, m AngleDistanceModel, extra float64) float64 {
	var loss float64
	for _, p := range putts {
		holed, missed := m.shares(p.Distance)
		n := float64(p.Tried)
		variance := holed*missed/n + extra*extra + 1/(12*n*n)
		away := float64(p.Holed)/n - holed
		loss += (away*away/variance + math.Log(2*math.Pi*variance)) / 2
	}
	return loss
}

func newBinomialFit(putts []PuttCount, tried int, loss float64, parameters int, shares func(float64) (holed, missed float64)) PuttFit {
	likelihood := -loss
	for _, p := range putts {
		n, y := float64(p.Tried), float64(p.Holed)
		likelihood += logChoose(p.Tried, p.Holed) + xlogy(y, y/n) + xlogy(n-y, (n-y)/n)
	}
	fit := PuttFit{LogLikelihood: likelihood, Rows: len(putts), Putts: tried, Level: fitLevel, Deviance: max(0, 2*loss), HasDeviance: true}
	deviance, groups := joinedDeviance(putts, shares)
	if df := groups - parameters; df > 0 && (distuv.ChiSquared{K: float64(df)}).Survival(deviance) < 0.001 {
		fit.Warnings = append(fit.Warnings, &MisfitWarning{Deviance: deviance, DF: df})
	}
	return fit
}

// joinedDeviance returns the deviance of the counts, joined from the nearest on
// until five holed and five missed are expected, and how many joined counts there
// are. What is left over at the far end belongs to the last.
func joinedDeviance(putts []PuttCount, shares func(float64) (holed, missed float64)) (deviance float64, groups int) {
	const enough = 5 // the usual rule for a χ² of counts
	type counts struct{ holed, missed, expectHoled, expectMissed float64 }
	var joined []counts
	open := true // a new count begins
	for _, p := range slices.SortedStableFunc(slices.Values(putts), func(a, b PuttCount) int { return cmp.Compare(a.Distance, b.Distance) }) {
		if open {
			joined = append(joined, counts{})
		}
		holed, missed := shares(p.Distance)
		n, y := float64(p.Tried), float64(p.Holed)
		c := &joined[len(joined)-1]
		c.holed, c.missed, c.expectHoled, c.expectMissed = c.holed+y, c.missed+n-y, c.expectHoled+n*holed, c.expectMissed+n*missed
		open = c.expectHoled >= enough && c.expectMissed >= enough
	}
	if last := len(joined) - 1; !open && last > 0 {
		a, b := &joined[last-1], joined[last]
		a.holed, a.missed, a.expectHoled, a.expectMissed = a.holed+b.holed, a.missed+b.missed, a.expectHoled+b.expectHoled, a.expectMissed+b.expectMissed
		joined = joined[:last]
	}
	for _, c := range joined {
		deviance += 2 * (xlogy(c.holed, c.holed/c.expectHoled) + xlogy(c.missed, c.missed/c.expectMissed))
	}
	return max(0, deviance), len(joined)
}

// xlogy returns x·log(y), 0 if x is 0.
func xlogy(x, y float64) float64 {
	if x == 0 {
		return 0
	}
	return x * math.Log(y)
}

func logChoose(n, k int) float64 {
	a, _ := math.Lgamma(float64(n) + 1)
	b, _ := math.Lgamma(float64(k) + 1)
	c, _ := math.Lgamma(float64(n-k) + 1)
	return a - b - c
}
