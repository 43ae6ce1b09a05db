package archive

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A PupilValue is one number that one pupil is worth to a pool: a mean carry, a
// radius, a gain.
type PupilValue struct {
	Pupil string
	Value float64 // finite, in the unit that all pupils of the pool share
}

// A Pooled is what the pupils have in common: the mean over pupils, each
// counting once, whether with ten shots or ten thousand.
type Pooled struct {
	Estimate  float64             // the mean of the values
	Interval  dispersion.Interval // for the mean over all pupils like these
	Between   float64             // standard deviation of the values, divisor n-1
	Pupils    int
	Shots     int64 // of those pupils; 0 where it is not known
	Unit      lesson.Unit
	Mirrored  bool // right and left are exchanged in all of their sessions; false where it is not known
	Method    string
	Seed      uint64
	Resamples int

	// Warnings tell what a reader must know before trusting the numbers above.
	Warnings []error
}

const pooledMethod = "bootstrap-t over pupils"

// How many pupils a pool needs, and below how many it is to be doubted: a
// bootstrap of fewer values has too few different resamples.
const (
	fewestPupils  = 5
	doubtedPupils = 12
)

// Pool returns the mean of one value from each pupil, with an interval from
// resampling pupils. With x̄ and s the mean and standard deviation of n values,
// and x̄* and s* those of n of them drawn with replacement,
//
//	[x̄ - q₂·s/√n, x̄ - q₁·s/√n],  q the quantiles of (x̄*-x̄)/(s*/√n) at (1±level)/2
//
// Resamples of a single value have no s* and are drawn again. Where pupils tie so
// often that these are many, they are a part of the tail and there is no interval.
//
// It assumes that the pupils were drawn, one independent of the other, from
// those one wants to speak of. It does not assume that a pupil's shots are
// independent: whatever they share is in the pupil's value. To take all shots for
// independent instead is the mistake to prevent. Where pupils differ by as much
// as single shots do, with 200 shots of each, such an interval is √(201/2), ten
// times, too narrow.
//
// Errors: [ErrMissing]; [dispersion.ErrLevel], [compare.ErrResamples];
// *[dispersion.TooFewError] below 5 pupils; [ErrPupil] and a *[PupilError] for that or for no number;
// [dispersion.ErrDegenerate] where all values are equal but for rounding; *[TiedError] for so many
// ties that more than (1-level)/4 of the resamples have a single value; the context's error. Warnings:
// *[FewPupilsWarning] below 12; *[compare.ExtremeWarning] for so few resamples that an end of the
// interval is the most extreme of them.
//
// The same values in the same order give the same bits on any number of cores.
// Pool does not modify values.
//
// References: B. Efron, R. J. Tibshirani, An Introduction to the Bootstrap,
// Chapman & Hall 1993, section 12.5 (bootstrap-t; from memory); A. C. Davison, D.
// V. Hinkley, Bootstrap Methods and their Application, Cambridge 1997, section
// 3.8 (of nested data, the outer unit is resampled; from memory).
func Pool(ctx context.Context, values []PupilValue, o compare.Options) (Pooled, error) {
	p := Pooled{Method: pooledMethod, Pupils: len(values), Seed: o.Seed, Resamples: o.Resamples}
	if p.Resamples == 0 {
		p.Resamples = 9999
	}
	level := o.Level
	if level == 0 {
		level = 0.95
	}
	x, err := poolable(ctx, values, level, p.Resamples)
	if err != nil {
		return Pooled{}, err
	}
	scale := toUnit(x)
	tie := rounding(x)
	if slices.Max(x)-slices.Min(x) <= tie {
		return Pooled{}, fmt.Errorf("archive: all %d pupils have the value %g: %w", len(x), values[0].Value, dispersion.ErrDegenerate)
	}
	if share, most := singleShare(x, tie), (1-level)/4; share > most {
		return Pooled{}, fmt.Errorf("archive: %w", &TiedError{Pupils: len(x), Share: share, Most: most})
	}
	mean, between := meanSD(x)
	t := make([]float64, p.Resamples)
	err = resample.Chunks(ctx, p.Resamples, resample.ChunkSize, o.Progress, func(chunk, lo, hi int) error {
		stream := resample.NewStream(o.Seed, "pool", chunk)
		drawn := make([]float64, len(x))
		for i := lo; i < hi; i++ {
			for single := true; single; single = slices.Max(drawn)-slices.Min(drawn) <= tie {
				for j := range drawn {
					drawn[j] = x[stream.Below(len(x))]
				}
			}
			drawnMean, sd := meanSD(drawn)
			t[i] = (drawnMean - mean) / sd
		}
		return nil
	})
	if err != nil {
		return Pooled{}, err
	}
	slices.Sort(t)
	p.Estimate, p.Between = math.Ldexp(mean, scale), math.Ldexp(between, scale)
	p.Interval = dispersion.Interval{
		Low:   math.Ldexp(mean-float64(quantile(t, (1+level)/2)*between), scale),
		High:  math.Ldexp(mean-float64(quantile(t, (1-level)/2)*between), scale),
		Level: level,
	}
	if len(x) < doubtedPupils {
		p.Warnings = append(p.Warnings, &FewPupilsWarning{Have: len(x), Need: doubtedPupils})
	}
	if need := int(math.Ceil(2/(1-level)-1e-9)) - 1; p.Resamples < need {
		if need > resample.Most {
			need = 0
		}
		p.Warnings = append(p.Warnings, &compare.ExtremeWarning{Interval: "bootstrap-t", Need: need})
	}
	return p, nil
}

// A FewPupilsWarning accompanies a pool of so few pupils that its interval may
// be much too wide or too narrow: Have of them, where Need would do.
type FewPupilsWarning struct{ Have, Need int }

func (w *FewPupilsWarning) Error() string {
	return fmt.Sprintf("%d pupils say little of all pupils: the interval is rough below %d", w.Have, w.Need)
}

// A PupilError says whose value can't be pooled, and why.
type PupilError struct {
	Pupil string
	Err   error
}

func (e *PupilError) Error() string { return fmt.Sprintf("pupil %q: %v", e.Pupil, e.Err) }

// Unwrap returns why.
func (e *PupilError) Unwrap() error { return e.Err }

func poolable(ctx context.Context, values []PupilValue, level float64, resamples int) ([]float64, error) {
	if ctx == nil {
		return nil, fmt.Errorf("archive: %w", ErrMissing)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if !(level > 0 && level < 1) {
		return nil, fmt.Errorf("archive: level %g: %w", level, dispersion.ErrLevel)
	}
	if resamples < 0 || resamples > resample.Most {
		return nil, fmt.Errorf("archive: %d resamples: %w", resamples, compare.ErrResamples)
	}
	if len(values) < fewestPupils {
		return nil, fmt.Errorf("archive: %w", &dispersion.TooFewError{Have: len(values), Need: fewestPupils, For: "a pool of pupils, counting one for each,"})
	}
	x := make([]float64, len(values))
	seen := make(map[string]bool, len(values))
	for i, v := range values {
		if !(math.Abs(v.Value) <= 1e150) { // false for NaN; squares must not overflow
			return nil, fmt.Errorf("archive: %w", &PupilError{v.Pupil, fmt.Errorf("the value %g: a number is needed, of a size whose square doesn't overflow", v.Value)})
		}
		if seen[v.Pupil] {
			return nil, fmt.Errorf("archive: %w", &PupilError{v.Pupil, ErrPupil})
		}
		seen[v.Pupil] = true
		x[i] = v.Value
	}
	return x, nil
}
