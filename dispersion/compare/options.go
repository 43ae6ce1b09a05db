package compare

import (
	"context"
	"fmt"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// Options of a comparison. The zero value stands for the defaults.
type Options struct {
	Level     float64               // of the interval, a fraction; 0 means 0.95
	Resamples int                   // bootstrap resamples, or random splits where there are too many to try all; 0 means 9999, a million is the most
	Seed      uint64                // of the resamples and random splits; 0 is a seed like any other
	Block     int                   // bootstrap: shots in a row that are resampled together, see [BlockLength]; 0 or 1: shots are independent
	Progress  func(done, total int) // told how many resamples or splits are done; may be nil
}

const (
	defaultLevel     = 0.95
	defaultResamples = 9999
)

// resolved puts the defaults in and checks what was asked for.
func (o Options) resolved() (Options, error) {
	if o.Level == 0 {
		o.Level = defaultLevel
	}
	if !(o.Level > 0 && o.Level < 1) {
		return o, fmt.Errorf("compare: level %g: %w", o.Level, dispersion.ErrLevel)
	}
	if o.Resamples == 0 {
		o.Resamples = defaultResamples
	}
	if o.Resamples < 0 || o.Resamples > resample.Most {
		return o, fmt.Errorf("compare: %d resamples: %w", o.Resamples, ErrResamples)
	}
	if o.Block < 0 {
		return o, fmt.Errorf("compare: blocks of %d shots: %w", o.Block, ErrBlock)
	}
	return o, nil
}

// start checks what every comparison of two groups needs before it begins.
func start(ctx context.Context, before, after *dispersion.Group, o Options) (Options, error) {
	if ctx == nil || before == nil || after == nil {
		return o, fmt.Errorf("compare: %w", ErrMissing)
	}
	if err := ctx.Err(); err != nil {
		return o, err
	}
	return o.resolved()
}

// enough checks the number of shots on both sides.
func enough(n1, n2, need int, what string) error {
	if have := min(n1, n2); have < need {
		return fmt.Errorf("compare: %w", &dispersion.TooFewError{Have: have, Need: need, For: what + ", before and after alike,"})
	}
	return nil
}
