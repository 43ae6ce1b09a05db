package dispersion

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The levels of the robust regions, and the share of good shots that a cut-off
// flags, on fresh normal groups. The MCD limits are themselves simulated and
// fitted by a law of two parameters; that is allowed 1 % of level and 0.3 % of
// shots beside four binomial standard deviations. The t's region of the centre
// is too small by up to 2 % of level for a few shots, which its doc says.
func TestRobustCoverageOnNormalShots(t *testing.T) {
	const lessons = 1500
	band := 4 * math.Sqrt(.95*.05/lessons)
	for _, n := range []int{6, 8, 10, 20} {
		rng := rand.New(rand.NewPCG(uint64(n), 5))
		var centre, next, tCentre, tNext, flagged int
		points := make([]Point, n)
		for range lessons {
			for i := range points {
				points[i] = drawT(rng, 0)
			}
			g := mustGroup(t, points)
			m := mustMCD(t, g, MCDOptions{Quick: true})
			c, err := m.centre(.95)
			if err != nil {
				t.Fatal(err)
			}
			e, err := m.nextEllipse(.95)
			if err != nil {
				t.Fatal(err)
			}
			cutoff, err := m.Cutoff(.975)
			if err != nil {
				t.Fatal(err)
			}
			f := mustT(t, g, .95)
			fNext, err := g.TEllipse(.95)
			if err != nil {
				t.Fatal(err)
			}
			shot := drawT(rng, 0)
			count(&centre, c.Region.Contains(Point{}))
			count(&next, e.Contains(shot))
			count(&tCentre, f.Centre.Region.Contains(Point{}))
			count(&tNext, fNext.Contains(shot))
			for _, d := range m.Distances {
				count(&flagged, d > cutoff)
			}
		}
		for _, c := range []struct {
			what         string
			hits         int
			below, above float64 // allowed beside the band
		}{
			{"MCD centre", centre, .01, .01}, {"MCD next shot", next, .01, .01},
			{"t centre", tCentre, .02, 0}, {"t next shot", tNext, .01, .01},
		} {
			if share := float64(c.hits) / lessons; share < .95-c.below-band || share > .95+c.above+band {
				t.Errorf("n = %d: the 95 %% region of the %s covers %.4f", n, c.what, share)
			}
		}
		// Shots of one group are not independent: the band is for groups.
		share := float64(flagged) / float64(n*lessons)
		if allowed := .003 + 4*math.Sqrt(.025*.975/lessons); math.Abs(share-.025) > allowed {
			t.Errorf("n = %d: %.4f of good shots flagged, want .025 ± %.4f", n, share, allowed)
		}
	}
}

func count(n *int, yes bool) {
	if yes {
		*n++
	}
}

// A tolerance region keeps its promise on thin, tilted groups: it holds 90 % of
// all shots in 95 % of lessons. What a region holds is counted on 2,000 shots.
func TestToleranceCoverage(t *testing.T) {
	const lessons, shots = 1000, 2000
	rng := rand.New(rand.NewPCG(15, 16))
	draw := func() Point {
		u, v := rng.NormFloat64(), rng.NormFloat64()
		return Point{X: 8 * u, Y: 150 + 3*(-.6*u+.8*v)}
	}
	field := make([]Point, shots)
	for i := range field {
		field[i] = draw()
	}
	// The share of the field differs from that of the law by a little: count
	// what the law's own 90 % ellipse holds of it.
	own := Cov{XX: 64, XY: -14.4, YY: 9}
	var held int
	for _, p := range field {
		count(&held, own.squaredDistance(Point{Y: 150}, p) <= -2*math.Log(.1))
	}
	var kept int
	points := make([]Point, 9)
	for range lessons {
		for i := range points {
			points[i] = draw()
		}
		e, err := mustGroup(t, points).ToleranceEllipse(.9, .95)
		if err != nil {
			t.Fatal(err)
		}
		var in int
		for _, p := range field {
			count(&in, e.Contains(p))
		}
		count(&kept, in >= held)
	}
	band := .005 + 4*math.Sqrt(.95*.05/lessons)
	if share := float64(kept) / lessons; math.Abs(share-.95) > band {
		t.Errorf("kept in %.4f of lessons, want .95 ± %.4f", share, band)
	}
}

// With two of ten shots far short the MCD still says where the good ones are,
// in a region of use; that of the mean is many times as large.
func TestMCDCentreWithWildShots(t *testing.T) {
	const lessons = 300
	rng := rand.New(rand.NewPCG(17, 18))
	var mcd, mean int
	points := make([]Point, 10)
	for range lessons {
		for i := range points {
			points[i] = drawT(rng, 0)
		}
		points[3], points[7] = Point{X: 3, Y: -40}, Point{X: 2, Y: -35}
		g := mustGroup(t, points)
		c, err := g.MCDCentre(.95)
		if err != nil {
			t.Fatal(err)
		}
		e, err := g.MeanEllipse(.95)
		if err != nil {
			t.Fatal(err)
		}
		const use = 25 // area; the mean's is about 11 for ten good shots
		count(&mcd, c.Region.Contains(Point{}) && c.Region.Area() < use)
		count(&mean, e.Contains(Point{}) && e.Area() < use)
	}
	if float64(mcd)/lessons < .9 || mean > lessons/20 {
		t.Errorf("of %d lessons: MCD %d, mean %d", lessons, mcd, mean)
	}
}
