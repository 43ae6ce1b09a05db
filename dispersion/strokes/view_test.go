package strokes

import (
	"bytes"
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
)

// straightBaseline is an invented one that a hand can check: so many strokes for
// the lie, and one more every 100 m.
type straightBaseline map[Lie]float64

var byHand = straightBaseline{Tee: 2.5, Fairway: 2.25, Rough: 2.5, Sand: 2.75, Recovery: 3, Green: 1.5}

func (b straightBaseline) Expected(lie Lie, distance float64) (float64, error) {
	if err := checkReach(b, lie, distance); err != nil {
		return 0, err
	}
	if distance == 0 {
		return 0, nil
	}
	return b[lie] + distance/100, nil
}

func (b straightBaseline) StandardError(Lie, float64) (float64, error) { return 0, ErrNoStandardError }
func (b straightBaseline) Reach(lie Lie) (low, high float64) {
	if b[lie] == 0 {
		return 0, 0
	}
	return 0.5, 600
}
func (b straightBaseline) Source() string { return "invented" }

// toTheHole is byHand, but reaches down to the hole itself, where nothing is left.
type toTheHole struct{ straightBaseline }

func (toTheHole) Reach(Lie) (low, high float64) { return 0, 600 }
func (b toTheHole) Expected(lie Lie, distance float64) (float64, error) {
	if distance == 0 {
		return 0, nil
	}
	return b.straightBaseline[lie] + distance/100, nil
}

// A ball that lands on the hole has a putt left, as one beside it has: or else an
// aim that puts one shot there would look better by a stroke for that shot.
func TestNoBallIsHoledFromAfar(t *testing.T) {
	computed := mustCompute(t, IllustrativePlayers()[1])
	for what, b := range map[string]Baseline{"by hand": toTheHole{byHand}, "computed": computed} {
		v, err := handHole(t).Approach(130, b)
		if err != nil {
			t.Fatal(err)
		}
		beside, err := v.Strokes(dispersion.Point{X: 0.06, Y: 130})
		if err != nil {
			t.Fatal(err)
		}
		on, err := v.Strokes(v.Flag())
		if err != nil || !(on >= 2) || !(on <= beside) || beside-on > 0.01 {
			t.Errorf("%s: %g on the hole, %g beside it, %v", what, on, beside, err)
		}
	}
}

// The cost of a surface with the shots as hit is the mean of what each of them
// costs, but for the bend between two grid points; nor does the flag pull.
func TestSurfaceOfShotsIsTheirMean(t *testing.T) {
	computed := mustCompute(t, IllustrativePlayers()[1])
	file := planOf(marks, polygonFeature(`"lie":"green"`, squareGreen))
	v, err := mustHole(t, []byte(file)).Approach(130, computed)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(1, 5))
	for range 5 {
		p := mustPattern(t, drawnGroup(t, r, 11, dispersion.Point{Y: 130}, dispersion.Point{X: 4, Y: 4}), AsHit)
		a, err := v.BestAim(ctx, p, AimOptions{Step: 0.25})
		if err != nil {
			t.Fatal(err)
		}
		var mean float64
		for _, s := range p.Shots() {
			cost, err := v.Strokes(dispersion.Point{X: a.Point.X + s.X, Y: a.Point.Y + s.Y})
			if err != nil {
				t.Fatal(err)
			}
			mean += cost / float64(p.N())
		}
		if math.Abs(a.Expected-mean) > 0.02 {
			t.Errorf("the surface says %.4f at %v, the shots cost %.4f", a.Expected, a.Point, mean)
		}
	}
}

// A hole of 200 m: water from 150 to 170 m across the whole width, a pond on the
// right that costs stroke and distance, out of bounds on the left.
func handHole(t testing.TB) *Hole {
	file := planOf(
		`{"type":"Feature","properties":{"mark":"tee"},"geometry":{"type":"Point","coordinates":[0,0]}}`,
		`{"type":"Feature","properties":{"mark":"flag"},"geometry":{"type":"Point","coordinates":[0,200]}}`,
		polygonFeature(`"lie":"green"`, `[[-10,190],[10,190],[10,210],[-10,210],[-10,190]]`),
		polygonFeature(`"lie":"water","name":"burn"`, `[[-300,150],[300,150],[300,170],[-300,170],[-300,150]]`),
		polygonFeature(`"lie":"water","penalty":"stroke and distance"`, `[[30,60],[60,60],[60,120],[30,120],[30,60]]`),
		polygonFeature(`"lie":"out of bounds"`, `[[-200,0],[-50,0],[-50,140],[-200,140],[-200,0]]`),
	)
	return mustHole(t, []byte(file))
}

func TestStrokesByHand(t *testing.T) {
	v, err := handHole(t).FromTee(byHand)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "from the tee", v.Expected(), 2.5+2, 1e-12)
	for _, c := range []struct {
		what string
		at   dispersion.Point
		want float64
	}{
		{"on the green, 6 m right and 8 short", dispersion.Point{X: 6, Y: 192}, 1 + 1.5 + 0.10},
		{"holed", dispersion.Point{Y: 200}, 1 + 1.5 + 0.005}, // nearer than the baseline reaches
		{"in the rough at 100 m", dispersion.Point{Y: 100}, 1 + 2.5 + 1},
		// In the burn, straight: it was entered at 150 m, and half a metre behind
		// that lies the rough, 50.5 m from the flag.
		{"in the burn", dispersion.Point{Y: 160}, 2 + 2.5 + 0.505},
		// 40 m right at 160: entered at (37.5, 150), 62.5 m from the flag; half a
		// metre farther back on that line it is 63 m.
		{"in the burn on the right", dispersion.Point{X: 40, Y: 160}, 2 + 2.5 + 0.63},
		{"on the far edge of the burn", dispersion.Point{Y: 170}, 2 + 2.5 + 0.505},
		{"out of bounds", dispersion.Point{X: -60, Y: 100}, 2 + 4.5},
		{"on the line of out of bounds", dispersion.Point{X: -50, Y: 100}, 2 + 4.5},
		{"in the pond", dispersion.Point{X: 40, Y: 100}, 2 + 4.5},
	} {
		got, err := v.Strokes(c.at)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.what, got, c.want, 1e-12)
	}
}

// A drop that would cost more than playing again is not taken: from just short
// of the burn, with it all the way back to the ball.
// Two waters that touch are one: where the ball left dry land counts, and not
// where it came from one to the other.
func TestDropBehindWatersThatTouch(t *testing.T) {
	plan := func(waters ...string) *View {
		all := []string{
			`{"type":"Feature","properties":{"mark":"tee"},"geometry":{"type":"Point","coordinates":[0,0]}}`,
			`{"type":"Feature","properties":{"mark":"flag"},"geometry":{"type":"Point","coordinates":[0,150]}}`,
			polygonFeature(`"lie":"green"`, squareGreen),
		}
		for _, w := range waters {
			all = append(all, polygonFeature(`"lie":"water"`, w))
		}
		v, err := mustHole(t, []byte(planOf(all...))).FromTee(byHand)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	one := plan(`[[-60,60],[60,60],[60,120],[-60,120],[-60,60]]`)
	two := plan(`[[-60,60],[60,60],[60,90],[-60,90],[-60,60]]`, `[[-60,90],[60,90],[60,120],[-60,120],[-60,90]]`)
	for _, p := range []dispersion.Point{{X: 30, Y: 110}, {X: -12, Y: 95}, {X: 5, Y: 70}} {
		a, err := one.Strokes(p)
		if err != nil {
			t.Fatal(err)
		}
		b, err := two.Strokes(p)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "strokes", b, a, 1e-6)
	}
}

func TestPlayingAgainWhereItIsCheaper(t *testing.T) {
	dear := straightBaseline{Tee: 1, Fairway: 1, Rough: 9, Green: 1.5}
	v, err := handHole(t).FromTee(dear)
	if err != nil {
		t.Fatal(err)
	}
	got, err := v.Strokes(dispersion.Point{Y: 160})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "again from the tee", got, 2+3, 1e-12)
}

// Seen from elsewhere, the flag is straight ahead and the plan turns with it.
func TestViewTurns(t *testing.T) {
	h := handHole(t)
	v, err := h.From(dispersion.Point{X: 80, Y: 200}, Rough, byHand)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "distance", v.Distance(), 80, 1e-12)
	// Looking west, the burn is on the left, 30 to 50 m off the line.
	if g := v.Ground(dispersion.Point{X: -40, Y: 10}); g.Tag != "water" {
		t.Errorf("40 m left is %s", g.Tag)
	}
	if g := v.Ground(dispersion.Point{X: 40, Y: 10}); g.Tag != "rough" {
		t.Errorf("40 m right is %s", g.Tag)
	}
	if g := v.Ground(v.Flag()); g.Tag != "green" {
		t.Errorf("the flag stands on %s", g.Tag)
	}
	a, err := h.Approach(120, byHand)
	if err != nil || math.Abs(a.Expected()-3.45) > 1e-12 {
		t.Errorf("an approach of 120 m expects %v, %v", a, err)
	}
}

// The grid is laid area by area; single points are looked up one by one.
func TestCostsAreTheStrokesOfEveryPoint(t *testing.T) {
	for _, file := range [][]byte{datasets.DemoPondFile(), datasets.DemoIslandFile()} {
		v, err := mustHole(t, file).FromTee(byHand)
		if err != nil {
			t.Fatal(err)
		}
		g := Grid{Left: -70.25, Short: -10, Step: 3.7, Across: 40, Up: 110}
		costs, err := v.costs(context.Background(), g)
		if err != nil {
			t.Fatal(err)
		}
		for j := range g.Up {
			for i := range g.Across {
				want, err := v.Strokes(g.At(i, j))
				if err != nil || costs.values[j*g.Across+i] != want {
					t.Fatalf("at %v: %g, want %g, %v", g.At(i, j), costs.values[j*g.Across+i], want, err)
				}
			}
		}
	}
}

func TestViewsThatCannotBe(t *testing.T) {
	h := handHole(t)
	var out *RangeError
	var point *dispersion.PointError
	for name, c := range map[string]struct {
		err error
		is  func(error) bool
	}{
		"no baseline":     {second(h.FromTee(nil)), is(ErrMissing)},
		"no hole":         {second((*Hole)(nil).FromTee(byHand)), is(ErrMissing)},
		"no hole either":  {second((*Hole)(nil).Approach(100, byHand)), is(ErrMissing)},
		"in the water":    {second(h.From(dispersion.Point{Y: 160}, Rough, byHand)), is(ErrPlace)},
		"at the flag":     {second(h.From(dispersion.Point{Y: 200}, Green, byHand)), is(ErrPlace)},
		"nowhere":         {second(h.From(dispersion.Point{X: math.NaN()}, Green, byHand)), is(ErrPlace)},
		"no lie":          {second(h.From(dispersion.Point{}, 0, byHand)), is(ErrLie)},
		"too long":        {second(h.Approach(201, byHand)), is(ErrPlace)},
		"approach of NaN": {second(h.Approach(math.NaN(), byHand)), is(ErrPlace)},
		"unknown lie":     {second(h.FromTee(straightBaseline{Rough: 2})), func(err error) bool { return errors.As(err, &out) && out.Lie == Tee }},
	} {
		if !c.is(c.err) {
			t.Errorf("%s: %v", name, c.err)
		}
	}
	v, err := h.FromTee(byHand)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := v.Strokes(dispersion.Point{X: math.Inf(1)}); !errors.As(err, &point) {
		t.Errorf("an infinite landing point: %v", err)
	}
	if _, err := v.Strokes(dispersion.Point{X: 900}); !errors.As(err, &out) {
		t.Errorf("beyond the baseline: %v", err)
	}
}

func second[T any](_ T, err error) error { return err }

func is(target error) func(error) bool {
	return func(err error) bool { return errors.Is(err, target) }
}

// What is handed out is a copy.
func TestAreasAreCopies(t *testing.T) {
	h := mustHole(t, bytes.Clone(datasets.DemoPondFile()))
	v, err := h.FromTee(byHand)
	if err != nil {
		t.Fatal(err)
	}
	for _, areas := range [][]Area{h.Areas(), v.Areas()} {
		for _, a := range areas {
			for _, ring := range a.Rings {
				clear(ring)
			}
		}
	}
	if h.Ground(h.Flag()).Tag != "green" || v.Ground(v.Flag()).Tag != "green" {
		t.Error("clearing what was returned cleared the hole")
	}
}
