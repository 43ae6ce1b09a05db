package compare

import (
	"fmt"
	"slices"
)

// Holm returns the p-values adjusted for how many there are, in the order given:
// with the p-values sorted upwards, pᵢ becomes the largest of (m-j+1)·pⱼ for
// j ≤ i, and at most 1. The chance that any true null falls below a line is then
// at most that line, however the tests hang together.
//
// Errors: [ErrShare]. No p-values give none. It doesn't sort its input.
//
// Reference: S. Holm, "A Simple Sequentially Rejective Multiple Test Procedure",
// Scandinavian Journal of Statistics 6(2), 1979, pp. 65-70.
func Holm(p []float64) ([]float64, error) {
	order := make([]int, len(p))
	for i, v := range p {
		if !(v >= 0 && v <= 1) {
			return nil, fmt.Errorf("compare: p-value %d is %g: %w", i, v, ErrShare)
		}
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case p[a] < p[b]:
			return -1
		case p[a] > p[b]:
			return 1
		}
		return a - b
	})
	adjusted := make([]float64, len(p))
	reached := 0.0
	for rank, i := range order {
		reached = max(reached, min(1, float64(len(p)-rank)*p[i]))
		adjusted[i] = reached
	}
	return adjusted, nil
}

// AlsoSeen returns the verdicts on effects that were not the headline, in the
// order given, each as it stands when so many were looked at. The three claims,
// a gain beyond the smallest change worth having, a loss beyond it, and no gain
// beyond it, are each adjusted by [Holm] over all of them:
//
//	1-C, 1-C(worse) and C are the one-sided p-values
//
// and the lines of [Judge] then apply to what comes out. A verdict only ever
// gets weaker, and where it does it has the caveat [OneOfSeveral]. Confidences
// become the adjusted ones; intervals stay those of the single effects.
//
// Errors: [ErrShare] for a verdict that [Judge] can't have made.
func AlsoSeen(verdicts []Verdict) ([]Verdict, error) {
	var claims [3][]float64
	for _, v := range verdicts {
		claims[0] = append(claims[0], 1-v.Confidence)
		claims[1] = append(claims[1], 1-v.ConfidenceWorse)
		claims[2] = append(claims[2], v.Confidence)
	}
	for i := range claims {
		adjusted, err := Holm(claims[i])
		if err != nil {
			return nil, err
		}
		claims[i] = adjusted
	}
	out := slices.Clone(verdicts)
	for i := range out {
		v := &out[i]
		kind := v.Kind
		gain, loss, none := 1-claims[0][i], 1-claims[1][i], claims[2][i]
		switch {
		case kind == WorthHaving && gain < 0.975 && gain >= 0.80:
			v.Kind = Probably
		case (kind == WorthHaving || kind == Probably) && gain < 0.80:
			v.Kind = CantTell
		case kind == Worse && loss < 0.975:
			v.Kind = CantTell
			if none <= 0.025 {
				v.Kind = NoGainWorth
			}
		case kind == NoGainWorth && none > 0.025:
			v.Kind = CantTell
		}
		v.Confidence, v.ConfidenceWorse = min(v.Confidence, gain), min(v.ConfidenceWorse, loss)
		if v.Kind != kind {
			*v = v.withCaveat(OneOfSeveral)
		}
	}
	return out, nil
}
