package practice

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"gonum.org/v1/gonum/stat/distuv"
)

// A Repeatability says how far one day's balls can be trusted to tell what the
// next day's will say.
type Repeatability struct {
	Balls           int                 // shots of each session
	Within, Between Spread              // shot to shot within a day, and day to day
	ICC             float64             // share of the variance of single shots that lies between days
	ICCInterval     dispersion.Interval // of ICC

	// Error is the standard error of measurement: how far the mean of one session
	// lies from what the pupil would average over many days. More balls make it no
	// smaller than Between.
	Error float64

	// Change is the smallest detectable change: two sessions of a pupil who has not
	// changed at all differ by less at the level asked for.
	Change float64
}

// Repeatability returns what a fit says of days: with σb the standard deviation of
// the named term, the sessions, σ that of the rest and n balls a session,
//
//	ICC = σb²/(σb²+σ²)      Error = √(σb²+σ²/n)      Change = z·√2·Error
//
// The interval of the ICC is that of the ratio σb²/σ² by profile likelihood, as
// in [MixedFit.SpreadIntervals].
//
// Error and Change take both spreads as known; with few sessions Between may
// be up to the upper end of its interval.
//
// Errors: [ErrColumns] for a fit that [FitMixed] has not made; *[LevelsError] for
// a term that the model has not, or no balls.
//
// Reference: J. P. Weir, "Quantifying Test-Retest Reliability Using the Intraclass
// Correlation Coefficient and the SEM", Journal of Strength and Conditioning
// Research 19(1), 2005, pp. 231-240 (from memory).
func (f MixedFit) Repeatability(sessions string, balls int) (Repeatability, error) {
	spreads, err := f.SpreadIntervals()
	if err != nil {
		return Repeatability{}, err
	}
	at := -1
	for i, p := range f.Random {
		if p.Name == sessions {
			at = i
		}
	}
	if at < 0 || balls < 1 {
		return Repeatability{}, fmt.Errorf("practice: %s, %d balls: %w", f.Name, balls, &LevelsError{Term: sessions, Need: 2})
	}
	r := Repeatability{Balls: balls, Between: spreads[at], Within: spreads[len(spreads)-1]}
	between, within := r.Between.SD*r.Between.SD, r.Within.SD*r.Within.SD
	r.ICC = between / (between + within)
	p := f.profile()
	for k, t := range f.built.terms {
		if t.at != at {
			continue
		}
		low, high := p.ends(heldRatio, k, p.lambda[k], cutFor(f.Level, f.df[k]))
		share := func(ratio float64) float64 { ratio /= t.unit * t.unit; return ratio / (1 + ratio) }
		r.ICCInterval = dispersion.Interval{Low: share(low), High: share(high), Level: f.Level}
	}
	r.Error = math.Sqrt(between + within/float64(balls))
	r.Change = distuv.UnitNormal.Quantile((1+f.Level)/2) * math.Sqrt2 * r.Error
	return r, nil
}
