package strokes

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/integrate/quad"
)

// Putts is what a player may expect on the green from one distance.
type Putts struct {
	Distance float64 // metres
	One      float64 // share holed with the first putt
	Two      float64 // share holed with the second
	Three    float64 // share that takes three putts or more
	Expected float64 // putts until the ball is in the hole
}

// A HolingOut knows how a player of an [AngleDistanceModel] holes out: one
// putt, two, or more, from every distance on a green.
type HolingOut struct {
	model    AngleDistanceModel
	distance []float64 // growing, the first 0
	one, two []float64
	expected []float64
}

// greenReach is the longest putt, in metres: 197 feet.
const greenReach = 60

// NewHolingOut works out the expected putts from every distance up to 60 m by
// dynamic programming over the leave, the distance that a missed putt has left:
//
//	E(x) = 1 + ∫ E(leave) over the putts that miss
//
// A putt of length x runs (x+o)(1+τz) in the direction σw, with z and w
// independent and standard normal and o, σ, τ as in [AngleDistanceModel]; one
// that misses stops there, as if the hole weren't. It assumes that every putt
// is struck by the same model, on a flat green.
//
// Errors: [ErrModel]. It takes some ten milliseconds.
//
// Reference for the method: D. P. Bertsekas, J. N. Tsitsiklis, "An Analysis of
// Stochastic Shortest Path Problems", Mathematics of Operations Research 16(3),
// 1991, pp. 580-595.
func NewHolingOut(m AngleDistanceModel) (*HolingOut, error) {
	if err := m.check(); err != nil {
		return nil, err
	}
	h := &HolingOut{model: m, distance: puttGrid()}
	n := len(h.distance)
	h.one, h.two, h.expected = make([]float64, n), make([]float64, n), make([]float64, n)
	leave := make([][]float64, n) // [i][j]: probability that a miss from i leaves j
	for i, x := range h.distance {
		leave[i] = make([]float64, n)
		h.one[i] = 1
		if x > clearance {
			h.one[i], _ = m.shares(x)
			h.spreadLeaves(x, leave[i])
		}
		h.expected[i] = 1
	}
	for i := range h.distance {
		for j, p := range leave[i] {
			h.two[i] += p * h.one[j]
		}
	}
	// Most leaves are shorter than the putt, so going outward in place leaves
	// little to repeat.
	for change := 1.0; change > 1e-10; {
		change = 0
		for i := range h.distance {
			e, stay := 1.0, leave[i][i]
			for j, p := range leave[i] {
				if j != i {
					e += p * h.expected[j]
				}
			}
			e /= 1 - stay
			change = max(change, math.Abs(e-h.expected[i]))
			h.expected[i] = e
		}
	}
	makeMonotone(h.expected, nil) // against the last digits of the quadrature
	return h, nil
}

// puttGrid is fine where the chance of holing changes fast.
func puttGrid() []float64 {
	grid := []float64{0}
	for _, part := range []struct{ to, step float64 }{{3, 0.025}, {10, 0.1}, {greenReach, 0.5}} {
		from := grid[len(grid)-1]
		for k := 1; k <= int(math.Round((part.to-from)/part.step)); k++ {
			grid = append(grid, from+float64(k)*part.step)
		}
	}
	return grid
}

// spreadLeaves adds to leave, over the grid, the probability that a putt from x
// misses and stops there.
func (h *HolingOut) spreadLeaves(x float64, leave []float64) {
	const far = 6 // standard deviations: 2 in 10⁹ are further out
	run := x + overshot
	spread := run * h.model.Distance
	short, long := -overshot/spread, (tolerance-overshot)/spread
	edge := missAngle(x) / h.model.Angle
	stop := func(w, z, weight float64) {
		length := max(0, run+spread*z)
		sin, cos := math.Sincos(h.model.Angle * w)
		h.put(leave, math.Hypot(length*cos-x, length*sin), weight)
	}
	aimed, wide := between(edge)
	// Both sides of the line are alike, so w > 0 stands for both.
	inside := normalNodes(0, min(edge, far), 12, aimed)
	outside := normalNodes(edge, max(edge, far), 12, wide)
	shortRun := normalNodes(min(short, -far), short, 12, normalTail(-short))
	longRun := normalNodes(long, max(long, far), 12, normalTail(long))
	anyRun := append(normalNodes(-far, 0, 10, 0.5), normalNodes(0, far, 10, 0.5)...)
	for _, w := range inside {
		for _, runs := range [][]node{shortRun, longRun} {
			for _, z := range runs {
				stop(w.at, z.at, w.weight*z.weight)
			}
		}
	}
	for _, w := range outside {
		for _, z := range anyRun {
			stop(w.at, z.at, w.weight*z.weight)
		}
	}
}

// put shares a weight at distance x between the two grid points around it.
func (h *HolingOut) put(leave []float64, x, weight float64) {
	i, share := locate(h.distance, x)
	leave[i] += weight * (1 - share)
	leave[i+1] += weight * share
}

// locate returns i and share so that x = (1-share)·grid[i] + share·grid[i+1],
// with x taken to the nearest end where it is outside the grid.
func locate(grid []float64, x float64) (i int, share float64) {
	i = sort.SearchFloat64s(grid, x) - 1
	i = min(max(i, 0), len(grid)-2)
	return i, min(max((x-grid[i])/(grid[i+1]-grid[i]), 0), 1)
}

func interpolate(grid, values []float64, x float64) float64 {
	i, share := locate(grid, x)
	return (1-share)*values[i] + share*values[i+1]
}

// A node is a place to look and how much it counts.
type node struct{ at, weight float64 }

// normalNodes returns n nodes for a mean over the part of a standard normal law
// from low to high, whose probability is mass; none where it is empty.
func normalNodes(low, high float64, n int, mass float64) []node {
	if !(high > low) || mass <= 0 {
		return nil
	}
	at, weight := make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(at, weight, low, high)
	nodes, sum := make([]node, n), 0.0
	for i := range nodes {
		// Relative to the densest point, so that a far tail keeps its digits.
		densest := min(max(0, low), high)
		nodes[i] = node{at[i], weight[i] * math.Exp((densest*densest-at[i]*at[i])/2)}
		sum += nodes[i].weight
	}
	for i := range nodes {
		nodes[i].weight *= mass / sum
	}
	return nodes
}

// Putts returns what to expect from a distance in metres.
//
// Errors: *[RangeError] outside 0 to 60 m.
func (h *HolingOut) Putts(distance float64) (Putts, error) {
	if !(distance >= 0 && distance <= greenReach) {
		return Putts{}, rangeError(Green, distance, 0, greenReach)
	}
	if distance == 0 {
		return Putts{}, fmt.Errorf("strokes: putts from 0 m: the ball is in the hole: %w", ErrPutts)
	}
	p := Putts{Distance: distance, One: 1}
	if distance > clearance {
		p.One, _ = h.model.shares(distance)
	}
	p.Two = min(interpolate(h.distance, h.two, distance), 1-p.One)
	p.Three = max(0, 1-p.One-p.Two)
	p.Expected = interpolate(h.distance, h.expected, distance)
	return p, nil
}
