package compare

import (
	"math"

	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// A pooled sample holds the values before and then those after, moved and
// scaled into [-1, 1], so that neither their size nor a distant origin costs
// digits: x = centre + scale·value.
type pooled struct {
	values        []float64
	centre, scale float64
	sum, squares  float64 // of the values
}

// standardise pools the two sides; ok is false if all values are equal.
func standardise(before, after []float64) (p pooled, ok bool) {
	p.values = append(append(make([]float64, 0, len(before)+len(after)), before...), after...)
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range p.values {
		low, high = min(low, v), max(high, v)
	}
	p.centre, p.scale = low/2+high/2, high/2-low/2
	if p.scale == 0 {
		return p, false
	}
	for i, v := range p.values {
		z := (v - p.centre) / p.scale
		p.values[i] = z
		p.sum += z
		p.squares += float64(z * z)
	}
	return p, true
}

// A summary is all that a mean comparison needs of one side.
type summary struct {
	n, mean, ss float64 // ss: sum of squared deviations from the mean
}

// summaryOf makes two passes; ss is exactly 0 for equal values.
func summaryOf(values []float64) summary {
	s := summary{n: float64(len(values)), mean: values[0]}
	equal := true
	var rest float64
	for _, v := range values {
		equal = equal && v == values[0]
		rest += v - values[0]
	}
	if equal {
		return s
	}
	s.mean += rest / s.n
	for _, v := range values {
		d := v - s.mean
		s.ss += float64(d * d)
	}
	return s
}

// A welch holds the difference of two means with its standard error.
type welch struct {
	mean1, mean2, difference, se, df float64
}

func welchOf(s1, s2 summary) welch {
	v1, v2 := s1.ss/(s1.n-1)/s1.n, s2.ss/(s2.n-1)/s2.n
	w := welch{mean1: s1.mean, mean2: s2.mean, difference: s2.mean - s1.mean, se: math.Sqrt(v1 + v2)}
	if w.se > 0 {
		share := v1 / (v1 + v2)
		w.df = 1 / (share*share/(s1.n-1) + (1-share)*(1-share)/(s2.n-1))
	}
	return w
}

// studentised returns |x̄₂-x̄₁|/√(s₁²/n₁+s₂²/n₂) of a split of the pooled
// values, +Inf where the split leaves neither side any spread.
func (p pooled) studentised(s resample.Split) float64 {
	n1, n2 := float64(s.First), float64(len(s.Order)-s.First)
	var sum, squares float64
	for _, i := range s.Order[:s.First] {
		v := p.values[i]
		sum += v
		squares += float64(v * v)
	}
	mean1, mean2 := sum/n1, (p.sum-sum)/n2
	ss1 := squares - float64(sum*mean1)
	ss2 := p.squares - squares - float64((p.sum-sum)*mean2)
	// The sums of squares cancel where the sides are far apart; then, rarely,
	// two passes keep the digits.
	if min(ss1, ss2) < 1e-4*p.squares {
		mean1, ss1 = p.part(s.Order[:s.First])
		mean2, ss2 = p.part(s.Order[s.First:])
	}
	// Not all values are equal, so the means differ where there is no spread,
	// and the quotient is +Inf.
	return math.Abs(mean2-mean1) / math.Sqrt(ss1/(n1*(n1-1))+ss2/(n2*(n2-1)))
}

// part returns the mean of the values at the indices and the sum of their
// squared deviations from it.
func (p pooled) part(indices []int) (mean, ss float64) {
	var sum float64
	for _, i := range indices {
		sum += p.values[i]
	}
	mean = sum / float64(len(indices))
	for _, i := range indices {
		d := p.values[i] - mean
		ss += float64(d * d)
	}
	return mean, ss
}
