package practice

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/mathext"

	"github.com/landfall-golf/landfall/dispersion"
)

// A RankVonNeumann tells whether neighbouring balls are more alike than balls
// dealt in a random order would be.
type RankVonNeumann struct {
	N     int
	Ratio float64 // near 2 in a random order, less where neighbours are alike
	P     float64 // two-sided
	Alike float64 // one-sided p of a ratio so low or lower
	Exact bool    // p from all orders of these balls, else from the beta law
}

// mostOrders is how many balls may be put into all their orders: 10! = 3,628,800.
const mostOrders = 10

// RankVonNeumannRatio returns the rank version of von Neumann's ratio of a
// measure in the order hit. With ranks r, ties sharing the mean of theirs,
//
//	ratio = Σ (rₜ₊₁-rₜ)² / Σ (rₜ-r̄)²
//
// Up to ten balls p is the share of all orders of these ranks; beyond, ratio/4
// is taken as Beta(a, a) with the variance that the ratio has over all orders,
//
//	a = 5n(n+1)(n-1)² / [2(n-2)(5n²-2n-9)] - ½
//
// which ties make a little too sure. Alike is the lower tail; P is twice the
// smaller tail, at most 1.
//
// One wild ball can't make it, as it can the lag-1 correlation. It answers
// whether the order is random: a drift and a change point make it low as well.
//
// Errors: *[dispersion.TooFewError] below six balls, of which p can fall below
// 0.01; *[ValueError]; [dispersion.ErrDegenerate] where all values are equal.
// Deterministic; ten tied balls take some hundredths of a second.
//
// Reference: R. Bartels, "The Rank Version of von Neumann's Ratio Test for
// Randomness", Journal of the American Statistical Association 77(377), 1982,
// pp. 40-46.
func RankVonNeumannRatio(values []float64) (RankVonNeumann, error) {
	if err := checkSeries(values, 6, "a rank von Neumann ratio"); err != nil {
		return RankVonNeumann{}, err
	}
	ranks := doubledRanks(values)
	n := len(ranks)
	steps, squares := 0.0, 0.0
	for t, r := range ranks {
		d := float64(r - n - 1) // twice the rank less twice the mean rank
		squares += d * d
		if t > 0 {
			d := float64(r - ranks[t-1])
			steps += d * d
		}
	}
	if squares == 0 {
		return RankVonNeumann{}, fmt.Errorf("practice: rank von Neumann ratio: %w", dispersion.ErrDegenerate)
	}
	v := RankVonNeumann{N: n, Ratio: steps / squares, Exact: n <= mostOrders}
	var upper float64
	if v.Exact {
		orders := ordersOf(ranks)
		v.Alike, upper = orders.tails(int(steps))
	} else {
		a := betaShape(float64(n))
		v.Alike, upper = mathext.RegIncBeta(a, a, v.Ratio/4), mathext.RegIncBeta(a, a, 1-v.Ratio/4)
	}
	v.P = min(1, 2*min(v.Alike, upper))
	return v, nil
}

func betaShape(n float64) float64 {
	return 5*n*(n+1)*(n-1)*(n-1)/(2*(n-2)*(5*n*n-2*n-9)) - 0.5
}

// RankVonNeumannCritical returns the largest ratio that n balls without ties
// reach or fall below with a chance of at most share when their order is random:
// exact up to ten balls, by the beta law beyond.
//
// Errors: *[dispersion.TooFewError] below six balls; [ErrShare] for a share
// outside (0, 0.5] or below the chance of the lowest ratio.
func RankVonNeumannCritical(n int, share float64) (float64, error) {
	if n < 6 {
		return 0, fmt.Errorf("practice: %w", &dispersion.TooFewError{Have: n, Need: 6, For: "a rank von Neumann ratio"})
	}
	if !(share > 0 && share <= 0.5) {
		return 0, fmt.Errorf("practice: share %g: %w", share, ErrShare)
	}
	if n > mostOrders {
		a := betaShape(float64(n))
		return 4 * mathext.InvRegIncBeta(a, a, share), nil
	}
	orders := untied[n]()
	squares := float64(n*(n*n-1)) / 12
	var below float64
	critical := math.NaN()
	for steps, count := range orders.counts {
		if below += count; below > share*orders.total {
			break
		}
		if count > 0 {
			critical = float64(steps) * float64(orders.unit) / 4 / squares
		}
	}
	if math.IsNaN(critical) {
		return 0, fmt.Errorf("practice: share %g of %d balls: %w", share, n, ErrShare)
	}
	return critical, nil
}

// orders counts, of all orders of some doubled ranks, those whose squared steps
// sum to each multiple of unit.
type orders struct {
	unit   int
	counts []float64
	total  float64
}

// untied holds the orders of n ranks without ties, counted when first needed.
var untied = func() (all [mostOrders + 1]func() orders) {
	for n := range all {
		all[n] = sync.OnceValue(func() orders {
			ranks := make([]int, n)
			for i := range ranks {
				ranks[i] = 2 * (i + 1)
			}
			return countOrders(ranks)
		})
	}
	return all
}()

func ordersOf(ranks []int) orders {
	sorted := slices.Sorted(slices.Values(ranks))
	for i, r := range sorted {
		if r != 2*(i+1) {
			return countOrders(ranks)
		}
	}
	return untied[len(ranks)]()
}

// countOrders walks through every order whose first ball comes before its last in
// the input; the others are these backwards.
func countOrders(ranks []int) orders {
	n, unit, largest := len(ranks), 0, 0
	for i, r := range ranks {
		for _, s := range ranks[:i] {
			unit = gcd(unit, (r-s)*(r-s))
			largest = max(largest, (r-s)*(r-s))
		}
	}
	if unit == 0 { // all tied: every sum is 0
		unit = 1
	}
	o := orders{unit: unit, counts: make([]float64, (n-1)*largest/unit+1)}
	var walk func(first, last, used, left, sum int)
	walk = func(first, last, used, left, sum int) {
		if left == 0 {
			if first < last {
				o.counts[sum] += 2
				o.total += 2
			}
			return
		}
		for next := range ranks {
			if used&(1<<next) == 0 {
				d := ranks[next] - ranks[last]
				walk(first, next, used|1<<next, left-1, sum+d*d/unit)
			}
		}
	}
	for first := range ranks {
		walk(first, first, 1<<first, n-1, 0)
	}
	return o
}

// tails returns the shares of the orders with so large a sum of squared steps or
// a smaller one, and with so large a one or a larger one.
func (o orders) tails(steps int) (lower, upper float64) {
	at := steps / o.unit
	for i, count := range o.counts {
		if i <= at {
			lower += count
		}
		if i >= at {
			upper += count
		}
	}
	return lower / o.total, upper / o.total
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// doubledRanks returns twice the rank of each value among all, so that the mean
// of tied ranks is whole.
func doubledRanks(values []float64) []int {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case values[a] < values[b]:
			return -1
		case values[a] > values[b]:
			return 1
		}
		return 0
	})
	ranks := make([]int, len(values))
	for from := 0; from < len(order); {
		to := from + 1
		for to < len(order) && values[order[to]] == values[order[from]] {
			to++
		}
		for _, i := range order[from:to] {
			ranks[i] = from + 1 + to
		}
		from = to
	}
	return ranks
}
