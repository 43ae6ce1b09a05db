package practice

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// A remlProfile finds the values of a variance, or of a ratio of variances, that
// the shots are compatible with: those at which the criterion, lowest over all
// else, lies less than cut above its lowest value anywhere.
type remlProfile struct {
	c      *remlData
	ml     bool
	lowest float64 // the criterion at the estimates
	lambda []float64
	sigma2 float64 // in units of the scaled values
}

// above returns how far the criterion lies above its lowest.
func (p *remlProfile) above(q remlQuestion) float64 {
	f := &remlSearch{s: p.c.newState(), ml: p.ml, remlQuestion: q}
	value := math.Inf(1)
	// The second start is for where the best of the other ratios jumps away.
	for _, least := range []float64{0.05, 0.5} {
		x := make([]float64, 0, f.free())
		for k, l := range p.lambda {
			if k != q.term || q.kind == heldResidual {
				x = append(x, max(math.Sqrt(l), least))
			}
		}
		if q.kind == heldVariance {
			x = append(x, math.Log(p.sigma2))
		}
		value = min(value, f.descend(x, 1e-8))
		if len(x) == 0 || q.kind == heldVariance && len(x) == 1 {
			break
		}
	}
	return value - p.lowest
}

// ends returns where the profile crosses the cut on both sides of the estimate,
// 0 for the lower end where it never does.
func (p *remlProfile) ends(kind heldKind, term int, estimate, cut float64) (low, high float64) {
	over := func(v float64) float64 { return p.above(remlQuestion{kind, term, v}) - cut }
	// The scale of the first step outward.
	unit := estimate
	if kind == heldRatio {
		unit = max(unit, 1e-3)
	} else {
		unit = max(unit, 1e-3*p.sigma2)
	}
	in, out := estimate, estimate+unit
	for range 200 {
		if over(out) >= 0 {
			break
		}
		in, out = out, 3*out
	}
	high = crossingPoint(over, in, out)
	if estimate == 0 {
		return 0, high
	}
	if kind != heldResidual && over(0) < 0 {
		return 0, high
	}
	in, out = estimate, estimate/3
	for range 200 {
		if over(out) >= 0 {
			break
		}
		in, out = out, out/3
	}
	return crossingPoint(over, in, out), high
}

// crossingPoint returns where f, below 0 at in and above at out, is 0. It halves
// by the ratio where it can, since variances spread over orders of size, and goes
// by straight lines otherwise (the Illinois rule).
func crossingPoint(f func(float64) float64, in, out float64) float64 {
	fi, fo := f(in), f(out)
	side := 0
	for range 60 {
		if math.Abs(out-in) <= 1e-7*math.Abs(out) {
			break
		}
		mid := out - fo*(out-in)/(fo-fi)
		if !(mid > min(in, out) && mid < max(in, out)) {
			mid = (in + out) / 2
		}
		switch fm := f(mid); {
		case math.Abs(fm) < 1e-7:
			return mid
		case fm < 0:
			in, fi = mid, fm
			if side == -1 {
				fo /= 2
			}
			side = -1
		default:
			out, fo = mid, fm
			if side == 1 {
				fi /= 2
			}
			side = 1
		}
	}
	return (in + out) / 2
}

// cutFor returns how far a criterion may lie above its lowest at a level: the
// quantile of χ² with 1 degree of freedom, times the mean of the likelihood ratio
// for one variance with df degrees of freedom,
//
//	df·(ln(df/2) - ψ(df/2))
//
// which is 1 for many and 1.27 for one. Without it a profile from four sessions
// is too narrow.
func cutFor(level, df float64) float64 {
	return distuv.ChiSquared{K: 1}.Quantile(level) * df * (math.Log(df/2) - mathext.Digamma(df/2))
}
