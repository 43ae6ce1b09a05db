package flight

import "math"

// A step is one step of the pair of Dormand and Prince, orders 5 and 4, with
// what its continuous extension of order 4 needs.
//
// References: J. R. Dormand, P. J. Prince, "A Family of Embedded Runge-Kutta
// Formulae", Journal of Computational and Applied Mathematics 6, 1980, pp.
// 19-26; the extension and the control of the step are those of E. Hairer,
// S. P. Nørsett, G. Wanner, Solving Ordinary Differential Equations I, 2nd ed.,
// Springer 1993, sections II.4 and II.6 (coefficients from memory, held by the
// test of their order).
type step struct {
	t, h float64
	from state
	to   state
	k    [7]state // k[0] at the start, k[6] at the end
}

// take goes from s.from, whose derivative stands in s.k[0], over the time s.h.
func (s *step) take(f *field) {
	var y state
	h, k, from := s.h, &s.k, &s.from
	for i := range y {
		y[i] = from[i] + h*(1./5)*k[0][i]
	}
	f.rate(&y, &k[1])
	for i := range y {
		y[i] = from[i] + h*(3./40*k[0][i]+9./40*k[1][i])
	}
	f.rate(&y, &k[2])
	for i := range y {
		y[i] = from[i] + h*(44./45*k[0][i]-56./15*k[1][i]+32./9*k[2][i])
	}
	f.rate(&y, &k[3])
	for i := range y {
		y[i] = from[i] + h*(19372./6561*k[0][i]-25360./2187*k[1][i]+64448./6561*k[2][i]-212./729*k[3][i])
	}
	f.rate(&y, &k[4])
	for i := range y {
		y[i] = from[i] + h*(9017./3168*k[0][i]-355./33*k[1][i]+46732./5247*k[2][i]+49./176*k[3][i]-5103./18656*k[4][i])
	}
	f.rate(&y, &k[5])
	for i := range y {
		y[i] = from[i] + h*(35./384*k[0][i]+500./1113*k[2][i]+125./192*k[3][i]-2187./6784*k[4][i]+11./84*k[5][i])
	}
	f.rate(&y, &k[6])
	s.to = y
}

// miss returns the estimated error of the step, 1 being as much as is allowed.
func (s *step) miss(scale *state) float64 {
	k, worst := &s.k, 0.0
	for i := range s.to {
		e := s.h * (71./57600*k[0][i] - 71./16695*k[2][i] + 71./1920*k[3][i] - 17253./339200*k[4][i] + 22./525*k[5][i] - 1./40*k[6][i])
		worst = math.Max(worst, math.Abs(e)/scale[i]) // NaN stays NaN
	}
	return worst
}

// at returns component i at a share of the step, by the continuous extension.
func (s *step) at(i int, share float64) float64 {
	k, rest := &s.k, 1-share
	rise := s.to[i] - s.from[i]
	bend := s.h*k[0][i] - rise
	twist := rise - s.h*k[6][i] - bend
	last := s.h * (-12715105075./11282082432*k[0][i] + 87487479700./32700410799*k[2][i] - 10690763975./1880347072*k[3][i] +
		701980252875./199316789632*k[4][i] - 1453857185./822651844*k[5][i] + 69997945./29380423*k[6][i])
	return s.from[i] + share*(rise+rest*(bend+share*(twist+rest*last)))
}

// crossing returns the share in [low, high] at which component i of the step is
// level, given that it is above at one end and not above at the other: by the
// chord, with the weight of an end that stays put halved each time (the Illinois
// rule).
func (s *step) crossing(i int, level, low, high float64) float64 {
	a, b := s.at(i, low)-level, s.at(i, high)-level
	tiny := 1e-10 * (math.Abs(a) + math.Abs(b))
	for range 60 {
		if a == b {
			break
		}
		mid := min(max(low-a*(high-low)/(b-a), low), high)
		v := s.at(i, mid) - level
		switch {
		case math.Abs(v) <= tiny:
			return mid
		case (v > 0) == (b > 0): // high moves
			high, b, a = mid, v, a/2
		default:
			low, a, b = mid, v, b/2
		}
	}
	return high
}
