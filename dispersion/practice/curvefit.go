package practice

import (
	"fmt"
	"math"
	"slices"

	"github.com/landfall-golf/landfall/dispersion"
)

// A curveFit holds sessions on scales of their own: times from 0 to 1, values
// centred and at most 1.
type curveFit struct {
	at, y            []float64
	span             float64 // the whole time
	centre, unit     float64 // of the values
	total            float64 // sum of squares about the mean
	slowest, fastest float64 // rates to look at
}

// A linearCurve is the best A + B·exp(-rate·t) at one rate, with the inverse of the
// normal equations.
type linearCurve struct {
	rate, a, b    float64
	squares       float64 // left over
	vaa, vab, vbb float64
}

func newCurveFit(at, values []float64) (*curveFit, error) {
	sorted := slices.Clone(at)
	slices.Sort(sorted)
	first, last := sorted[0], sorted[len(sorted)-1]
	times := len(slices.Compact(sorted))
	f := &curveFit{span: last - first}
	if times < 4 {
		return nil, fmt.Errorf("%d different times of sessions: %w", times, dispersion.ErrDegenerate)
	}
	f.y, f.centre, f.unit = unitScaled(values)
	if f.unit == 0 {
		return nil, fmt.Errorf("all values are equal: %w", dispersion.ErrDegenerate)
	}
	for i, t := range at {
		f.at = append(f.at, (t-first)/f.span)
		f.total += f.y[i] * f.y[i]
	}
	f.slowest, f.fastest = math.Ln2/4, 4*math.Ln2*float64(times-1)
	return f, nil
}

// line returns the best curve at a rate.
func (f *curveFit) line(rate float64) linearCurve {
	n := float64(len(f.y))
	var mean, yMean float64
	e := make([]float64, len(f.y))
	for i, t := range f.at {
		e[i] = math.Exp(-rate * t)
		mean += e[i] / n
		yMean += f.y[i] / n
	}
	var see, sey float64
	for i := range e {
		see += (e[i] - mean) * (e[i] - mean)
		sey += (e[i] - mean) * (f.y[i] - yMean)
	}
	l := linearCurve{rate: rate, b: sey / see}
	l.a = yMean - l.b*mean
	for i := range e {
		r := f.y[i] - l.a - l.b*e[i]
		l.squares += r * r
	}
	l.vbb = 1 / see
	l.vab = -mean / see
	l.vaa = 1/n + mean*mean/see
	return l
}

// curveRates are how many rates are looked at, evenly spaced on the logarithmic scale.
const curveRates = 400

func (f *curveFit) rate(i int) float64 {
	return f.slowest * math.Pow(f.fastest/f.slowest, float64(i)/curveRates)
}

// best returns the curve that leaves the least, by the golden section around the
// best of the rates looked at.
func (f *curveFit) best() linearCurve {
	at, least := 0, math.Inf(1)
	for i := range curveRates + 1 {
		if s := f.line(f.rate(i)).squares; s < least {
			at, least = i, s
		}
	}
	low, high := f.rate(max(at-1, 0)), f.rate(min(at+1, curveRates))
	const golden = 0.6180339887498949
	for range 80 {
		a, b := high-golden*(high-low), low+golden*(high-low)
		if f.line(a).squares <= f.line(b).squares {
			high = b
		} else {
			low = a
		}
	}
	return f.line((low + high) / 2)
}

// within returns the curves, by their rates from slow to fast, that leave no more
// than the cut; the first and the last lie at the cut or at the end of the rates.
func (f *curveFit) within(cut float64, best linearCurve) []linearCurve {
	edge := func(in, out float64) linearCurve {
		for range 60 {
			mid := math.Sqrt(in * out)
			if f.line(mid).squares <= cut {
				in = mid
			} else {
				out = mid
			}
		}
		return f.line(in)
	}
	curves := []linearCurve{best}
	for i := range curveRates + 1 {
		if l := f.line(f.rate(i)); l.squares <= cut {
			curves = append(curves, l)
		}
	}
	slices.SortFunc(curves, func(a, b linearCurve) int {
		switch {
		case a.rate < b.rate:
			return -1
		case a.rate > b.rate:
			return 1
		}
		return 0
	})
	step := math.Pow(f.fastest/f.slowest, 1.0/curveRates)
	if slow := curves[0].rate; slow > f.slowest*(1+1e-9) {
		curves = append([]linearCurve{edge(slow, max(slow/step, f.slowest))}, curves...)
	}
	if fast := curves[len(curves)-1].rate; fast < f.fastest*(1-1e-9) {
		curves = append(curves, edge(fast, min(fast*step, f.fastest)))
	}
	return curves
}

// profile returns the estimate of p·A + g·B with what all curves within the cut
// allow: at each rate the values at which the sum of squares reaches the cut.
func (f *curveFit) profile(within []linearCurve, best linearCurve, cut, level float64, of func(linearCurve) (p, g float64)) Estimate {
	p, g := of(best)
	value := p*best.a + g*best.b
	low, high := value, value
	for _, l := range within {
		p, g := of(l)
		v := p*l.a + g*l.b
		half := math.Sqrt(max(0, cut-l.squares) * (p*p*l.vaa + 2*p*g*l.vab + g*g*l.vbb))
		low, high = min(low, v-half), max(high, v+half)
	}
	scale := func(v float64) float64 { return f.centre + f.unit*v }
	return Estimate{scale(value), dispersion.Interval{Low: scale(low), High: scale(high), Level: level}}
}
