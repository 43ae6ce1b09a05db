package chart

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// demoPair is an invented before and after: ten yards farther, six to the left,
// a little tighter.
func demoPair(t testing.TB) (before, after *dispersion.Group) {
	t.Helper()
	r := rand.New(rand.NewPCG(8, 8))
	old, _ := invented(r, 12, dispersion.Point{X: 4, Y: 148}, dispersion.Point{X: 7, Y: 6})
	fresh, _ := invented(r, 12, dispersion.Point{X: -2, Y: 157}, dispersion.Point{X: 5, Y: 5})
	return mustGroup(t, old), mustGroup(t, fresh)
}

func mustGroup(t testing.TB, points []dispersion.Point) *dispersion.Group {
	t.Helper()
	g, err := dispersion.NewGroup(points)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// must returns a result that these invented shots are known to have.
func must[T any](t testing.TB) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func demoShift(t testing.TB) ShiftInput {
	before, after := demoPair(t)
	return ShiftInput{Unit: "yd", Smallest: 5, Shift: must[compare.PlaneShift](t)(compare.CentreShift(context.Background(), before, after, compare.Options{}))}
}

func demoRatios(t testing.TB) SpreadRatioInput {
	ctx := context.Background()
	before, after := demoPair(t)
	effect := must[compare.Effect](t)
	return SpreadRatioInput{Ratios: []compare.Effect{
		effect(compare.SpreadRatio(ctx, before, after, compare.Options{})),
		effect(compare.AreaRatio(ctx, before, after, compare.Options{})),
		effect(compare.AngleSpreadRatio(ctx, before, after, compare.Options{})),
	}}
}

func demoAngles() AnglesInput {
	s := demoStages().Stages
	return AnglesInput{Unit: "yd", Stages: []Stage{s[0], s[3]}}
}

func demoDepths() DepthsInput {
	r := rand.New(rand.NewPCG(4, 4))
	points, mishit := invented(r, 24, dispersion.Point{X: 4, Y: 148}, dispersion.Point{X: 7, Y: 5}, 131)
	for i := range points[:24] { // a boomerang, which no ellipse follows
		points[i].Y -= 0.06 * math.Pow(points[i].X-4, 2)
	}
	return DepthsInput{Name: "old swing", Unit: "yd", Shots: points, Mishit: mishit}
}

func demoGain(before, after []dispersion.Point) (float64, error) {
	var b, a dispersion.Moments
	for _, p := range before {
		b.Add(p)
	}
	for _, p := range after {
		a.Add(p)
	}
	return a.Mean.Y - b.Mean.Y, nil
}

func demoBootstrap(t testing.TB) BootstrapInput {
	before, after := demoPair(t)
	r := must[compare.Bootstrapped](t)(compare.Bootstrap(context.Background(), before, after, demoGain, compare.Options{Resamples: 399}))
	return BootstrapInput{Name: "gain in carry", Unit: "yd", Result: r}
}

func demoPermutation(t testing.TB) PermutationInput {
	before, after := demoPair(t)
	r := must[compare.Permutation](t)(compare.Permute(context.Background(), before, after, func(b, a []dispersion.Point) (float64, error) {
		g, err := demoGain(b, a)
		return math.Abs(g), err
	}, compare.Options{Resamples: 1999}))
	return PermutationInput{Name: "gain in carry, either way", Unit: "yd", Result: r}
}

func demoDial(t testing.TB) DialInput {
	before, _ := demoPair(t)
	var carries []float64
	for _, p := range before.Points() {
		carries = append(carries, p.Y)
	}
	return DialInput{Unit: "yd", Balls: 12, Plan: must[compare.Plan](t)(compare.PlanCarry([][]float64{carries}, 5, 0.8, 0.95))}
}

func demoScores(t testing.TB) CalibrationInput {
	r := rand.New(rand.NewPCG(9, 9))
	in := CalibrationInput{}
	for i := range 9 {
		expected := 3 + float64(i%5)*2.5
		got := 0.5*expected + 2.4*r.NormFloat64()
		e := compare.Effect{Name: compare.NameCarryGain, Unit: "yd", Method: "invented", Before: 140, After: 140 + got, N1: 10, N2: 10, Estimate: got,
			Interval: interval(got-4.4, got+4.4, 0.95), DF: 18}
		in.Scores = append(in.Scores, must[compare.Score](t)(compare.ScoreExpectation(e, expected)))
	}
	return in
}

func demoWall(t testing.TB) WallInput {
	before, after := demoPair(t)
	return WallInput{Unit: "yd", Wall: must[compare.Wall](t)(compare.ShuffleWall(before, mustGroup(t, after.Points()[:9]), compare.Options{Seed: 3}))}
}

// evidenceFigures returns one figure of each kind that pictures how sure a change
// is, made anew.
func evidenceFigures(t testing.TB) map[string]Figure {
	t.Helper()
	figure := must[Figure](t)
	return map[string]Figure{
		"Shift":       figure(Shift(demoShift(t))),
		"SpreadRatio": figure(SpreadRatio(demoRatios(t))),
		"Angles":      figure(Angles(demoAngles())),
		"Depths":      figure(Depths(demoDepths())),
		"Bootstrap":   figure(Bootstrap(demoBootstrap(t))),
		"Permutation": figure(Permutation(demoPermutation(t))),
		"Dial":        figure(Dial(demoDial(t))),
		"Calibration": figure(Calibration(demoScores(t))),
		"Wall":        figure(Wall(demoWall(t))),
	}
}
