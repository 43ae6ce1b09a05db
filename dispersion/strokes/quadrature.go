package strokes

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// A weighted is a landing point about the point meant, and its share of the
// shots.
type weighted struct {
	at    dispersion.Point
	share float64
}

// How much of a law is left out far away: the rest is scaled up to a whole. A t
// with 3 degrees of freedom puts 1 shot in 1,000 beyond 17 times its scale.
const (
	normalRest = 1e-7
	tRest      = 1e-3
)

// points returns landing points and shares that stand for the pattern in a mean
// over a surface with details of the size step: the shots themselves, or the
// density on a lattice along the axes of the law, fine against both its spread
// and the step.
func (p Pattern) points(step float64) []weighted {
	if p.law == AsHit {
		all := make([]weighted, len(p.shots))
		for i, s := range p.shots {
			all[i] = weighted{s, 1 / float64(len(p.shots))}
		}
		return all
	}
	major, minor, angle := p.scale.Axes()
	sin, cos := math.Sincos(angle)
	reach := p.reach()
	fine := func(sd float64) (d float64, n int) {
		d = min(0.5*step/sd, 0.25)
		n = int(math.Ceil(reach / d))
		if n > mostNodes {
			n, d = mostNodes, reach/mostNodes
		}
		return d, n
	}
	du, nu := fine(major)
	dv, nv := fine(minor)
	var all []weighted
	sum := 0.0
	for i := -nu; i < nu; i++ {
		u := (float64(i) + 0.5) * du
		for j := -nv; j < nv; j++ {
			w := (float64(j) + 0.5) * dv
			if u*u+w*w > reach*reach {
				continue
			}
			x, y := u*major, w*minor
			share := p.density(u*u + w*w)
			sum += share
			all = append(all, weighted{dispersion.Point{X: p.centre.X + x*cos - y*sin, Y: p.centre.Y + x*sin + y*cos}, share})
		}
	}
	for i := range all {
		all[i].share /= sum
	}
	return all
}

// mostNodes is how many points the lattice has at most on either side of the
// middle, along each axis.
const mostNodes = 400

// density returns the density at a squared distance, up to a factor.
func (p Pattern) density(d2 float64) float64 {
	if math.IsInf(p.df, 1) {
		return math.Exp(-d2 / 2)
	}
	return math.Pow(1+d2/p.df, -(p.df+2)/2)
}

// reach returns the distance beyond which the law is left out: the share beyond
// d is exp(-d²/2) of a normal law and (1+d²/ν)^(-ν/2) of a t.
func (p Pattern) reach() float64 {
	if math.IsInf(p.df, 1) {
		return math.Sqrt(-2 * math.Log(normalRest))
	}
	return min(math.Sqrt(p.df*math.Expm1(-2/p.df*math.Log(tRest))), math.Sqrt(-2*math.Log(normalRest))*4)
}

// A kernel is a pattern on the points of a grid about the point meant: weight
// [j·across+i] belongs to the point left+i, short+j steps away.
type kernel struct {
	left, short, across, up int
	weights                 []float64
}

// kernelOf shares every point out to the four grid points around it, so that a
// mean over the kernel is the mean of the bilinear surface over the points.
//
// Errors: [ErrGrid] where that takes too many, as for a wild number among the
// shots.
func kernelOf(points []weighted, step float64) (kernel, error) {
	first := points[0].at
	low, high := first, first
	for _, p := range points {
		low = dispersion.Point{X: min(low.X, p.at.X), Y: min(low.Y, p.at.Y)}
		high = dispersion.Point{X: max(high.X, p.at.X), Y: max(high.Y, p.at.Y)}
	}
	if across, up := (high.X-low.X)/step+2, (high.Y-low.Y)/step+2; !(across*up <= mostGridPoints) {
		return kernel{}, fmt.Errorf("strokes: a pattern of %.6g by %.6g m on a grid of %.6g m: %w", high.X-low.X, high.Y-low.Y, step, ErrGrid)
	}
	k := kernel{left: int(math.Floor(low.X / step)), short: int(math.Floor(low.Y / step))}
	k.across = int(math.Floor(high.X/step)) - k.left + 2
	k.up = int(math.Floor(high.Y/step)) - k.short + 2
	k.weights = make([]float64, k.across*k.up)
	for _, p := range points {
		x, y := p.at.X/step-float64(k.left), p.at.Y/step-float64(k.short)
		i, u := split(x, k.across)
		j, w := split(y, k.up)
		at := j*k.across + i
		k.weights[at] += p.share * (1 - u) * (1 - w)
		if u > 0 {
			k.weights[at+1] += p.share * u * (1 - w)
		}
		if w > 0 {
			k.weights[at+k.across] += p.share * (1 - u) * w
		}
		if u > 0 && w > 0 {
			k.weights[at+k.across+1] += p.share * u * w
		}
	}
	return k, nil
}

// around returns the grid on which a surface must be known to take its mean over
// the kernel at every point of g.
func (k kernel) around(g Grid) Grid {
	return Grid{
		Left: g.Left + float64(k.left)*g.Step, Short: g.Short + float64(k.short)*g.Step, Step: g.Step,
		Across: g.Across + k.across - 1, Up: g.Up + k.up - 1,
	}
}
