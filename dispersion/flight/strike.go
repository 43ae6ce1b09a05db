package flight

import (
	"context"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// A StrikeSplit is a change of ball speed taken apart into swinging faster and
// hitting it better. Speeds are in m/s.
type StrikeSplit struct {
	// RatioBefore and RatioAfter are mean ball speed over mean club speed: how much
	// of the club's speed the ball takes on, a measure of the strike.
	RatioBefore, RatioAfter float64
	Ratio                   Share // its change

	BallSpeed Share // the change of mean ball speed
	Swing     Share // of it, what moved along with the speed of the club: swung faster
	Strike    Share // of it, what moved along with the ratio: hit it better

	N1, N2    int // shots with a club speed
	Level     float64
	Resamples int
	Seed      uint64
}

// SplitStrike takes the change of mean ball speed apart. With the mean club
// speeds c and the ratios r,
//
//	swung faster = (c₂-c₁)·(r₁+r₂)/2,  hit better = (r₂-r₁)·(c₁+c₂)/2
//
// which add up to the change, and are what each adds on average over both orders
// of changing them (Shapley). The ratio depends on the club and its loft too, so
// compare one club with itself. Shots without a club speed are left out. Intervals
// are those of [SplitGain].
//
// Errors: [ErrMissing]; *[dispersion.TooFewError] below 5 shots a side with a club
// speed; *[ShotError], counted over those; [dispersion.ErrLevel];
// [compare.ErrResamples]; the context's error.
func SplitStrike(ctx context.Context, before, after []Shot, o compare.Options) (StrikeSplit, error) {
	before, after = withClubSpeed(before), withClubSpeed(after)
	o, err := splitOptions(ctx, before, after, o)
	if err != nil {
		return StrikeSplit{}, err
	}
	n1, n2 := len(before), len(after)
	whole := strikeOf(before, after, once(n1+n2))
	drawn := make([][4]float64, o.Resamples)
	err = resample.Chunks(ctx, o.Resamples, resample.ChunkSize, o.Progress, func(chunk, lo, hi int) error {
		stream := resample.NewStream(o.Seed, "split of a ball speed", chunk)
		for r := lo; r < hi; r++ {
			drawn[r] = strikeOf(before, after, drawWeights(stream, n1, n2)).changes()
		}
		return nil
	})
	if err != nil {
		return StrikeSplit{}, err
	}
	var shares [4]Share
	for k, estimate := range whole.changes() {
		of := make([]float64, len(drawn))
		for r := range drawn {
			of[r] = drawn[r][k]
		}
		shares[k] = share(estimate, of, o.Level, n1, n2)
	}
	return StrikeSplit{
		RatioBefore: whole.ratio1, RatioAfter: whole.ratio2,
		Ratio: shares[0], BallSpeed: shares[1], Swing: shares[2], Strike: shares[3],
		N1: n1, N2: n2, Level: o.Level, Resamples: o.Resamples, Seed: o.Seed,
	}, nil
}

func withClubSpeed(shots []Shot) []Shot {
	var with []Shot
	for _, s := range shots {
		if s.ClubSpeed != 0 {
			with = append(with, s)
		}
	}
	return with
}

// A strike is the means that a split of ball speed needs.
type strike struct{ club1, club2, ratio1, ratio2 float64 }

func strikeOf(before, after []Shot, weights []float64) (s strike) {
	means := func(shots []Shot, weights []float64) (club, ratio float64) {
		var ball, n float64
		for i, shot := range shots {
			club += weights[i] * shot.ClubSpeed
			ball += weights[i] * shot.Speed
			n += weights[i]
		}
		return club / n, ball / club
	}
	s.club1, s.ratio1 = means(before, weights[:len(before)])
	s.club2, s.ratio2 = means(after, weights[len(before):])
	return s
}

// changes returns those of the ratio and of the ball speed, and the two parts of
// the latter.
func (s strike) changes() [4]float64 {
	swing := (s.club2 - s.club1) * (s.ratio1 + s.ratio2) / 2
	better := (s.ratio2 - s.ratio1) * (s.club1 + s.club2) / 2
	return [4]float64{s.ratio2 - s.ratio1, swing + better, swing, better}
}
