package dispersion

import (
	"encoding/json"
	"fmt"
	"math"
)

// A LargestDistance is the distance between the two shots farthest apart.
type LargestDistance struct {
	Distance float64 // in the unit of the points
	From, To Point   // the two shots
	N        int     // shots used
}

// MarshalJSON writes points as side and carry.
func (d LargestDistance) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Distance float64   `json:"distance"`
		From     jsonPoint `json:"from"`
		To       jsonPoint `json:"to"`
		N        int       `json:"n"`
	}{d.Distance, jsonPoint{d.From.X, d.From.Y}, jsonPoint{d.To.X, d.To.Y}, d.N})
}

// LargestDistance returns the distance between the two shots farthest apart,
//
//	max over i < j of |xᵢ - xⱼ|
//
// and the two shots, one such pair where several are equally far. It must not be used to
// infer anything: it grows with the number of shots, rests on two of them, and
// varies by 27 % from group to group of five where the circular sigma varies
// by 18 %. [ExpectedLargestDistance] tells what to expect.
//
// It turns with the group. Identical shots and shots on one line are no
// trouble; its breakdown point is 0. It takes O(n²) time for n shots on the
// hull.
//
// Errors: *[TooFewError] below 2 shots.
func (g *Group) LargestDistance() (LargestDistance, error) {
	if g.N() < 2 {
		return LargestDistance{}, tooFew(g.N(), 2, "a largest distance")
	}
	corners := hullOf(g.points)
	best := LargestDistance{From: corners[0], To: corners[0], N: g.N()}
	for i, a := range corners {
		for _, b := range corners[:i] {
			if d := math.Hypot(a.X-b.X, a.Y-b.Y); d > best.Distance {
				best.Distance, best.From, best.To = d, b, a
			}
		}
	}
	return best, nil
}

// ExpectedLargestDistance returns the mean of the largest distance between any
// two of n shots from a round normal distribution with standard deviation 1:
// √π for two shots, and for more by simulation, with a standard error of at
// most 0.0015, from a table of 2 to 20, 25, 30, 40 and 50 shots, between which
// it interpolates in log n.
//
// Errors: *[TooFewError] below 2 shots; an error above 50, where there is no
// table.
//
// Source of the table: docs/methods/largest.md, made by a seeded program. It
// agrees with the mean ranges of F. E. Grubbs, Statistical Measures of Accuracy
// for Riflemen and Missile Engineers, 1964, to 0.007.
func ExpectedLargestDistance(n int) (float64, error) {
	if n < 2 {
		return 0, tooFew(n, 2, "an expected largest distance")
	}
	last := largestMeans[len(largestMeans)-1]
	if n > last.n {
		return 0, fmt.Errorf("dispersion: the expected largest distance of %d shots is not known beyond %d", n, last.n)
	}
	for i, high := range largestMeans {
		if n == high.n {
			return high.mean, nil
		}
		if n < high.n {
			low := largestMeans[i-1]
			share := math.Log(float64(n)/float64(low.n)) / math.Log(float64(high.n)/float64(low.n))
			return low.mean + share*(high.mean-low.mean), nil
		}
	}
	return last.mean, nil
}
