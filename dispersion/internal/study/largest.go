package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
)

// largest writes the mean of the largest distance between two of n shots from
// a round normal distribution with standard deviation 1.
func largest(out string, seed uint64) error {
	var b strings.Builder
	fmt.Fprintf(&b, "# How far apart the two farthest shots are\n\nMade by `go run ./dispersion/internal/study largest`, seed %d. Shots come from a round normal distribution with standard\ndeviation 1. The distance grows with the number of shots and says nothing about the player: compare no two groups by it.\n\n| shots | mean | standard error | standard deviation |\n| ---: | ---: | ---: | ---: |\n", seed)
	for _, n := range largestCounts {
		fmt.Fprintf(os.Stderr, "largest: n = %d\n", n)
		mean, sd := largestOf(n, 400_000, seed)
		fmt.Fprintf(&b, "| %d | %.4f | %.4f | %.3f |\n", n, mean, sd/math.Sqrt(400_000), sd)
	}
	return os.WriteFile(filepath.Join(out, "largest.md"), []byte(b.String()), 0o644)
}

var largestCounts = []int{2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 25, 30, 40, 50}

// largestOf returns the mean and the standard deviation over many groups.
func largestOf(n, groups int, seed uint64) (mean, sd float64) {
	r := rand.New(rand.NewPCG(seed, uint64(n)))
	points := make([]dispersion.Point, n)
	var m dispersion.Moments
	for range groups {
		for i := range points {
			points[i] = dispersion.Point{X: r.NormFloat64(), Y: r.NormFloat64()}
		}
		var squared float64
		for i, p := range points {
			for _, q := range points[:i] {
				dx, dy := p.X-q.X, p.Y-q.Y
				squared = max(squared, dx*dx+dy*dy)
			}
		}
		m.Add(dispersion.Point{X: math.Sqrt(squared)})
	}
	return m.Mean.X, math.Sqrt(m.SXX / float64(m.N-1))
}
