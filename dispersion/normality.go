package dispersion

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// normalityLeast is the fewest shots for a test of normality: below, it finds
// hardly any departure that matters.
const normalityLeast = 20

// shapiroMost is the largest sample for which the p-values of the Shapiro-Wilk
// test were fitted.
const shapiroMost = 5000

// ErrTooMany is returned for more values than a method was made for.
var ErrTooMany = errors.New("there are more values than this method was made for")

// A NormalityTest is the answer of one test of normality. None of them chooses
// a method here: with few shots they miss much, with many they find trifles.
type NormalityTest struct {
	Method    string
	Statistic float64 // of the kind that Method names
	P         float64 // chance of a statistic as extreme from normal shots
	N         int
}

// ShapiroWilk tests whether values come from one normal distribution. W is the
// squared correlation of the ordered values with their weights a,
//
//	W = (Σ aᵢ x₍ᵢ₎)² / Σ (xᵢ-x̄)²
//
// near 1 for normal values. Weights and p-value are Royston's approximations,
// made for 3 to 5000 values; 20 are asked for. Ties, such as rounding makes,
// lower W a little.
//
// Errors: *[TooFewError] below 20 values; [ErrTooMany] above 5000;
// [ErrDegenerate] for equal values; an error naming the first value that is not
// finite.
//
// References: S. S. Shapiro, M. B. Wilk, "An Analysis of Variance Test for
// Normality", Biometrika 52(3/4), 1965, pp. 591-611; P. Royston, "Remark AS
// R94", Applied Statistics 44(4), 1995, pp. 547-551.
func ShapiroWilk(values []float64) (NormalityTest, error) {
	if len(values) < normalityLeast {
		return NormalityTest{}, tooFew(len(values), normalityLeast, "a Shapiro-Wilk test")
	}
	if len(values) > shapiroMost {
		return NormalityTest{}, fmt.Errorf("dispersion: a Shapiro-Wilk test takes at most %d values, not %d: %w", shapiroMost, len(values), ErrTooMany)
	}
	x, err := sortedValues(values, "a Shapiro-Wilk test")
	if err != nil {
		return NormalityTest{}, err
	}
	if x[0] == x[len(x)-1] {
		return NormalityTest{}, fmt.Errorf("dispersion: a Shapiro-Wilk test of equal values: %w", ErrDegenerate)
	}
	w, p := shapiroWilk(x)
	return NormalityTest{Method: "Shapiro-Wilk", Statistic: w, P: p, N: len(x)}, nil
}

// shapiroWilk takes three or more sorted values, not all equal.
func shapiroWilk(x []float64) (w, p float64) {
	a := shapiroWeights(len(x))
	// 1-W directly, since W is near 1: the sum of squares of what the weights
	// leave unexplained. Values are centred and scaled first.
	n, size := float64(len(x)), x[len(x)-1]-x[0]
	var mean float64
	for _, v := range x {
		mean += (v - x[0]) / size / n
	}
	var ss, sa float64
	for i, v := range x {
		d := (v-x[0])/size - mean
		ss += d * d
		sa += a[i] * d
	}
	var rest float64 // Σ (d - b·a)² with Σa² = 1
	for i, v := range x {
		e := (v-x[0])/size - mean - sa*a[i]
		rest += e * e
	}
	lack := rest / ss
	return 1 - lack, shapiroP(lack, n)
}

// shapiroWeights returns the weights, of unit length and odd about the middle.
func shapiroWeights(n int) []float64 {
	if n == 3 {
		return []float64{-math.Sqrt(.5), 0, math.Sqrt(.5)}
	}
	a := make([]float64, n)
	f := float64(n)
	var squares float64
	for i := range a {
		a[i] = distuv.UnitNormal.Quantile((float64(i+1) - .375) / (f + .25))
		squares += a[i] * a[i]
	}
	u, length := 1/math.Sqrt(f), math.Sqrt(squares)
	m1, m2 := a[n-1], a[n-2]
	last := polynomial(u, 0, .221157, -.147981, -2.07119, 4.434685, -2.706056) + m1/length
	if n <= 5 {
		scale := math.Sqrt((squares - 2*m1*m1) / (1 - 2*last*last))
		for i := range a {
			a[i] /= scale
		}
	} else {
		next := polynomial(u, 0, .042981, -.293762, -1.752461, 5.682633, -3.582633) + m2/length
		scale := math.Sqrt((squares - 2*m1*m1 - 2*m2*m2) / (1 - 2*last*last - 2*next*next))
		for i := range a {
			a[i] /= scale
		}
		a[1], a[n-2] = -next, next
	}
	a[0], a[n-1] = -last, last
	return a
}

// shapiroP returns the p-value for 1-W, by a normalising transformation whose
// mean and deviation are polynomials in n or ln n.
func shapiroP(lack, n float64) float64 {
	if n == 3 {
		return max(0, 6/math.Pi*(math.Asin(math.Sqrt(1-lack))-math.Asin(math.Sqrt(.75))))
	}
	y := math.Log(lack)
	var mean, deviation float64
	if n <= 11 {
		top := polynomial(n, -2.273, .459)
		if y >= top {
			return 0
		}
		y = -math.Log(top - y)
		mean = polynomial(n, .544, -.39978, .025054, -6.714e-4)
		deviation = math.Exp(polynomial(n, 1.3822, -.77857, .062767, -.0020322))
	} else {
		l := math.Log(n)
		mean = polynomial(l, -1.5861, -.31082, -.083751, .0038915)
		deviation = math.Exp(polynomial(l, -.4803, -.082676, .0030302))
	}
	return distuv.UnitNormal.Survival((y - mean) / deviation)
}

// polynomial returns c[0] + c[1]·x + c[2]·x² and so on.
func polynomial(x float64, c ...float64) float64 {
	var sum float64
	for _, v := range slices.Backward(c) {
		sum = sum*x + v
	}
	return sum
}
