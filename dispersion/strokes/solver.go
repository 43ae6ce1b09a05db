package strokes

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// A solver works out the expected strokes of one player, distance by distance
// going outward.
type solver struct {
	player   Player
	hole     GenericHole
	grid     []float64
	putts    []float64             // expected on the green, every puttStep from the hole on
	expected [numLies][]float64    // Green too, as far as the grid goes
	after    [numGrounds][]float64 // mean over the lies of each ground
	cell     []int32               // of the grid, for every half metre
	nodes    []node                // one half of a law of spread 1, outward
	best     [numLies][]int        // the length chosen, of lengthShares, or asFairway
}

// puttStep is the grid on the green, in metres. A chip leaves less than the first
// metre of the grid elsewhere, where every centimetre counts.
const puttStep = 0.05

// asFairway is the choice to play from the tee what is best from the fairway.
const asFairway = -1

// lengthShares are the shares of the longest useful shot that a player may choose to hit.
var lengthShares = []float64{1, 0.9, 0.75, 0.5}

func newSolver(p Player, h GenericHole, putting *HolingOut) *solver {
	s := &solver{player: p, hole: h, nodes: halfLaw(p.TailDF)}
	for x := 0.0; x < h.Green+2*puttStep; x += puttStep {
		s.putts = append(s.putts, interpolate(putting.distance, putting.expected, x))
	}
	for x := 1.0; x < computedReach; {
		s.grid = append(s.grid, x)
		switch {
		case x < 20:
			x++
		case x < 100:
			x += 2
		default:
			x += 4
		}
	}
	s.grid = append(s.grid, computedReach)
	n := len(s.grid)
	for lie := range s.expected {
		s.expected[lie], s.best[lie] = make([]float64, n), make([]int, n)
		for i, x := range s.grid {
			s.expected[lie][i] = 2.2 + x/100 // to begin with
		}
	}
	for i, x := range s.grid {
		s.expected[Green][i] = interpolate(putting.distance, putting.expected, x)
	}
	s.after = [numGrounds][]float64{
		onGreen: s.expected[Green], onFairway: s.expected[Fairway], inTrees: s.expected[Recovery],
		bySurround: make([]float64, n), bySide: make([]float64, n),
	}
	for i := range s.grid {
		s.mix(i)
	}
	s.cell = make([]int32, 2*computedReach+1)
	for k := range s.cell {
		i, _ := locate(s.grid, float64(k)/2)
		s.cell[k] = int32(i)
	}
	return s
}

// halfLaw returns the outer half of the normal law, or of a t law with its
// quartile, cut into thin slices with their probability and their median.
func halfLaw(df float64) []node {
	var law interface {
		CDF(float64) float64
		Quantile(float64) float64
	} = distuv.UnitNormal
	if df > 0 {
		quartile := distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(0.75)
		law = distuv.StudentsT{Sigma: distuv.UnitNormal.Quantile(0.75) / quartile, Nu: df}
	}
	const slice, last = 0.25, 14
	edges := make([]float64, last+1)
	for i := range edges {
		edges[i] = float64(i) * slice
	}
	edges = append(edges, 5, 8, math.Inf(1))
	var nodes []node
	for i := 1; i < len(edges); i++ {
		low, high := law.CDF(edges[i-1]), 1.0
		if !math.IsInf(edges[i], 1) {
			high = law.CDF(edges[i])
		}
		if high-low > 1e-7 {
			nodes = append(nodes, node{law.Quantile((low + high) / 2), high - low})
		}
	}
	sum := 0.0
	for _, n := range nodes {
		sum += n.weight
	}
	for i := range nodes {
		nodes[i].weight /= sum
	}
	return nodes
}

// mix brings the means over mixed ground up to date at one distance.
func (s *solver) mix(i int) {
	rough, sand, short := s.expected[Rough][i], s.expected[Sand][i], s.expected[Fairway][i]
	s.after[bySurround][i] = s.hole.GreenSand*sand + s.hole.GreenShort*short + max(0, 1-s.hole.GreenSand-s.hole.GreenShort)*rough
	s.after[bySide][i] = s.hole.FairwaySand*sand + (1-s.hole.FairwaySand)*rough
}

// solve sweeps outward until nothing changes. The lengths are chosen anew in
// the first sweeps only, after which each sweep costs little; a last choice
// that changes nothing shows that they were right.
func (s *solver) solve() error {
	const maxSweeps, tiny = 200, 1e-6
	choose := true
	for range maxSweeps {
		change := s.sweep(choose)
		if change < tiny {
			if choose {
				return nil
			}
			choose = true
			continue
		}
		choose = change > 0.05
	}
	return fmt.Errorf("strokes: player %v: the expected strokes grow without end, the hole is out of reach: %w", s.player, ErrPlayer)
}

func (s *solver) sweep(choose bool) (change float64) {
	for i := range s.grid {
		for _, lie := range []Lie{Fairway, Rough, Sand, Recovery, Tee} {
			e := s.play(lie, i, choose)
			change = max(change, math.Abs(e-s.expected[lie][i]))
			s.expected[lie][i] = e
		}
		s.mix(i)
	}
	return change
}

// play returns the expected strokes from one distance and lie.
func (s *solver) play(lie Lie, i int, choose bool) float64 {
	x, p := s.grid[i], s.player
	longest, wider := p.Longest, 1.0
	switch lie {
	case Tee:
		longest = p.Drive
	case Rough:
		longest, wider = p.Longest*p.Rough.Length, p.Rough.Wider
	case Sand:
		longest, wider = p.Longest*p.Sand.Length, p.Sand.Wider
	case Recovery:
		left := x - min(p.Punch, x/2)
		out := 1 + interpolate(s.grid, s.expected[Fairway], left)
		return p.Blocked*out + (1-p.Blocked)*s.expected[Rough][i]
	}
	full := min(x, longest)
	if !choose {
		if s.best[lie][i] == asFairway {
			return s.expected[Fairway][i]
		}
		return s.shot(x, full*lengthShares[s.best[lie][i]], wider)
	}
	least := math.Inf(1)
	for k, share := range lengthShares {
		if e := s.shot(x, full*share, wider); e < least-1e-12 {
			least, s.best[lie][i] = e, k
		}
	}
	if lie == Tee && s.expected[Fairway][i] < least {
		least, s.best[lie][i] = s.expected[Fairway][i], asFairway
	}
	return least
}

// shot returns the expected strokes of a shot from x meant to go length.
func (s *solver) shot(x, length, wider float64) float64 {
	p := s.player
	e := 1 + s.mean(x, length, wider)
	if length > chip && p.Mishits > 0 {
		e = (1-p.Mishits)*e + p.Mishits*(1+s.mean(x, length*p.MishitLength, wider))
	}
	return e
}

// mean returns the expected strokes after a shot from x meant to go length, over
// the slices of its length and direction. Left and right are alike.
func (s *solver) mean(x, length, wider float64) float64 {
	spread := s.player.spread(length)
	angle, run := spread.Angle*wider, spread.Share*wider*length
	total := 0.0
	for _, w := range s.nodes {
		sin, cos := math.Sincos(min(angle*w.at, math.Pi/2))
		sum := 0.0
		for _, z := range s.nodes {
			for _, sign := range [2]float64{-1, 1} {
				l := max(0, length+sign*run*z.at)
				side := l * sin
				ahead := x - l*cos
				left := math.Sqrt(ahead*ahead + side*side)
				if ground := s.hole.ground(left, side); ground == onGreen {
					sum += z.weight * s.putt(left)
				} else {
					sum += z.weight * s.at(s.after[ground], left)
				}
			}
		}
		total += w.weight * sum / 2
	}
	return total
}

// putt returns what is expected on the green.
func (s *solver) putt(left float64) float64 {
	k := left / puttStep
	i := int(k)
	return s.putts[i] + (k-float64(i))*(s.putts[i+1]-s.putts[i])
}

// at interpolates in values over the grid; beyond its ends they stay as there.
func (s *solver) at(values []float64, x float64) float64 {
	k := int(2 * x)
	if k >= len(s.cell)-1 {
		return values[len(values)-1]
	}
	i := int(s.cell[k])
	if i+2 < len(s.grid) && x > s.grid[i+1] {
		i++
	}
	share := (x - s.grid[i]) / (s.grid[i+1] - s.grid[i])
	return values[i] + max(share, 0)*(values[i+1]-values[i])
}
