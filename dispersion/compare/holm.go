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
	order, err := upwards(p)
	if err != nil {
		return nil, err
	}
	adjusted := make([]float64, len(p))
	reached := 0.0
	for rank, i := range order {
		reached = max(reached, min(1, float64(len(p)-rank)*p[i]))
		adjusted[i] = reached
	}
	return adjusted, nil
}

// BenjaminiHochberg returns the p-values adjusted for how many there are, in the
// order given: with the m p-values sorted upwards, pᵢ becomes the smallest of
// m/j·pⱼ for j ≥ i, and at most 1. Of those that then fall below a line, the share
// that is there by chance alone is at most that line on average.
//
// It answers which of many columns of a lesson are worth a look next time, where
// some false leads among them do no harm. What is to be said of a lesson takes
// [Holm], under which not one may be false.
//
// It assumes p-values that are independent or rise and fall together.
//
// Errors: [ErrShare]. No p-values give none. It doesn't sort its input.
//
// Reference: Y. Benjamini, Y. Hochberg, "Controlling the False Discovery Rate: A
// Practical and Powerful Approach to Multiple Testing", Journal of the Royal
// Statistical Society B 57(1), 1995, pp. 289-300.
func BenjaminiHochberg(p []float64) ([]float64, error) {
	order, err := upwards(p)
	if err != nil {
		return nil, err
	}
	adjusted := make([]float64, len(p))
	reached := 1.0
	for rank, i := range slices.Backward(order) {
		reached = min(reached, float64(len(p))/float64(rank+1)*p[i])
		adjusted[i] = reached
	}
	return adjusted, nil
}

// upwards returns the indices of the p-values from the smallest one up.
func upwards(p []float64) ([]int, error) {
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
	return order, nil
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
			v.MoreBalls = 0 // planned for a single question
		}
	}
	return out, nil
}
