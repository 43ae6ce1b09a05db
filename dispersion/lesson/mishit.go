package lesson

import (
	"math"

	"github.com/landfall-golf/landfall/dispersion"
)

// How far short a mishit is: more than mishitSigmas robust σ, and more than
// mishitShare of the median: our own choice, no source. 1.4826 makes a median absolute deviation the σ of
// normal shots.
const (
	mishitSigmas = 3.5
	mishitShare  = 0.08
	madScale     = 1.4826
)

// markMishits sets Mishit in every group.
func markMishits(groups []Group) {
	type like struct {
		club  string
		drill bool
	}
	medians := make([]float64, len(groups))
	away := map[like][]float64{}
	for i, g := range groups {
		carries := make([]float64, len(g.Shots))
		for j, s := range g.Shots {
			carries[j] = s.Carry
		}
		medians[i] = median(carries)
		k := like{g.Club, g.Stage.Intent == Drill}
		for _, c := range carries {
			away[k] = append(away[k], math.Abs(c-medians[i]))
		}
	}
	sigma := map[like]float64{}
	for k, a := range away {
		sigma[k] = madScale * median(a)
	}
	for i := range groups {
		g := &groups[i]
		s := sigma[like{g.Club, g.Stage.Intent == Drill}]
		limit := max(mishitSigmas*s, mishitShare*medians[i])
		g.Mishit = make([]bool, len(g.Shots))
		for j, shot := range g.Shots {
			g.Mishit[j] = medians[i]-shot.Carry > limit
		}
	}
}

// median is NaN for a carry that Read would have refused, and then no shot of
// the group is a mishit.
func median(values []float64) float64 {
	m, err := dispersion.Median(values)
	if err != nil {
		return math.NaN()
	}
	return m
}
