package flight

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// NameCarryGainInAir is the effect that [GainInAir] returns.
const NameCarryGainInAir = "carry_gain_in_air"

// An AirGain is a gain in mean carry of shots that were carried to the same
// conditions.
type AirGain struct {
	// Effect is the gain, its interval holding all of the doubt. For a verdict ask
	// [AirGain.Judge]: [compare.Judge] takes all of the doubt for scatter of the shots,
	// and would ask for balls that settle nothing.
	Effect compare.Effect

	ShotSE float64 // standard error that the scatter of the shots gives the gain, m
	AirSE  float64 // that carrying them gives it, m
}

// An AirDoubtWarning says that a gain is less sure for the carrying than for the
// scatter of the shots, so that more balls are of little help.
type AirDoubtWarning struct {
	AirSE, ShotSE float64 // those of the [AirGain], m
}

func (w *AirDoubtWarning) Error() string {
	return fmt.Sprintf("carrying the shots to one air is unsure by %.2g m, their scatter by %.2g m: more balls narrow this little; measuring in air that is more alike would", w.AirSE, w.ShotSE)
}

// GainInAir returns the gain in mean carry, in metres, of shots after over shots
// before, all carried to the same conditions. To the interval of
// [compare.MeanGain] it adds what carrying them is unsure of:
//
//	half² = t²·(shot SE² + air SE²),  air SE² = fit before² + fit after² + (form before + form after)²
//
// The two fits err apart. The form is the same ball's on both days, so that its
// errors add up where one session is carried to thinner and the other to denser
// air; where both are carried the same way this is more doubt than there is. The
// less one of them has to be carried the better: carry the one to the other's air.
//
// There is no p, whose null would be about the shots as they were carried.
//
// Errors: *[ConditionsError] for shots carried to different conditions; those of
// [compare.MeanGain]. Warnings: *[compare.FewShotsWarning]; *[AirDoubtWarning].
func GainInAir(ctx context.Context, before, after Carried, o compare.Options) (AirGain, error) {
	if before.To != after.To {
		return AirGain{}, fmt.Errorf("flight: %w", &ConditionsError{Before: before.To, After: after.To})
	}
	e, err := compare.MeanGain(ctx, NameCarryGainInAir, "m", carriesOf(before.Shots), carriesOf(after.Shots), o)
	if err != nil {
		return AirGain{}, err
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: e.DF}.Quantile((1 + e.Interval.Level) / 2)
	g := AirGain{
		ShotSE: (e.Interval.High - e.Interval.Low) / 2 / t,
		AirSE:  math.Hypot(math.Hypot(before.FitSE, after.FitSE), before.FormSE+after.FormSE),
	}
	half := t * math.Hypot(g.ShotSE, g.AirSE)
	e.Interval = dispersion.Interval{Low: e.Estimate - half, High: e.Estimate + half, Level: e.Interval.Level}
	e.Method = "difference of means, carried to the same air; Welch-Satterthwaite interval, widened by what carrying is unsure of"
	e.P, e.PFloor, e.HasP, e.Resamples = 0, 0, false, 0
	e.Warnings = slices.DeleteFunc(e.Warnings, func(w error) bool {
		var floor *compare.FloorWarning // of the p that is not there
		return errors.As(w, &floor)
	})
	if g.AirSE > g.ShotSE {
		e.Warnings = append(e.Warnings, &AirDoubtWarning{AirSE: g.AirSE, ShotSE: g.ShotSE})
	}
	g.Effect = e
	return g, nil
}

// Judge returns the verdict of [compare.Judge]. Its MoreBalls shrink the scatter of
// the shots and leave the doubt of the air as it is: with zₚ the quantiles of the
// normal law they are planned for a gain of
//
//	√(smallest² - (z₀.₉₇₅ + z₀.₈)²·air SE²)
//
// and are 0 where that is none, since no number of balls would settle it.
//
// Errors: those of [compare.Judge].
func (g AirGain) Judge(smallest float64) (compare.Verdict, error) {
	v, err := compare.Judge(g.Effect, smallest)
	if err != nil || v.MoreBalls == 0 {
		return v, err
	}
	v.MoreBalls = 0
	const level, power = 0.95, 0.80 // those of compare.Judge
	air := (distuv.UnitNormal.Quantile((1+level)/2) + distuv.UnitNormal.Quantile(power)) * g.AirSE
	n1, n2 := float64(g.Effect.N1), float64(g.Effect.N2)
	sd := g.ShotSE / math.Sqrt(1/n1+1/n2) // of a single shot
	if left := smallest*smallest - air*air; left > 0 {
		if need, err := compare.BallsForCarry(sd, math.Sqrt(left), power, level); err == nil { // else out of reach
			v.MoreBalls = max(0, need-min(g.Effect.N1, g.Effect.N2))
		}
	}
	return v, nil
}

// A ConditionsError says that shots were carried to different conditions, so
// that they can't be compared: those of the shots Before and After. It is always returned as *ConditionsError, wrapped.
type ConditionsError struct{ Before, After Conditions }

func (e *ConditionsError) Error() string {
	return fmt.Sprintf("carried to different conditions, %+v before and %+v after: carry both to the same", e.Before, e.After)
}

func carriesOf(shots []Shot) []float64 {
	carries := make([]float64, len(shots))
	for i, s := range shots {
		carries[i] = s.Carry
	}
	return carries
}
