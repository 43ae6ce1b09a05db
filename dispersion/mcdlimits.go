package dispersion

import (
	"errors"
	"fmt"
	"math"
)

// ErrNotMeasured is returned where a limit was found by simulation for other
// settings only.
var ErrNotMeasured = errors.New("limits were measured for the default alpha of 0.75 only")

// Cutoff returns the robust distance that a shot of a normal group exceeds with
// chance 1-share, for n shots in all. Shots beyond it ask to be looked at; a
// flag says nothing of the cause, and the mishit rule of a lesson is another
// one.
//
// The limit of large samples, √7.378 = 2.716 for 97.5 %, flags far too many
// shots of small groups. This one comes from simulated normal groups of each
// size (internal/study/mcdlimits), with the law
//
//	d² <= s·b·((1-share)^(-1/b) - 1)
//
// fitted to each size; between sizes above 20, s and 1/b run along 1/n. In
// fresh normal groups of 10, 20 and 50 shots the 97.5 % cut-off flags 2.51, 2.56
// and 2.47 % of the shots, where √7.378 flags 6.9, 4.8 and 2.9 %. A wild shot
// ten standard deviations out is flagged in 93 of 100 groups of 6, in 98 of 8,
// and practically always from 10 shots on.
//
// Errors: [ErrShare] for a share below 0.95 or from 1 on; [ErrNotMeasured] if
// Alpha is not 0.75.
//
// Reference for the form: J. Hardin, D. M. Rocke, "The Distribution of Robust
// Distances", Journal of Computational and Graphical Statistics 14(4), 2005, pp.
// 928-946; that the reweighted distances need their own: C. G. Green, R. D.
// Martin, "An Extension of a Method of Hardin and Rocke", University of
// Washington, 2017.
func (m MCD) Cutoff(share float64) (float64, error) {
	if !(share >= .95 && share < 1) {
		return 0, fmt.Errorf("dispersion: a cut-off holds 0.95 of the shots or more, but less than all, not %g: %w", share, ErrShare)
	}
	if m.Alpha != mcdDefaultAlpha {
		return 0, fmt.Errorf("dispersion: a cut-off at alpha %g: %w", m.Alpha, ErrNotMeasured)
	}
	if m.N < mcdLeast {
		return 0, tooFew(m.N, mcdLeast, "a cut-off")
	}
	return math.Sqrt(limitsAt(m.N).own.quantile(share)), nil
}

// A pareto is the law of s/2 times 2F(2, 2b), which is s/2 times χ² with two
// degrees of freedom for b infinite.
type pareto struct{ s, b float64 }

func (p pareto) quantile(level float64) float64 {
	return p.s * p.b * math.Expm1(-math.Log1p(-level)/p.b)
}

// mcdLimits are the laws of three squared distances in the metric of the
// reweighted fit to n normal shots.
type mcdLimits struct {
	n      int
	centre pareto // n times that of the true centre
	next   pareto // that of a new shot
	own    pareto // those of the shots themselves, from 95 % on
}

// limitsAt finds n in the table or between its rows.
func limitsAt(n int) mcdLimits {
	i := 0
	for i < len(mcdLimitTable) && mcdLimitTable[i].n < n {
		i++
	}
	last := len(mcdLimitTable) - 1
	if i > last {
		// On to infinity, where only b changes.
		r := mcdLimitTable[last]
		grow := float64(n) / float64(r.n)
		r.centre.b *= grow
		r.next.b *= grow
		r.own.b *= grow
		return r
	}
	above := mcdLimitTable[i]
	if above.n == n || i == 0 {
		return above
	}
	below := mcdLimitTable[i-1]
	t := (1/float64(below.n) - 1/float64(n)) / (1/float64(below.n) - 1/float64(above.n))
	between := func(p, q pareto) pareto {
		return pareto{s: p.s + t*(q.s-p.s), b: 1 / (1/p.b + t*(1/q.b-1/p.b))}
	}
	return mcdLimits{n: n, centre: between(below.centre, above.centre), next: between(below.next, above.next), own: between(below.own, above.own)}
}

// mcdLimitTable was printed by internal/study/mcdlimits. Up to 20 shots every
// size has its row, since h/n, and with it the fit, jumps from size to size.
var mcdLimitTable = [...]mcdLimits{
	{6, pareto{3.236, 1.441}, pareto{3.047, 1.426}, pareto{1.098, 1.477}},
	{7, pareto{2.971, 1.831}, pareto{2.805, 1.859}, pareto{1.145, 1.887}},
	{8, pareto{3.538, 1.530}, pareto{2.809, 1.568}, pareto{1.904, 1.795}},
	{9, pareto{3.031, 1.813}, pareto{2.565, 1.964}, pareto{1.678, 2.117}},
	{10, pareto{2.907, 2.214}, pareto{2.498, 2.447}, pareto{1.678, 2.535}},
	{11, pareto{2.734, 2.547}, pareto{2.412, 2.773}, pareto{1.648, 2.886}},
	{12, pareto{2.877, 2.128}, pareto{2.355, 2.497}, pareto{1.731, 2.586}},
	{13, pareto{2.798, 2.472}, pareto{2.326, 2.945}, pareto{1.708, 2.915}},
	{14, pareto{2.666, 2.787}, pareto{2.321, 3.561}, pareto{1.775, 3.508}},
	{15, pareto{2.650, 3.320}, pareto{2.284, 3.896}, pareto{1.680, 3.706}},
	{16, pareto{2.677, 2.974}, pareto{2.270, 3.877}, pareto{1.730, 3.561}},
	{17, pareto{2.619, 3.127}, pareto{2.246, 4.415}, pareto{1.686, 3.800}},
	{18, pareto{2.627, 3.725}, pareto{2.202, 4.665}, pareto{1.704, 4.221}},
	{19, pareto{2.533, 3.819}, pareto{2.183, 4.953}, pareto{1.642, 4.306}},
	{20, pareto{2.630, 3.579}, pareto{2.196, 5.028}, pareto{1.735, 4.437}},
	{24, pareto{2.722, 5.783}, pareto{2.163, 6.586}, pareto{1.711, 5.286}},
	{28, pareto{2.549, 5.812}, pareto{2.100, 7.099}, pareto{1.660, 5.842}},
	{36, pareto{2.491, 8.290}, pareto{2.054, 9.535}, pareto{1.746, 8.004}},
	{48, pareto{2.468, 7.729}, pareto{2.041, 18.357}, pareto{1.741, 9.535}},
	{64, pareto{2.480, 16.610}, pareto{2.012, 16.527}, pareto{1.823, 14.880}},
	{100, pareto{2.425, 25.280}, pareto{2.088, 99.484}, pareto{1.838, 19.011}},
	{200, pareto{2.246, 27.249}, pareto{2.020, 10883.466}, pareto{1.935, 44.701}},
	{500, pareto{2.254, 10883.466}, pareto{2.007, 156.022}, pareto{1.963, 92.759}},
}
