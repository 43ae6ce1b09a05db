package dispersion

import (
	"fmt"
	"math"
	"sync"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mathext"
)

// toleranceLeast is the fewest shots for a tolerance region: below, it would be
// several times as wide as the group.
const toleranceLeast = 8

// ToleranceEllipse returns the region that holds at least the share content of
// all shots to come, with the given confidence. It is the set of points p with
//
//	(p-x̄)ᵀ S⁻¹ (p-x̄) <= k(n, content, confidence)
//
// It differs from [Group.PredictionEllipse] as "at least 90 % of shots, 95 %
// sure" differs from "the next shot, 90 %": the latter holds 90 % only on
// average over lessons.
//
// The factor k is computed, to 1e-4 of itself (1e-3 for 99 % with 99 % from 8
// shots). In the eigenvector axes of
// S, whose directions do not matter for a round Σ, let w be the size of the
// ellipse √|S|·k that holds exactly the share content, given the ratio e^2η of
// the eigenvalues' roots and the error u of the mean. Then, with ν = n-1,
//
//	cosh η = U^(-1/(ν-1)), U uniform;  ν·√|S| given η ~ Gamma(ν, rate cosh η);  u ~ N(0, I/n)
//
// are all independent but for that rate, so that
//
//	confidence = E P(Gamma(ν, cosh η) >= ν·w(η, u)/k)
//
// is an integral over three numbers, done by Gauss rules, and k its root.
//
// It assumes independent shots from one bivariate normal distribution; a wild
// shot blows it up. Level is the content, Confidence the confidence.
//
// Errors: [ErrLevel] for either; *[TooFewError] below 8 shots; [ErrDegenerate].
// The factor takes some milliseconds once for each triple of n, content and
// confidence, and is remembered; it is safe for concurrent use.
//
// References: S. John, "A Tolerance Region for Multivariate Normal
// Distributions", Sankhyā A 25(4), 1963, pp. 363-368; K. Krishnamoorthy, T.
// Mathew, Statistical Tolerance Regions, Wiley 2009, chapter 9.
func (g *Group) ToleranceEllipse(content, confidence float64) (Ellipse, error) {
	for _, level := range [2]float64{content, confidence} {
		if err := checkLevel(level); err != nil {
			return Ellipse{}, err
		}
	}
	c, err := g.solidCov(toleranceLeast, "the "+ToleranceRegion.String())
	if err != nil {
		return Ellipse{}, err
	}
	k := toleranceFactor(g.N(), content, confidence)
	if math.IsInf(k, 0) || math.IsNaN(k) {
		return Ellipse{}, fmt.Errorf("dispersion: the factor of the %s: %w", ToleranceRegion, ErrOverflow)
	}
	e, err := ellipseOf(g.Mean(), c, ToleranceRegion, content, g.N(), k)
	e.Confidence = confidence
	return e, err
}

type toleranceKey struct {
	n                   int
	content, confidence float64
}

// toleranceFactors remembers the latest factors. It is emptied when full, so
// that an archive with ever new sizes cannot fill the memory.
var toleranceFactors = struct {
	sync.Mutex
	known map[toleranceKey]float64
}{known: map[toleranceKey]float64{}}

func toleranceFactor(n int, content, confidence float64) float64 {
	key := toleranceKey{n, content, confidence}
	toleranceFactors.Lock()
	k, ok := toleranceFactors.known[key]
	toleranceFactors.Unlock()
	if ok {
		return k
	}
	k = computeToleranceFactor(n, content, confidence)
	toleranceFactors.Lock()
	defer toleranceFactors.Unlock()
	if len(toleranceFactors.known) >= 4096 {
		clear(toleranceFactors.known)
	}
	toleranceFactors.known[key] = k
	return k
}

// A wishartNode is one node of the integral over the shape of S and the error
// of the mean: the size that holds the content there.
type wishartNode struct{ weight, coshEta, size float64 }

var (
	shapeRule = newRule(12)
	errorRule = halfNormalRule(8)
)

// halfNormalRule holds the positive nodes of a Gauss-Hermite rule of n nodes,
// with weights for the half normal law.
func halfNormalRule(n int) rule {
	var r rule
	x, w := make([]float64, n), make([]float64, n)
	quad.Hermite{}.FixedLocations(x, w, math.Inf(-1), math.Inf(1))
	for i := range x {
		if x[i] > 0 {
			r.x = append(r.x, x[i]*math.Sqrt2)
			r.w = append(r.w, 2*w[i]/math.Sqrt(math.Pi))
		}
	}
	return r
}

func computeToleranceFactor(n int, content, confidence float64) float64 {
	nodes := wishartNodes(n, content)
	nu := float64(n - 1)
	short := func(logK float64) float64 {
		k := math.Exp(logK)
		p := -confidence
		for _, node := range nodes {
			p += node.weight * mathext.GammaIncRegComp(nu, node.coshEta*nu*node.size/k)
		}
		return p
	}
	// The factor of a known distribution is a sure start; double from there.
	low := math.Log(-2*math.Log1p(-content)) - 3
	high := low + 4
	atLow, atHigh := short(low), short(high)
	for atHigh < 0 && high < 700 {
		low, atLow = high, atHigh
		high++
		atHigh = short(high)
	}
	for atLow > 0 && low > -700 {
		low--
		atLow = short(low)
	}
	return math.Exp(root(short, low, high, atLow, atHigh, 1e-9*(1-confidence)))
}

// wishartNodes puts Gauss-Legendre nodes on U for the shape and Gauss-Hermite
// nodes on the two errors, of which only the size matters.
func wishartNodes(n int, content float64) []wishartNode {
	nu, se := float64(n-1), 1/math.Sqrt(float64(n))
	var nodes []wishartNode
	size := -2 * math.Log1p(-content)
	for i, x := range shapeRule.x {
		// U = t⁴, so that the ends of the range, where U^(-1/(ν-1)) is
		// steep, get more nodes.
		t := (x + 1) / 2
		shape := shapeRule.w[i] / 2 * 4 * t * t * t
		coshEta := math.Pow(t, -4/(nu-1))
		eta := math.Acosh(max(1, coshEta))
		for j, y := range errorRule.x {
			for l, z := range errorRule.x {
				weight := shape * errorRule.w[j] * errorRule.w[l]
				if weight < 1e-10 {
					continue
				}
				size = sizeHolding(content, eta, y*se, z*se, size)
				nodes = append(nodes, wishartNode{weight, coshEta, size})
			}
		}
	}
	return nodes
}

// sizeHolding returns the product of the semi-axes, w, for which the ellipse
// with semi-axes √w·e^(±η/2) around (u1, u2) holds the content of N(0, I); the
// search begins at the size given.
func sizeHolding(content, eta, u1, u2, from float64) float64 {
	a, b := math.Exp(eta/2), math.Exp(-eta/2)
	short := func(logSize float64) float64 {
		s := math.Exp(logSize / 2)
		return disc{s1: 1 / (s * b), s2: 1 / (s * a), m1: u2 / (s * b), m2: u1 / (s * a)}.smoothShare() - content
	}
	low := math.Log(from) - .1
	high := low + .2
	atLow, atHigh := short(low), short(high)
	for step := .2; atLow > 0; step *= 2 {
		high, atHigh = low, atLow
		low -= step
		atLow = short(low)
	}
	for step := .2; atHigh < 0; step *= 2 {
		low, atLow = high, atHigh
		high += step
		atHigh = short(high)
	}
	return math.Exp(root(short, low, high, atLow, atHigh, 1e-9*(1-content)))
}

// smoothShare is share(1) for a distribution about as wide as the circle, where
// one rule does.
func (d disc) smoothShare() float64 {
	var p float64
	for j, x := range rule20.x {
		t := x * math.Pi / 2
		sin, cos := math.Sincos(t)
		z := (sin - d.m1) / d.s1
		p += rule20.w[j] * cos * math.Exp(-z*z/2) * normalBetween((-cos-d.m2)/d.s2, (cos-d.m2)/d.s2)
	}
	return p * math.Pi / 2 / d.s1 / math.Sqrt(2*math.Pi)
}
