package compare

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// A Bootstrapped is what resampling the shots tells about one statistic of a
// before and an after. Ends of intervals and replicates are on the scale of the
// statistic.
type Bootstrapped struct {
	Estimate float64             // of the shots as they are
	Interval dispersion.Interval // the one to read: bootstrap-t below 20 shots on a side, BCa with its tails widened from there on
	Method   string              // how Interval was obtained

	Percentile dispersion.Interval // with the tails widened for small groups
	BCa        dispersion.Interval // bias-corrected and accelerated, as published
	T          dispersion.Interval // bootstrap-t, with HasT
	HasT       bool                // whether there is a bootstrap-t interval: below 20 shots on a side

	SE, Bias     float64 // of the replicates: standard deviation, mean less Estimate
	JackknifeSE  float64 // standard error from leaving out one shot at a time
	Correction   float64 // z₀ of BCa
	Acceleration float64 // a of BCa

	N1, N2    int // shots before, after
	Seed      uint64
	Resamples int // as asked for
	Block     int // shots in a row resampled together; 1 if shots are independent

	// Replicates are the values of the statistic in the order drawn, without
	// those that a *[NoValueError] tells of.
	Replicates []float64

	// Warnings tell what a reader must know before trusting the numbers above.
	Warnings []error
}

// studentBelow is the size of the smaller group from which BCa is read.
const studentBelow = 20

// Bootstrap returns what resampling shots within each stage tells about any
// statistic of two groups. Each resample draws n₁ shots before and n₂ after
// with replacement (blocks of o.Block shots in a row, if asked for) and takes
// the statistic θ* of them. With θ the statistic of the shots as they are:
//
//	percentile   quantiles of θ* at Φ(∓√(n/(n-1))·t(n-1)), n the smaller group
//	BCa          quantiles of θ* at Φ(z₀ + (z₀+z)/(1-a(z₀+z))), z = ∓z((1+level)/2)
//	             z₀ = Φ⁻¹(share of θ* below θ, ties half)
//	             a = Σ(Uᵢ/nⱼ)³ / 6[Σ(Uᵢ/nⱼ)²]^1.5,  Uᵢ = (nⱼ-1)(θ₍.₎ⱼ - θ₍ᵢ₎)
//	             widened as the percentiles are: z = ∓√(n/(n-1))·t(n-1)
//	bootstrap-t  θ - q·se, q the quantiles of (θ*-θ)/se* at (1±level)/2
//
// θ₍ᵢ₎ leaves shot i out, θ₍.₎ⱼ is their mean over stage j, and se and se* are
// jackknife standard errors √Σ(nⱼ-1)/nⱼ·Σ(θ₍ᵢ₎-θ₍.₎ⱼ)², se* within the resample.
// θ* within one part in 10⁹ of their standard deviation from θ count as ties;
// where all θ* fall on one side of θ they count as if half a one had not.
//
// Bootstrap-t is the one to read below 20 shots on a side, and holds best if the
// spread of the statistic does not depend on its value. So take the logarithm
// of a ratio, an area or a spread, and Fisher's z of a correlation, and undo
// that at the ends. Percentile intervals are too narrow in small groups, which
// widening the tails repairs in part; the ends of all three say little below
// ten shots. The same holds of BCa, so from 20 shots on the one to read is BCa
// with the same widening; the BCa interval as published stands beside it, to
// compare with other programs. Shots must be independent, or follow each other
// like those of other blocks.
//
// With blocks too the jackknife leaves out one shot at a time. So JackknifeSE is
// that of independent shots, and SE the one to read. Bootstrap-t takes no harm:
// what is missing in se is missing in se* as well, and cancels. A jackknife that
// leaves out blocks, and would mend the first, has no more than n-l+1 values to
// leave out, too few for a variance within stages of ten (H. R. Künsch, "The
// Jackknife and the Bootstrap for General Stationary Observations", Annals of
// Statistics 17(3), 1989, pp. 1217-1241, from memory).
//
// The statistic is called from several goroutines at once, with slices that are
// its own only during the call; it may reorder them. Below 20 shots on a side it
// is called about n₁+n₂ times as often. [BootstrapMoments] is far faster where
// moments are enough.
//
// Errors: [ErrMissing]; [dispersion.ErrLevel], [ErrResamples], [ErrBlock];
// *[dispersion.TooFewError] below 3 shots a side; what the statistic says of the
// shots as they are, or of all but one; *[NoValueError];
// [dispersion.ErrDegenerate] where the statistic is the same for every resample;
// the context's error. Warnings: *[FewShotsWarning], *[ExtremeWarning],
// *[NoValueError], [ErrNoBootstrapT].
//
// The same inputs give the same bits on any number of cores.
//
// References: B. Efron, "Better Bootstrap Confidence Intervals", Journal of the
// American Statistical Association 82(397), 1987, pp. 171-185. A. C. Davison, D.
// V. Hinkley, Bootstrap Methods and their Application, Cambridge 1997, sections
// 2.7 and 5.3 (several samples: from memory). T. C. Hesterberg, "What Teachers
// Should Know About the Bootstrap", The American Statistician 69(4), 2015, pp.
// 371-386 (the wider tails; the smaller group's n for two: from memory). That
// BCa is widened in the same way is his too (R package resample: from memory).
func Bootstrap(ctx context.Context, before, after *dispersion.Group, statistic func(before, after []dispersion.Point) (float64, error), o Options) (Bootstrapped, error) {
	o, err := startBootstrap(ctx, before, after, statistic == nil, o)
	if err != nil {
		return Bootstrapped{}, err
	}
	return bootstrapOf(ctx, pointsJob([]*dispersion.Group{before, after}, o.Block, func(s [][]dispersion.Point) (float64, error) {
		return statistic(s[0], s[1])
	}), o)
}

// BootstrapMoments is [Bootstrap] for statistics that need no more of the shots
// than counts, means and sums of products, such as [LogAreaRatio]. It draws the
// same resamples and gives the same answer, to rounding, a hundred times faster:
// each draw is a tuple of shots whose sums were taken beforehand.
func BootstrapMoments(ctx context.Context, before, after *dispersion.Group, statistic func(before, after dispersion.Moments) (float64, error), o Options) (Bootstrapped, error) {
	o, err := startBootstrap(ctx, before, after, statistic == nil, o)
	if err != nil {
		return Bootstrapped{}, err
	}
	return bootstrapOf(ctx, momentsJob([]*dispersion.Group{before, after}, o.Block, func(m []dispersion.Moments) (float64, error) {
		return statistic(m[0], m[1])
	}), o)
}

func startBootstrap(ctx context.Context, before, after *dispersion.Group, missing bool, o Options) (Options, error) {
	o, err := start(ctx, before, after, o)
	if err != nil {
		return o, err
	}
	if missing {
		return o, fmt.Errorf("compare: %w", ErrMissing)
	}
	if err := enough(before.N(), after.N(), 3, "a bootstrap"); err != nil {
		return o, err
	}
	o.Block = max(o.Block, 1)
	if o.Block > 1 && o.Block > min(before.N(), after.N())/2 {
		return o, fmt.Errorf("compare: blocks of %d shots: %w", o.Block, ErrBlock)
	}
	return o, nil
}

// BlockLength returns how many shots in a row to resample together where each
// shot resembles the one before it: the cube root of n, rounded up, so 2 for 8
// shots and 3 for 9 to 27. Longer blocks keep more of the likeness and leave
// fewer ways to draw; this growth balances the two. It is 1 below 4 shots.
//
// Reference: P. Hall, J. L. Horowitz, B.-Y. Jing, "On Blocking Rules for the
// Bootstrap with Dependent Data", Biometrika 82(3), 1995, pp. 561-574 (n^(1/3)
// for a variance; the factor 1 is our own choice).
func BlockLength(n int) int {
	if n < 4 {
		return 1
	}
	length := int(math.Cbrt(float64(n)))
	for length*length*length < n {
		length++
	}
	return length
}
