package compare

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// balls draws n round normal shots around (0, 150), their carry growing by drift a
// ball from the ball numbered first.
func balls(t testing.TB, r *rand.Rand, n, first int, drift float64) *dispersion.Group {
	t.Helper()
	points := make([]dispersion.Point, n)
	for i := range points {
		points[i] = dispersion.Point{X: r.NormFloat64(), Y: 150 + r.NormFloat64() + drift*float64(first+i)}
	}
	g, err := dispersion.NewGroup(points)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func mustWall(t testing.TB, before, after *dispersion.Group, o Options) Wall {
	t.Helper()
	w, err := ShuffleWall(before, after, o)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func carryOf(points []dispersion.Point) (m float64) {
	for _, p := range points {
		m += p.Y / float64(len(points))
	}
	return m
}

// longest is what an eye for carry picks: the picture with the largest gain.
func longest(w Wall) int {
	best, at := math.Inf(-1), 0
	for i, d := range w.Deals {
		if gain := carryOf(d.After) - carryOf(d.Before); gain > best {
			best, at = gain, i
		}
	}
	return at
}

// Every picture holds each ball once, n₁ before and n₂ after, no two are alike,
// and the real one is the groups as they are.
func TestWallDealsTheSameBalls(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for _, n := range [][2]int{{3, 3}, {3, 9}, {10, 12}, {40, 7}} {
		before, after := balls(t, r, n[0], 0, 0), balls(t, r, n[1], 0, 0)
		all := append(before.Points(), after.Points()...)
		sorted := func(p []dispersion.Point) []dispersion.Point {
			return slices.SortedFunc(slices.Values(p), func(a, b dispersion.Point) int {
				if a.Y < b.Y {
					return -1
				}
				return 1
			})
		}
		w := mustWall(t, before, after, Options{Seed: 5})
		if len(w.Deals) != 12 {
			t.Fatalf("%d pictures, want 12", len(w.Deals))
		}
		for i, d := range w.Deals {
			if len(d.Before) != n[0] || len(d.After) != n[1] {
				t.Errorf("%v: picture %d has %d and %d", n, i, len(d.Before), len(d.After))
			}
			if !slices.Equal(sorted(append(slices.Clone(d.Before), d.After...)), sorted(all)) {
				t.Errorf("%v: picture %d has other balls", n, i)
			}
			for j := range i {
				if slices.Equal(sorted(d.Before), sorted(w.Deals[j].Before)) {
					t.Errorf("%v: pictures %d and %d are the same", n, i, j)
				}
			}
		}
		if d := w.Deals[w.Real]; !slices.Equal(d.Before, before.Points()) || !slices.Equal(d.After, after.Points()) {
			t.Errorf("%v: the picture said to be real is not", n)
		}
	}
}

// Without a change the real one hangs anywhere, and the picture of the largest
// gain is the real one in one wall of twelve.
//
// Source: mathematics: balls of one law can be exchanged, so the real deal is one
// of twelve that were drawn alike (A. Buja et al. 2009, from memory).
func TestWallIsFairWithoutAChange(t *testing.T) {
	const lessons = 4000
	r := rand.New(rand.NewPCG(3, 2))
	picked := 0
	var hangs [WallDeals]int
	for i := range lessons {
		w := mustWall(t, balls(t, r, 8, 0, 0), balls(t, r, 11, 8, 0), Options{Seed: uint64(i)})
		hangs[w.Real]++
		if longest(w) == w.Real {
			picked++
		}
	}
	const chance = 1.0 / WallDeals
	slack := 4 * math.Sqrt(lessons*chance*(1-chance))
	for place, n := range append(hangs[:], picked) {
		if math.Abs(float64(n)-lessons*chance) > slack {
			t.Errorf("%d of %d (%d; 12 stands for the picks), want %.0f ± %.0f", n, lessons, place, lessons*chance, slack)
		}
	}
}

// A real gain of three standard deviations is picked nearly always: of the
// 184,756 deals of ten and ten only a few come near it.
func TestWallShowsALargeGain(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for i := range 200 {
		before := balls(t, r, 10, 0, 0)
		points := balls(t, r, 10, 0, 0).Points()
		for k := range points {
			points[k].Y += 3
		}
		after, err := dispersion.NewGroup(points)
		if err != nil {
			t.Fatal(err)
		}
		if w := mustWall(t, before, after, Options{Seed: uint64(i)}); longest(w) != w.Real {
			t.Errorf("lesson %d: a gain of 3 standard deviations was not the largest", i)
		}
	}
}

// With a drift the wall deals runs and says so: every run of the lesson but one
// lies whole in one part.
func TestWallDealsRunsUnderDrift(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	before, after := balls(t, r, 9, 0, 1), balls(t, r, 10, 9, 1)
	w := mustWall(t, before, after, Options{Seed: 1})
	var drift *DriftWarning
	if len(w.Warnings) != 1 || !errors.As(w.Warnings[0], &drift) || drift.Column != "carry" || drift.Block != 3 || w.Block != 3 {
		t.Fatalf("warnings %v, block %d, want runs of 3 for the carry", w.Warnings, w.Block)
	}
	if math.Abs(drift.Slope.Estimate-1) > 0.3 || !strings.Contains(w.Sentence(), "Not a fair game") {
		t.Errorf("slope %g, sentence %q", drift.Slope.Estimate, w.Sentence())
	}
	all := append(before.Points(), after.Points()...)
	for i, d := range w.Deals {
		cut := 0
		for _, run := range [][]dispersion.Point{all[0:3], all[3:6], all[6:9], all[9:12], all[12:15], all[15:18], all[18:19]} {
			in := 0
			for _, p := range run {
				if slices.Contains(d.Before, p) {
					in++
				}
			}
			if in != 0 && in != len(run) {
				cut++
			}
		}
		if cut > 1 {
			t.Errorf("picture %d cuts %d runs", i, cut)
		}
	}
	if w := mustWall(t, balls(t, r, 9, 0, 0), balls(t, r, 9, 0, 0), Options{Seed: 1, Block: 2}); w.Block != 2 || len(w.Warnings) != 0 {
		t.Errorf("asked for runs of 2: %d, %v", w.Block, w.Warnings)
	}
}

// A steady drift without any change gives the real one away less where runs are
// dealt than where single balls are, and still too often: that is what the warning
// is for. Walls of the same lessons are compared, those with a drift noticed.
func TestWallUnderDriftIsFairerInRuns(t *testing.T) {
	const lessons, drift = 4000, 1.5 / 19
	r := rand.New(rand.NewPCG(3, 5))
	noticed, inRuns, singly := 0, 0, 0
	for i := range lessons {
		before, after := balls(t, r, 10, 0, drift), balls(t, r, 10, 10, drift)
		w := mustWall(t, before, after, Options{Seed: uint64(i)})
		if w.Block == 1 {
			continue
		}
		noticed++
		if longest(w) == w.Real {
			inRuns++
		}
		// At such a level no drift is noticed, and single balls are dealt.
		if w = mustWall(t, before, after, Options{Seed: uint64(i), Level: 1 - 1e-9}); longest(w) == w.Real {
			singly++
		}
	}
	slack := 4 * math.Sqrt(0.25*float64(noticed))
	if float64(inRuns)+slack > float64(singly) || float64(inRuns) < float64(noticed)/WallDeals+slack {
		t.Errorf("%d drifts noticed; the real one stands out in %d walls with runs and in %d ball by ball (slack %.0f)", noticed, inRuns, singly, slack)
	}
}

func TestWallsThatCannotBe(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 6))
	two, three, five := balls(t, r, 2, 0, 0), balls(t, r, 3, 0, 0), balls(t, r, 5, 0, 9)
	var few *dispersion.TooFewError
	if _, err := ShuffleWall(nil, three, Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("no group: %v", err)
	}
	if _, err := ShuffleWall(two, three, Options{}); !errors.As(err, &few) || few.Need != 3 {
		t.Errorf("two shots: %v", err)
	}
	if _, err := ShuffleWall(three, three, Options{Block: 2}); !errors.As(err, &few) || few.Need != 6 {
		t.Errorf("runs of two among three: %v", err)
	}
	if _, err := ShuffleWall(five, five, Options{}); !errors.As(err, &few) || few.Need != 6 {
		t.Errorf("five drifting shots: %v", err)
	}
	if _, err := ShuffleWall(three, three, Options{Level: 95}); !errors.Is(err, dispersion.ErrLevel) {
		t.Errorf("level 95: %v", err)
	}
	if _, err := ShuffleWall(three, three, Options{Block: -1}); !errors.Is(err, ErrBlock) {
		t.Errorf("block -1: %v", err)
	}
	same, err := dispersion.NewGroup(make([]dispersion.Point, 4))
	if err != nil {
		t.Fatal(err)
	}
	if w := mustWall(t, same, same, Options{}); len(w.Deals) != WallDeals || len(w.Warnings) != 0 {
		t.Errorf("identical shots: %+v", w)
	}
}
