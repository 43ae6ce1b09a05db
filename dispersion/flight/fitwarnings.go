package flight

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

var (
	kindNames = [3]string{"carry", "apex", "descent"}

	// mostScatter is up to which share of the mean a scatter can be that of devices
	// and of balls of another form; our own choice, no source.
	mostScatter = [3]float64{.05, .20, .15}
)

const oddTimes = 4

// warnings points at the odd shots, and at the kinds that the fit misses without
// them too.
func (f *fitting) warnings() (warnings []error) {
	var all, n, usual, mean, usualN [3]float64
	for _, r := range f.rows {
		all[r.kind] += r.left * r.left
		n[r.kind]++
	}
	free := max(1-float64(len(f.at))/float64(len(f.rows)), .1) // of each value, after the coefficients
	for _, r := range f.rows {
		if times := f.odd(r, all[r.kind], n[r.kind]*free-1); times > 0 {
			warnings = append(warnings, &OddShotWarning{Index: r.shot, Of: kindNames[r.kind], Times: times})
			continue
		}
		usual[r.kind] += r.left * r.left / free
		mean[r.kind] += f.measured(r)
		usualN[r.kind]++
	}
	for k, name := range kindNames {
		if usualN[k] == 0 {
			continue
		}
		scatter, mean := math.Sqrt(usual[k]/usualN[k]), math.Abs(mean[k]/usualN[k])
		if mean > 0 && scatter > mostScatter[k]*mean {
			warnings = append(warnings, &MisfitWarning{Of: name, Scatter: scatter, Mean: mean})
		}
	}
	return warnings
}

// odd returns how many standard deviations a row is off, or 0 where that is not
// odd. It is held against the misses of the other shots: its own would hide it,
// since of n none is more than (n-1)/√n standard deviations off that it is part of.
// The law of t allows for how unsure so few make the standard deviation.
func (f *fitting) odd(r fitRow, squares, df float64) float64 {
	df = max(df, 1)
	scale := max(math.Sqrt(max(squares-r.left*r.left, 0)/df), leastScatter[r.kind])
	times := math.Abs(r.left) / scale
	if (distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}).Survival(times) >= distuv.UnitNormal.Survival(oddTimes) {
		return 0
	}
	return times
}

// measured returns what a row was measured to be.
func (f *fitting) measured(r fitRow) float64 {
	s := f.shots[r.shot]
	return [3]float64{s.Carry, s.Apex, s.Descent}[r.kind]
}
