package strokes

import (
	"math"
	"slices"
)

// A sample holds the outcomes from one lie and the smoother for them.
type sample struct {
	x, y     []float64 // root of the distance, strokes
	cluster  []int     // of each outcome
	members  []int     // outcomes in each cluster
	place    map[string]int
	farthest float64 // distance; the square of its root may fall short of it

	grid   []float64   // roots of distances, growing
	width  float64     // of the kernel
	kernel [][]float64 // [grid][outcome]
}

func newSample() *sample { return &sample{place: map[string]int{}} }

func (s *sample) add(o Outcome) {
	k, seen := s.place[o.Cluster]
	if !seen {
		k = len(s.members)
		s.place[o.Cluster] = k
		s.members = append(s.members, 0)
	}
	s.members[k]++
	s.farthest = max(s.farthest, o.Distance)
	s.x, s.y, s.cluster = append(s.x, math.Sqrt(o.Distance)), append(s.y, o.Strokes), append(s.cluster, k)
}

func (s *sample) enough() bool { return len(s.y) >= needOutcomes && len(s.members) >= needClusters }

// lay lays the grid over the range of the outcomes: one point where all are at
// one distance.
func (s *sample) lay() {
	low, high := slices.Min(s.x), slices.Max(s.x)
	const points = 40
	s.grid = []float64{low}
	if high-low < 1e-6*high {
		return
	}
	for i := 1; i < points; i++ {
		s.grid = append(s.grid, low+(high-low)*float64(i)/points)
	}
	s.grid = append(s.grid, high)
}

// widths are the kernel widths tried, as shares of the range of the roots of
// the distances.
var widths = []float64{0.1, 0.15, 0.25, 0.4, 0.6, 1}

// chooseWidth takes the width that predicts best the outcomes of clusters left
// out, a fifth at a time.
func (s *sample) chooseWidth() {
	span := s.grid[len(s.grid)-1] - s.grid[0]
	if span == 0 {
		s.setWidth(1)
		return
	}
	const folds = 5
	least, best := math.Inf(1), 0.0
	times, fitted := make([]float64, len(s.members)), make([]float64, len(s.grid))
	for _, share := range widths {
		s.setWidth(share * span)
		loss := 0.0
		for fold := range folds {
			for k := range times {
				times[k] = 1
				if k%folds == fold {
					times[k] = 0
				}
			}
			s.smooth(times, fitted)
			for i, k := range s.cluster {
				if k%folds == fold {
					away := s.y[i] - interpolate(s.grid, fitted, s.x[i])
					loss += away * away
				}
			}
		}
		if loss < least {
			least, best = loss, share*span
		}
	}
	s.setWidth(best)
}

func (s *sample) setWidth(width float64) {
	s.width = width
	s.kernel = make([][]float64, len(s.grid))
	for g, at := range s.grid {
		s.kernel[g] = make([]float64, len(s.x))
		for i, x := range s.x {
			z := (x - at) / width
			s.kernel[g][i] = math.Exp(-z * z / 2)
		}
	}
}

// smooth writes the curve over the grid, each cluster counting so many times,
// and returns the largest change that pooling made.
//
// The slope of the local line has a small penalty, by which the line lies flat
// where there is but one distance to go by.
func (s *sample) smooth(times, fitted []float64) (change float64) {
	const penalty = 1e-3
	weights := make([]float64, len(s.grid))
	for g, at := range s.grid {
		var s0, s1, s2, t0, t1 float64
		for i, k := range s.kernel[g] {
			w := k * times[s.cluster[i]]
			d := (s.x[i] - at) / s.width
			s0 += w
			s1 += w * d
			s2 += w * d * d
			t0 += w * s.y[i]
			t1 += w * d * s.y[i]
		}
		s2 += penalty * s0
		fitted[g] = max(1, (s2*t0-s1*t1)/(s0*s2-s1*s1))
		weights[g] = s0
	}
	return makeMonotone(fitted, weights)
}
