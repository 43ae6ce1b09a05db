package strokes

import (
	"context"
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// The names of the effects made here. All are strokes gained a shot, so that
// more is better.
const (
	NameWorth       = "strokes_gained_change"
	NameWorthSpread = "strokes_gained_change_spread"
	NameClubGain    = "strokes_gained_club"
)

// A Worth is what a change of the pattern is worth from one distance.
type Worth struct {
	Distance float64 // to the flag, metres

	// Change is what the whole change is worth to a pupil who aims at the
	// flag: strokes gained a shot after, minus before.
	Change compare.Effect

	// Spread is what is left of it if either pattern had its middle on the
	// flag: the spread's part. The rest is the bias's.
	Spread compare.Effect
}

// WorthOf returns what the change from one pattern to another is worth in
// strokes a shot, for approaches from the fairway of a hole at the given
// distances in metres, played at the flag.
//
// A pattern measured at one carry stands for every distance with the same spread
// in degrees and per cent. So what a longer club is worth by itself is not in
// it; that shows where each of the two clubs is measured. Every shot counts,
// mishits too, as the strokes it gains on the player of the baseline:
//
//	gained = E(start) - strokes(flag + shot)
//
// and the two groups of strokes gained are compared by [compare.MeanGain], whose
// interval carries the chance in both. Shots lie closer to their own middle than
// to the true one, so the carries are drawn out about their median by √(n/(n-1));
// for Spread each side is taken about its median and drawn out likewise.
//
// Simulated with 3,000 pairs of normal groups of 8 and of 20 shots, beside a
// pond, its 95 % held the truth in 94.3 and 94.0 % of pairs, and for Spread in
// 95.5 and 95.6 %. What it leaves out is the doubt in the baseline, which shifts
// both sides alike, and that one hole is not all holes.
//
// Errors: [ErrMissing]; [ErrAsHit] for a pattern that is not as hit; those of
// [Hole.Approach], [View.Strokes] and [compare.MeanGain]. Warnings in the
// effects: those of [compare.MeanGain].
func WorthOf(ctx context.Context, h *Hole, b Baseline, before, after Pattern, distances []float64, o compare.Options) ([]Worth, error) {
	if ctx == nil || h == nil || b == nil || len(distances) == 0 {
		return nil, fmt.Errorf("strokes: the worth of a change: %w", ErrMissing)
	}
	if before.law != AsHit || after.law != AsHit {
		return nil, fmt.Errorf("strokes: the worth of a change: %w", ErrAsHit)
	}
	var all []Worth
	for _, d := range distances {
		v, err := h.Approach(d, b)
		if err != nil {
			return nil, err
		}
		w, err := v.worth(ctx, before, after, o)
		if err != nil {
			return nil, fmt.Errorf("strokes: from %.4g m: %w", d, err)
		}
		all = append(all, w)
	}
	return all, nil
}

func (v *View) worth(ctx context.Context, before, after Pattern, o compare.Options) (Worth, error) {
	w := Worth{Distance: v.toFlag}
	for _, part := range []struct {
		name   string
		of     func(Pattern) Pattern
		effect *compare.Effect
	}{
		{NameWorth, func(p Pattern) Pattern { return p.drawnOut(false) }, &w.Change},
		{NameWorthSpread, func(p Pattern) Pattern { return p.Straightened().drawnOut(true) }, &w.Spread},
	} {
		var gained [2][]float64
		for i, p := range []Pattern{before, after} {
			scaled, err := p.Scaled(v.toFlag)
			if err != nil {
				return w, err
			}
			if gained[i], err = v.gained(part.of(scaled), v.Flag()); err != nil {
				return w, err
			}
		}
		e, err := compare.MeanGain(ctx, part.name, "strokes", gained[0], gained[1], o)
		if err != nil {
			return w, err
		}
		*part.effect = e
	}
	return w, nil
}

// drawnOut returns the pattern as wide about its own middle as shots are about
// the true one: in carry, which is measured from the median, and in side if that
// is as well.
func (p Pattern) drawnOut(sideToo bool) Pattern {
	f := math.Sqrt(float64(p.n) / float64(max(p.n-1, 1)))
	across := 1.0
	if sideToo {
		across = f
	}
	shots := p.shots
	p.shots = make([]dispersion.Point, len(shots))
	for i, s := range shots {
		p.shots[i] = dispersion.Point{X: s.X * across, Y: s.Y * f}
	}
	return p
}

// gained returns the strokes gained by every shot of a pattern with an aim.
func (v *View) gained(p Pattern, aim dispersion.Point) ([]float64, error) {
	gained := make([]float64, len(p.shots))
	for i, s := range p.shots {
		cost, err := v.Strokes(dispersion.Point{X: aim.X + s.X, Y: aim.Y + s.Y})
		if err != nil {
			return nil, err
		}
		gained[i] = v.start - cost
	}
	return gained, nil
}
