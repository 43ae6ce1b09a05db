package strokes

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// A FittedBaseline is a baseline fitted to recorded shots.
type FittedBaseline struct {
	curves
	source    string
	warnings  []error
	seed      uint64
	resamples int
}

// FitOptions of a fitted baseline. The zero value stands for the defaults.
type FitOptions struct {
	Resamples int                   // of the clusters, for the standard errors; 0 means 1000
	Seed      uint64                // of the resamples; 0 is a seed like any other
	Progress  func(done, total int) // told how many resamples are done; may be nil
}

const defaultResamples = 1000

// What a lie needs for a curve of its own. Below, a straight line through the
// data would be the most that they could tell.
const (
	needOutcomes = 20
	needClusters = 10
)

// A LieWarning tells that a lie has no curve for want of recorded shots.
type LieWarning struct {
	Lie                Lie
	Outcomes, Clusters int // there are
	NeedOutcomes       int // the fewest for a curve
	NeedClusters       int // the fewest for a curve
}

func (w *LieWarning) Error() string {
	return fmt.Sprintf("%d shots on %d holes from the %v are too few for a curve: it takes %d on %d", w.Outcomes, w.Clusters, w.Lie, w.NeedOutcomes, w.NeedClusters)
}

// FitBaseline fits a smooth curve that never falls with the distance to the
// strokes that were taken, one for each lie with at least 20 outcomes of 10
// clusters:
//
//	m(x) = local straight line at √x, then pooled where it falls, at least 1
//
// The kernel of the local line is normal; its width is the one of six, from a
// tenth of the range of √x to the whole, that predicts best what a fifth of the
// clusters, left out in turn, has taken. The standard error is the standard
// deviation of the curve over resamples of whole clusters. It knows chance but
// not what the choice of the width and the smoothing bend: two of them either
// way held the true curve in about 93 % of 800 simulated seasons of five rounds.
//
// The curves reach as far as the shots; nearer than the nearest one they are
// constant, on the green a straight line to one stroke at the hole.
//
// Errors: [ErrMissing] for a nil context, no outcomes or no source;
// [ErrResamples]; [ErrShot] naming an outcome that can't be; *dispersion.TooFewError, wrapped, if no lie
// has enough; the context's error. Warnings: *[LieWarning], *[FallWarning].
//
// It is deterministic for a seed, on any number of cores, and takes time in
// proportion to the outcomes and the resamples.
//
// References: W. S. Cleveland, "Robust Locally Weighted Regression and Smoothing
// Scatterplots", Journal of the American Statistical Association 74(368), 1979,
// pp. 829-836, for local lines; E. Mammen, "Estimating a Smooth Monotone
// Regression Function", Annals of Statistics 19(2), 1991, pp. 724-740, for
// smoothing first and pooling then.
func FitBaseline(ctx context.Context, outcomes []Outcome, source string, o FitOptions) (*FittedBaseline, error) {
	if ctx == nil || len(outcomes) == 0 || source == "" {
		return nil, fmt.Errorf("strokes: a baseline from shots needs a context, outcomes and a source: %w", ErrMissing)
	}
	if o.Resamples < 0 || o.Resamples > resample.Most {
		return nil, fmt.Errorf("strokes: %d resamples: %w", o.Resamples, ErrResamples)
	}
	if o.Resamples == 0 {
		o.Resamples = defaultResamples
	}
	var samples [numLies]*sample
	for i, out := range outcomes {
		if !out.Lie.valid() || !(out.Distance > 0 && out.Distance <= maxDistance) || !(out.Strokes >= 1 && out.Strokes <= 50) {
			return nil, fmt.Errorf("strokes: outcome %d: %g strokes from %g m on the %v: %w", i, out.Strokes, out.Distance, out.Lie, ErrShot)
		}
		if samples[out.Lie] == nil {
			samples[out.Lie] = newSample()
		}
		samples[out.Lie].add(out)
	}
	b := &FittedBaseline{source: source, seed: o.Seed, resamples: o.Resamples}
	most, total, done := 0, 0, 0
	for _, s := range samples {
		if s == nil {
			continue
		}
		most = max(most, len(s.y))
		if s.enough() {
			total += o.Resamples
		}
	}
	if total == 0 {
		return nil, fmt.Errorf("strokes: %w", &dispersion.TooFewError{Have: most, Need: needOutcomes, For: fmt.Sprintf("a baseline from shots, from one lie on at least %d holes,", needClusters)})
	}
	for _, lie := range Lies() {
		s := samples[lie]
		if s == nil {
			continue
		}
		if !s.enough() {
			b.warnings = append(b.warnings, &LieWarning{Lie: lie, Outcomes: len(s.y), Clusters: len(s.members), NeedOutcomes: needOutcomes, NeedClusters: needClusters})
			continue
		}
		progress := func(n, _ int) {
			if o.Progress != nil {
				o.Progress(done+n, total)
			}
		}
		c, change, err := s.fit(ctx, lie, o, progress)
		if err != nil {
			return nil, err
		}
		done += o.Resamples
		b.curves[lie] = c
		b.warnings = append(b.warnings, levelled(lie, change)...)
	}
	return b, nil
}

// Source implements [Baseline].
func (b *FittedBaseline) Source() string { return b.source }

// Warnings returns a *[LieWarning] for each lie with too few shots and a
// *[FallWarning] for each whose smooth curve had to be levelled.
func (b *FittedBaseline) Warnings() []error { return append([]error(nil), b.warnings...) }

// Seed returns the seed of the resamples.
func (b *FittedBaseline) Seed() uint64 { return b.seed }

// Resamples returns how many resamples the standard errors come from.
func (b *FittedBaseline) Resamples() int { return b.resamples }

// fit returns the curve of one lie and the largest change that pooling made.
func (s *sample) fit(ctx context.Context, lie Lie, o FitOptions, progress func(done, total int)) (curve, float64, error) {
	s.lay()
	s.chooseWidth()
	ones := make([]float64, len(s.members))
	for i := range ones {
		ones[i] = 1
	}
	fitted := make([]float64, len(s.grid))
	change := s.smooth(ones, fitted)
	replicates := make([][]float64, o.Resamples)
	err := resample.Chunks(ctx, o.Resamples, resample.ChunkSize, progress, func(chunk, lo, hi int) error {
		stream := resample.NewStream(o.Seed, "baseline from the "+lie.String(), chunk)
		times := make([]float64, len(s.members))
		for k := lo; k < hi; k++ {
			clear(times)
			for range times {
				times[stream.Below(len(times))]++
			}
			replicates[k] = make([]float64, len(s.grid))
			s.smooth(times, replicates[k])
		}
		return ctx.Err()
	})
	if err != nil {
		return curve{}, 0, err
	}
	var c curve
	if lie == Green {
		c = curve{distance: []float64{0}, expected: []float64{1}, se: []float64{0}}
	}
	for g, root := range s.grid {
		mean, squares := 0.0, 0.0
		for _, r := range replicates {
			mean += r[g]
		}
		mean /= float64(o.Resamples)
		for _, r := range replicates {
			squares += (r[g] - mean) * (r[g] - mean)
		}
		c.distance = append(c.distance, root*root)
		c.expected = append(c.expected, fitted[g])
		c.se = append(c.se, math.Sqrt(squares/max(1, float64(o.Resamples-1))))
	}
	c.distance[len(c.distance)-1] = s.farthest
	return c, change, nil
}
