package compare

import (
	"encoding/json"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// The names of the effects made here.
const (
	NameCarryGain         = "carry_gain"
	NameSideShift         = "side_shift"
	NameSpreadRatio       = "spread_ratio"
	NameAreaRatio         = "area_ratio"
	NameAngleSpreadRatio  = "angle_spread_ratio"
	NameMishitRateChange  = "mishit_rate_change"
	NameRobustSpreadRatio = "robust_spread_ratio"
)

// An Effect is what changed from before to after: an estimate, the interval of
// values that these shots are compatible with, and how both were obtained. It
// is a gain, after minus before, if Null is 0, and a ratio of spreads, after
// over before, if Null is 1.
type Effect struct {
	Name, Unit, Method string
	Before, After      float64 // the two values compared, in Unit
	N1, N2             int     // shots before, after
	Estimate, Null     float64
	Interval           dispersion.Interval
	Shift              float64 // of that, how much at either end no number of shots narrows: see [GainBehindError]
	DF                 float64 // degrees of freedom of the t that the interval came from; 0 if it came from none
	LessIsBetter       bool    // of a gain: a smaller value is the better one; of ratios it always is
	NoBetter           bool    // neither way is better in itself, as with a shift to one side

	P, PFloor float64 // two-sided p and the smallest one possible; both 0 with HasP false when there is none
	HasP      bool    // whether there is a p; see P
	Seed      uint64  // as given; it matters where splits or resamples were drawn at random
	Resamples int     // splits tried or drawn for P, or resamples for the interval; 0 if both come from formulas

	// Warnings tell what a reader must know before trusting the numbers above.
	Warnings []error
}

// MarshalJSON writes warnings as their texts and p and its floor as null where
// there is none.
func (e Effect) MarshalJSON() ([]byte, error) {
	var p, floor *float64
	if e.HasP {
		p, floor = &e.P, &e.PFloor
	}
	warnings := make([]string, len(e.Warnings))
	for i, w := range e.Warnings {
		warnings[i] = w.Error()
	}
	return json.Marshal(struct {
		Name         string   `json:"name"`
		Unit         string   `json:"unit"`
		Method       string   `json:"method"`
		Before       float64  `json:"before_value"`
		After        float64  `json:"after_value"`
		N1           int      `json:"n_before"`
		N2           int      `json:"n_after"`
		Estimate     float64  `json:"estimate"`
		Null         float64  `json:"null"`
		Low          float64  `json:"low"`
		High         float64  `json:"high"`
		Level        float64  `json:"level"`
		DF           float64  `json:"df"`
		Shift        float64  `json:"device_shift,omitempty"`
		LessIsBetter bool     `json:"less_is_better"`
		NoBetter     bool     `json:"no_better"`
		P            *float64 `json:"p"`
		PFloor       *float64 `json:"p_floor"`
		Seed         uint64   `json:"seed"`
		Resamples    int      `json:"resamples"`
		Warnings     []string `json:"warnings"`
	}{
		e.Name, e.Unit, e.Method, e.Before, e.After, e.N1, e.N2, e.Estimate, e.Null,
		e.Interval.Low, e.Interval.High, e.Interval.Level, e.DF, e.Shift, e.LessIsBetter, e.NoBetter,
		p, floor, e.Seed, e.Resamples, warnings,
	})
}

// ratio tells whether the effect is a ratio of spreads.
func (e Effect) ratio() bool { return e.Null == 1 }

// checked is the one way out for an effect: none with a NaN, an infinity or an
// estimate outside its own interval gets past it.
func (e Effect) checked() (Effect, error) {
	if !e.sound() {
		return Effect{}, fmt.Errorf("compare: %s: %w", e.Name, dispersion.ErrOverflow)
	}
	return e, nil
}

func (e Effect) sound() bool {
	for _, v := range []float64{e.Before, e.After, e.Estimate, e.Interval.Low, e.Interval.High, e.DF, e.Shift, e.P, e.PFloor} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	i := e.Interval
	ordered := i.Low <= e.Estimate && e.Estimate <= i.High && i.Level > 0 && i.Level < 1
	return ordered && e.DF >= 0 && (e.Null == 0 || e.ratio() && i.Low > 0)
}
