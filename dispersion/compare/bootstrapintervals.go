package compare

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"gonum.org/v1/gonum/stat/distuv"
)

// maxFailed is the share of resamples that may be without a value.
const maxFailed = 0.1

// bootstrapOf runs a job of one or more stages and makes the intervals.
func bootstrapOf(ctx context.Context, j job, o Options) (Bootstrapped, error) {
	b, err := j.asItIs(ctx, o)
	if err != nil {
		return Bootstrapped{}, err
	}
	r, err := j.run(ctx, o)
	if err != nil {
		return Bootstrapped{}, err
	}
	return b.withIntervals(r, o)
}

// asItIs returns what the shots as they are, and all but one of them, give. N1
// and N2 are the sizes of the first and the last stage.
func (j job) asItIs(ctx context.Context, o Options) (Bootstrapped, error) {
	e := j.evaluator()
	left := j.newJackknife()
	estimate, err := finite(e.of(left.shots))
	if err != nil {
		return Bootstrapped{}, fmt.Errorf("compare: bootstrap: %w", err)
	}
	if err := left.leaveOut(ctx, e); err != nil {
		return Bootstrapped{}, fmt.Errorf("compare: bootstrap: %w", err)
	}
	return Bootstrapped{
		Estimate: estimate, N1: j.sizes[0], N2: j.sizes[len(j.sizes)-1],
		Seed: o.Seed, Resamples: o.Resamples, Block: o.Block,
		JackknifeSE: math.Sqrt(left.variance()), Acceleration: left.acceleration(),
	}, nil
}

// withIntervals completes b from its replicates.
func (b Bootstrapped) withIntervals(r replicates, o Options) (Bootstrapped, error) {
	values, lost, err := r.withValue()
	if err != nil {
		return Bootstrapped{}, err
	}
	b.Replicates = values
	if lost != nil {
		b.Warnings = append(b.Warnings, lost)
	}
	mean, sd := meanAndSD(b.Replicates)
	b.Bias, b.SE = mean-b.Estimate, sd
	for _, v := range []float64{b.Bias, b.SE, b.JackknifeSE, b.Acceleration} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return Bootstrapped{}, fmt.Errorf("compare: bootstrap: %w", dispersion.ErrOverflow)
		}
	}
	b.Correction = correction(b.Replicates, b.Estimate, tie*sd)

	n := min(b.N1, b.N2)
	expanded := expandedTail(o.Level, n)
	z := normalQuantile((1 + o.Level) / 2)
	low, high := b.bcaShare(-z), b.bcaShare(z)
	wideLow, wideHigh := b.bcaShare(normalQuantile(expanded)), b.bcaShare(-normalQuantile(expanded))
	q := quantilesOf(b.Replicates, expanded, 1-expanded, low, high, wideLow, wideHigh)
	b.Percentile = dispersion.Interval{Low: q[0], High: q[1], Level: o.Level}
	b.BCa = dispersion.Interval{Low: q[2], High: q[3], Level: o.Level}
	if !(b.SE > 0) || !(b.Percentile.Low < b.Percentile.High) {
		return Bootstrapped{}, fmt.Errorf("compare: bootstrap: the statistic is the same for nearly all resamples: %w", dispersion.ErrDegenerate)
	}
	b.warnExtreme("percentile", len(b.Replicates), expanded)
	b.warnExtreme("BCa", len(b.Replicates), min(wideLow, 1-wideHigh))

	b.Interval, b.Method = dispersion.Interval{Low: q[4], High: q[5], Level: o.Level}, "BCa bootstrap, tails widened"
	if r.variances != nil {
		b.studentise(r, o.Level)
	}
	switch {
	case b.HasT:
		b.Interval, b.Method = b.T, "bootstrap-t"
	case n < studentBelow:
		b.Warnings = append(b.Warnings, ErrNoBootstrapT)
	}
	if need := shotsForBootstrap(o.Level); n < need {
		b.Warnings = append(b.Warnings, &FewShotsWarning{
			Before: b.N1, After: b.N2, Need: need,
			For: "resamples that vary at least four fifths as much as new shots would",
		})
	}
	return b, nil
}

// withValue returns the values without those that are none, and what was lost:
// nil if nothing was, an error if more than a few were.
func (r replicates) withValue() (values []float64, lost *NoValueError, err error) {
	if r.firstErr == nil {
		return r.values, nil, nil
	}
	values = withoutNaN(r.values)
	lost = &NoValueError{Failed: len(r.values) - len(values), Of: len(r.values), Err: r.firstErr}
	if float64(lost.Failed) > maxFailed*float64(lost.Of) {
		return nil, nil, fmt.Errorf("compare: bootstrap: too few shots: %w", lost)
	}
	return values, lost, nil
}

// studentise adds the bootstrap-t interval, unless too many resamples have no
// standard error of their own.
func (b *Bootstrapped) studentise(r replicates, level float64) {
	pivots := make([]float64, 0, len(r.values))
	for i, v := range r.values {
		// Beyond 1e300 a quotient means a variance that is 0 but for rounding.
		if t := (v - b.Estimate) / math.Sqrt(r.variances[i]); math.Abs(t) < 1e300 {
			pivots = append(pivots, t)
		}
	}
	if float64(len(pivots)) < (1-maxFailed)*float64(len(r.values)) {
		return
	}
	tail := (1 - level) / 2
	q := quantilesOf(pivots, 1-tail, tail)
	low, high := b.Estimate-float64(q[0]*b.JackknifeSE), b.Estimate-float64(q[1]*b.JackknifeSE)
	if math.IsInf(low, 0) || math.IsInf(high, 0) || !(low < high) {
		return
	}
	b.T, b.HasT = dispersion.Interval{Low: low, High: high, Level: level}, true
	b.warnExtreme("bootstrap-t", len(pivots), tail)
}

// warnExtreme warns where the quantile at share tail touches the most extreme
// of n values.
func (b *Bootstrapped) warnExtreme(name string, n int, tail float64) {
	if float64(n-1)*tail >= 1 {
		return
	}
	w := &ExtremeWarning{Interval: name}
	if need := math.Ceil(1/tail) + 1; need < 1e9 {
		w.Need = int(need)
	}
	b.Warnings = append(b.Warnings, w)
}

// expandedTail returns Φ(-√(n/(n-1))·t), t being the quantile of t(n-1) that an
// interval for a mean would use: the share at which a percentile interval is as
// wide as that one. BCa has the same fault in small groups, and the same mend.
func expandedTail(level float64, n int) float64 {
	df := float64(n - 1)
	t := studentQuantile((1+level)/2, df)
	return distuv.UnitNormal.CDF(-math.Sqrt(float64(n)/df) * t)
}

// shotsForBootstrap returns the fewest shots with which the unwidened
// percentile interval of a mean, as wide as √((n-1)/n)·z/t of the right one,
// reaches four fifths.
func shotsForBootstrap(level float64) int {
	upper := (1 + level) / 2
	for n := 3; n < 1000; n++ {
		f := float64(n)
		if math.Sqrt((f-1)/f)*normalQuantile(upper) >= 0.8*studentQuantile(upper, f-1) {
			return n
		}
	}
	return 1000
}

// correction returns z₀: the normal quantile of the share of values below the
// estimate, ties half, and never all or none of them. Values within the
// tolerance are ties: sums taken in another order differ in their last bits.
func correction(values []float64, estimate, tolerance float64) float64 {
	less, notMore := 0, 0
	for _, v := range values {
		if v < estimate-tolerance {
			less++
		}
		if v <= estimate+tolerance {
			notMore++
		}
	}
	n := float64(len(values))
	return normalQuantile(min(max(float64(less+notMore)/2, 0.5), n-0.5) / n)
}

// bcaShare returns the share at which a BCa interval cuts the replicates where
// one without corrections would at Φ(z).
func (b Bootstrapped) bcaShare(z float64) float64 {
	z += b.Correction
	left := 1 - float64(b.Acceleration*z)
	if left <= 0 { // so skewed that every resample lies on one side
		if z < 0 {
			return 0
		}
		return 1
	}
	return distuv.UnitNormal.CDF(b.Correction + z/left)
}

// meanAndSD returns the mean and the standard deviation, with divisor n-1.
func meanAndSD(values []float64) (mean, sd float64) {
	mean = meanOf(values)
	var squares float64
	for _, v := range values {
		squares += float64((v - mean) * (v - mean))
	}
	return mean, math.Sqrt(squares / max(1, float64(len(values)-1)))
}

func withoutNaN(values []float64) []float64 {
	kept := make([]float64, 0, len(values))
	for _, v := range values {
		if !math.IsNaN(v) {
			kept = append(kept, v)
		}
	}
	return kept
}
