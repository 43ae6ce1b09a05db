package strokes

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

var ctx = context.Background()

// drawnGroup returns n shots in metres about a middle.
func drawnGroup(t testing.TB, r *rand.Rand, n int, middle, sd dispersion.Point) *dispersion.Group {
	t.Helper()
	points := make([]dispersion.Point, n)
	for i := range points {
		points[i] = dispersion.Point{X: middle.X + sd.X*r.NormFloat64(), Y: middle.Y + sd.Y*r.NormFloat64()}
	}
	g, err := dispersion.NewGroup(points)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func mustPattern(t testing.TB, g *dispersion.Group, law Law) Pattern {
	t.Helper()
	p, err := NewPattern(g, lesson.Metres, law)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func mustKernel(t testing.TB, points []weighted, step float64) kernel {
	t.Helper()
	k, err := kernelOf(points, step)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

func mustApproach(t testing.TB, h *Hole, metres float64) *View {
	t.Helper()
	v, err := h.Approach(metres, byHand)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// randomHole strews areas of every ground around a green at 150 m.
func randomHole(t testing.TB, r *rand.Rand) *Hole {
	t.Helper()
	features := []string{marks, polygonFeature(`"lie":"green"`, squareGreen)}
	for range 3 + r.IntN(5) {
		tag := grounds[r.IntN(len(grounds))].Tag
		x, y, size := -50+100*r.Float64(), 60+80*r.Float64(), 3+18*r.Float64()
		ring := dispersion.Point{X: x, Y: y}
		features = append(features, polygonFeature(`"lie":"`+tag+`"`, diamond(ring, size)))
	}
	h, err := ReadHole(strings.NewReader(planOf(features...)))
	if err != nil {
		var bad *HoleError
		if errors.As(err, &bad) && strings.Contains(bad.Reason, "stands") {
			return randomHole(t, r) // the flag or the tee was covered
		}
		t.Fatal(err)
	}
	return h
}

func diamond(at dispersion.Point, size float64) string {
	var b strings.Builder
	b.WriteString("[")
	for i, c := range [][2]float64{{1, 0.1}, {0.2, 1}, {-1, 0}, {-0.1, -1}, {1, 0.1}} {
		if i > 0 {
			b.WriteString(",")
		}
		b.WriteString("[" + strconv.FormatFloat(at.X+size*c[0], 'f', 3, 64) + "," + strconv.FormatFloat(at.Y+size*c[1], 'f', 3, 64) + "]")
	}
	b.WriteString("]")
	return b.String()
}

// at returns the value at any point within the grid.
func (f field) at(p dispersion.Point) float64 {
	i, u := split((p.X-f.Left)/f.Step, f.Across)
	j, w := split((p.Y-f.Short)/f.Step, f.Up)
	v := 0.0
	for dj, wj := range [2]float64{1 - w, w} {
		for di, wi := range [2]float64{1 - u, u} {
			if wi*wj != 0 {
				v += wi * wj * f.values[(j+dj)*f.Across+i+di]
			}
		}
	}
	return v
}

// Fourier transforms, shifted sums and a plain loop over the landing points
// must agree, on random holes with patterns of every law.
func TestWaysToTakeTheMeanAgree(t *testing.T) {
	r := rand.New(resample.NewStream(5, "aim test", 0))
	for n := range 9 {
		v := mustApproach(t, randomHole(t, r), 140)
		law := []Law{AsHit, Normal, HeavyTailed}[n%3]
		p := mustPattern(t, drawnGroup(t, r, 12, dispersion.Point{X: 3, Y: 140}, dispersion.Point{X: 5, Y: 6}), law)
		g := Grid{Left: -20, Short: 120, Step: 2, Across: 21, Up: 21}
		points := p.points(g.Step)
		k := mustKernel(t, points, g.Step)
		costs, err := v.costsAround(ctx, k, g)
		if err != nil {
			t.Fatal(err)
		}
		byFFT, byShifts := k.meanByFFT(costs, g), k.meanByShifts(costs, g)
		for at := range byFFT.values {
			aim := g.At(at%g.Across, at/g.Across)
			loop := 0.0
			if at%7 == 0 {
				for _, w := range points {
					loop += w.share * costs.at(dispersion.Point{X: aim.X + w.at.X, Y: aim.Y + w.at.Y})
				}
				near(t, "FFT against a loop", byFFT.values[at], loop, 1e-9)
			}
			near(t, "FFT against shifts", byFFT.values[at], byShifts.values[at], 1e-9)
		}
	}
}

// A mean over a fine lattice against the mean of 40,000 shots drawn from the
// same law, scored one by one: within four standard errors.
func TestSurfaceAgainstDrawnShots(t *testing.T) {
	r := rand.New(resample.NewStream(6, "aim test", 0))
	v := mustApproach(t, mustHole(t, datasets.DemoPondFile()), 150)
	p, err := StatedPattern(150, 0.06, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	for _, aim := range []dispersion.Point{{Y: 150}, {X: -8, Y: 146}, {X: 12, Y: 140}} {
		got, err := v.mean(ctx, p, aim, 1)
		if err != nil {
			t.Fatal(err)
		}
		var m dispersion.Moments
		for range 40_000 {
			cost, err := v.Strokes(dispersion.Point{X: aim.X + 150*math.Tan(0.06)*r.NormFloat64(), Y: aim.Y + 7.5*r.NormFloat64()})
			if err != nil {
				t.Fatal(err)
			}
			m.Add(dispersion.Point{X: cost})
		}
		c, err := m.Cov()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "expected strokes", got, m.Mean.X, 4*math.Sqrt(c.XX/float64(m.N)))
	}
}

// With all steps halved, the best aim moves by no more than the coarser step and
// costs the same to a hundredth of a stroke.
func TestBestAimUnderRefinement(t *testing.T) {
	r := rand.New(resample.NewStream(7, "aim test", 0))
	v := mustApproach(t, mustHole(t, datasets.DemoPondFile()), 140)
	g := drawnGroup(t, r, 20, dispersion.Point{X: 4, Y: 140}, dispersion.Point{X: 8, Y: 7})
	for _, law := range []Law{Normal, HeavyTailed} {
		p := mustPattern(t, g, law)
		aims := map[float64]Aim{}
		for _, step := range []float64{2, 1, 0.5} {
			a, err := v.BestAim(ctx, p, AimOptions{Left: -30, Right: 10, Short: 120, Long: 150, Step: step})
			if err != nil || len(a.Warnings) != 0 {
				t.Fatal(err, a.Warnings)
			}
			aims[step] = a
		}
		for _, step := range []float64{2, 1} {
			coarse, fine := aims[step], aims[0.5]
			if d := distance(coarse.Point, fine.Point); d > 1.5*step {
				t.Errorf("%v: at a step of %g m the best aim is %v, at 0.5 m %v", law, step, coarse.Point, fine.Point)
			}
			near(t, "expected", coarse.Expected, fine.Expected, 0.005*step)
		}
	}
}

// A hole with water on the right alone: the aim goes left, and a bias to the
// right is aimed off to the metre, at no cost.
func TestBiasIsAimedOff(t *testing.T) {
	h := mustHole(t, []byte(planOf(marks, polygonFeature(`"lie":"green"`, squareGreen),
		polygonFeature(`"lie":"water"`, `[[12,60],[80,60],[80,200],[12,200],[12,60]]`))))
	v := mustApproach(t, h, 130)
	straight, err := StatedPattern(130, 0.046, 0.038)
	if err != nil {
		t.Fatal(err)
	}
	biased := straight.mapped(1, 7)
	near(t, "bias", biased.Bias(), 7, 1e-12)
	var aims []Aim
	for _, p := range []Pattern{straight, biased} {
		a, err := v.BestAim(ctx, p, AimOptions{})
		if err != nil {
			t.Fatal(err)
		}
		aims = append(aims, a)
	}
	if aims[0].Point.X >= 0 {
		t.Errorf("water on the right, and the best aim is %v", aims[0].Point)
	}
	near(t, "the aim with a bias of 7 m", aims[1].Point.X, aims[0].Point.X-7, 1e-9)
	near(t, "what it costs", aims[1].Expected, aims[0].Expected, 1e-9)
	near(t, "straightened", aims[1].Straightened, aims[0].StraightExpected, 1e-9)
	if a := aims[1]; !(a.FixingSaves() > 0.05 && a.AimingSaves() > a.FixingSaves()) {
		t.Errorf("fixing the bias saves %g, aiming %g", a.FixingSaves(), a.AimingSaves())
	}
	near(t, "fixing no bias", aims[0].FixingSaves(), 0, 1e-12)
}

// The region is every aim within 0.05 strokes, the best among them.
func TestGoodAims(t *testing.T) {
	v := mustApproach(t, mustHole(t, datasets.DemoPondFile()), 120)
	p, err := StatedPattern(120, 0.05, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	a, err := v.BestAim(ctx, p, AimOptions{Step: 2})
	if err != nil {
		t.Fatal(err)
	}
	s, n := a.Surface, 0
	for j := range s.Grid.Up {
		for i := range s.Grid.Across {
			good := s.Expected(i, j) <= a.Expected+0.05
			at := s.Grid.At(i, j)
			if good != s.Good(i, j) || good && (at.X < a.Left || at.X > a.Right || at.Y < a.Short || at.Y > a.Long) {
				t.Fatalf("aim %v", at)
			}
			if good {
				n++
			}
			if s.Expected(i, j) < a.Expected {
				t.Fatalf("aim %v is better than the best", at)
			}
		}
	}
	if n < 4 || n > s.Grid.Across*s.Grid.Up/4 {
		t.Errorf("%d good aims", n)
	}
	// Cut off at the edge, it says so.
	a, err = v.BestAim(ctx, p, AimOptions{Left: 20, Right: 40, Short: 100, Long: 140})
	var edge *EdgeWarning
	if err != nil || len(a.Warnings) != 1 || !errors.As(a.Warnings[0], &edge) || a.Straight.X != 20 {
		t.Errorf("%v, %v", a.Warnings, err)
	}
}

func TestAimDoubt(t *testing.T) {
	v := mustApproach(t, mustHole(t, datasets.DemoPondFile()), 140)
	r := rand.New(resample.NewStream(9, "aim test", 0))
	p := mustPattern(t, drawnGroup(t, r, 16, dispersion.Point{X: 4, Y: 140}, dispersion.Point{X: 8, Y: 7}), AsHit)
	o := AimOptions{Left: -40, Right: 20, Short: 110, Long: 165, Step: 2}
	a, err := v.BestAim(ctx, p, o)
	if err != nil {
		t.Fatal(err)
	}
	var reports []int
	d, err := v.AimDoubt(ctx, p, o, compare.Options{Resamples: 200, Seed: 3, Progress: func(done, _ int) { reports = append(reports, done) }})
	if err != nil {
		t.Fatal(err)
	}
	if len(reports) < 5 || reports[len(reports)-1] != 200 {
		t.Errorf("reports %v", reports)
	}
	if !(d.Side.Low <= a.Point.X && a.Point.X <= d.Side.High && d.Carry.Low <= a.Point.Y && a.Point.Y <= d.Carry.High) {
		t.Errorf("best aim %v, side %v, carry %v", a.Point, d.Side, d.Carry)
	}
	if d.Side.Low == d.Side.High || d.Optimism <= 0 || d.N != 16 || d.Resamples != 200 || len(d.Warnings) != 0 {
		t.Errorf("%+v", d)
	}
	i, j := a.Surface.Best()
	if d.Good(i, j) < 0.3 || d.Good(0, 0) > 0.05 {
		t.Errorf("the best aim is good in %g, a far one in %g of resamples", d.Good(i, j), d.Good(0, 0))
	}
	// With the carry held, only the side is in doubt.
	held := o
	held.Short, held.Long = a.Point.Y, a.Point.Y
	h, err := v.AimDoubt(ctx, p, held, compare.Options{Resamples: 200, Seed: 3})
	if err != nil || h.Carry.Low != h.Carry.High || !(h.Side.Low < h.Side.High) || h.Good(i, 0) < 0.3 {
		t.Errorf("held: %+v, good in %g, %v", h, h.Good(i, 0), err)
	}
	again, err := v.AimDoubt(ctx, p, o, compare.Options{Resamples: 200, Seed: 3})
	if err != nil || again.Side != d.Side || again.Optimism != d.Optimism || !slices.Equal(again.good, d.good) {
		t.Errorf("the same seed gave %+v, then %+v, %v", d, again, err)
	}
	other, err := v.AimDoubt(ctx, p, o, compare.Options{Resamples: 200, Seed: 4})
	if err != nil || slices.Equal(other.good, d.good) {
		t.Errorf("another seed gave the same, %v", err)
	}
}

// On grass alone a stroke costs its distance to the flag, so that three shots in a
// line cost least with the middle one on the flag: whichever are drawn, the
// carry meant, their median, is that of the flag.
func TestAimDoubtMeansTheMedianCarry(t *testing.T) {
	h := mustHole(t, []byte(planOf(marks, polygonFeature(`"lie":"green"`, `[[-100,-10],[100,-10],[100,300],[-100,300],[-100,-10]]`))))
	g, err := dispersion.NewGroup([]dispersion.Point{{Y: 94}, {Y: 100}, {Y: 106}})
	if err != nil {
		t.Fatal(err)
	}
	d, err := mustApproach(t, h, 100).AimDoubt(ctx, mustPattern(t, g, AsHit), AimOptions{Left: -4, Right: 4, Short: 80, Long: 120}, compare.Options{Resamples: 100})
	if err != nil {
		t.Fatal(err)
	}
	if d.Carry.Low < 99 || d.Carry.High > 101 || d.Side.Low != 0 || d.Side.High != 0 { // within a step
		t.Errorf("carry %v, side %v", d.Carry, d.Side)
	}
}

func TestCompareClubs(t *testing.T) {
	v, err := mustHole(t, datasets.DemoIslandFile()).FromTee(byHand)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(resample.NewStream(10, "aim test", 0))
	club := func(name string, carry float64) Club {
		return Club{name, mustPattern(t, drawnGroup(t, r, 14, dispersion.Point{Y: carry}, dispersion.Point{X: 4, Y: 5}), AsHit)}
	}
	stated, err := StatedPattern(148, 0.03, 0.03)
	if err != nil {
		t.Fatal(err)
	}
	all, err := v.CompareClubs(ctx, []Club{club("short", 118), club("right", 147), {"stated", stated}, club("long", 190)}, AimOptions{}, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range all {
		if math.Abs(c.Aim.Y-c.Club.Pattern.Carry()) > 1e-9 || i > 0 && c.Expected < all[i-1].Expected || c.Straight < c.Expected-1e-9 {
			t.Errorf("%s: aim %v, %g strokes", c.Club.Name, c.Aim, c.Expected)
		}
		if stated := c.Club.Name == "stated" || all[0].Club.Name == "stated"; (c.Behind == nil) != (stated || i == 0) {
			t.Errorf("%s: behind %v", c.Club.Name, c.Behind)
		}
	}
	if last := all[3].Club.Name; last != "short" {
		t.Errorf("%s costs most, want the club that carries into the lake", last)
	}
}

func TestPatternKeepsItsNumbers(t *testing.T) {
	g, err := dispersion.NewGroup([]dispersion.Point{{X: 1, Y: 100}, {X: 5, Y: 110}, {X: 2, Y: 90}, {X: 9, Y: 50}})
	if err != nil {
		t.Fatal(err)
	}
	p, err := NewPattern(g, lesson.Yards, AsHit)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "carry", p.Carry(), 95*0.9144, 1e-12)
	near(t, "bias", p.Bias(), 3.5*0.9144, 1e-12)
	near(t, "third shot", p.Shots()[2].Y, -5*0.9144, 1e-12)
	half, err := p.Scaled(p.Carry() / 2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "half the bias", half.Bias(), p.Bias()/2, 1e-12)
	near(t, "half the miss", half.Shots()[3].Y, p.Shots()[3].Y/2, 1e-12)
	near(t, "no bias", p.Straightened().Bias(), 0, 0)
	p.Shots()[0].X = 99
	if p.Shots()[0].X == 99 || g.Points()[0].X != 1 {
		t.Error("a pattern was changed from outside")
	}
}

func TestAimsThatCannotBe(t *testing.T) {
	v := mustApproach(t, mustHole(t, datasets.DemoPondFile()), 140)
	r := rand.New(resample.NewStream(11, "aim test", 0))
	g := drawnGroup(t, r, 8, dispersion.Point{Y: 140}, dispersion.Point{X: 4, Y: 4})
	two := drawnGroup(t, r, 2, dispersion.Point{Y: 140}, dispersion.Point{X: 4, Y: 4})
	p, normal := mustPattern(t, g, AsHit), mustPattern(t, g, Normal)
	done, cancel := context.WithCancel(ctx)
	cancel()
	var none context.Context
	var few *dispersion.TooFewError
	var out *RangeError
	isFew := func(err error) bool { return errors.As(err, &few) }
	doubt := func(p Pattern, c compare.Options) error { return second(v.AimDoubt(ctx, p, AimOptions{}, c)) }
	// One wild number among the shots must not take all memory.
	wild := func(side, carry float64) Pattern {
		g, err := dispersion.NewGroup([]dispersion.Point{{Y: 130}, {X: side, Y: carry}, {X: 2, Y: 129}, {X: 1, Y: 131}, {X: 1, Y: 130}})
		if err != nil {
			t.Fatal(err)
		}
		return mustPattern(t, g, AsHit)
	}
	aim := func(o AimOptions) error { return second(v.BestAim(ctx, p, o)) }
	for name, c := range map[string]struct {
		err error
		is  func(error) bool
	}{
		"no group":          {second(NewPattern(nil, lesson.Yards, AsHit)), is(ErrMissing)},
		"no unit":           {second(NewPattern(g, "", AsHit)), is(ErrPattern)},
		"no law":            {second(NewPattern(g, lesson.Yards, 0)), is(ErrPattern)},
		"backwards":         {second(NewPattern(drawnGroup(t, r, 5, dispersion.Point{Y: -50}, dispersion.Point{X: 1, Y: 1}), lesson.Yards, AsHit)), is(ErrPattern)},
		"two normal":        {second(NewPattern(two, lesson.Yards, Normal)), isFew},
		"two heavy":         {second(NewPattern(two, lesson.Yards, HeavyTailed)), isFew},
		"stated":            {second(StatedPattern(150, 0, 0.05)), is(ErrPattern)},
		"stated NaN":        {second(StatedPattern(math.NaN(), 0.1, 0.05)), is(ErrPattern)},
		"scaled to nothing": {second(p.Scaled(0)), is(ErrPattern)},
		"scaled zero":       {second(Pattern{}.Scaled(100)), is(ErrPattern)},
		"no pattern":        {second(v.BestAim(ctx, Pattern{}, AimOptions{})), is(ErrPattern)},
		"no view":           {second((*View)(nil).BestAim(ctx, p, AimOptions{})), is(ErrMissing)},
		"no context":        {second(v.BestAim(none, p, AimOptions{})), is(ErrMissing)},
		"cancelled":         {second(v.BestAim(done, p, AimOptions{})), is(context.Canceled)},
		"cancelled doubt":   {second(v.AimDoubt(done, p, AimOptions{}, compare.Options{})), is(context.Canceled)},
		"left of right":     {aim(AimOptions{Left: 3, Right: 2, Short: 100, Long: 120}), is(ErrGrid)},
		"NaN":               {aim(AimOptions{Left: math.NaN()}), is(ErrGrid)},
		"negative step":     {aim(AimOptions{Step: -1}), is(ErrGrid)},
		"tiny step":         {aim(AimOptions{Step: 1e-6}), is(ErrGrid)},
		"tiny held step":    {aim(AimOptions{Short: 130, Long: 130, Step: 1e-7}), is(ErrGrid)},
		"wild side":         {second(v.BestAim(ctx, wild(1e100, 131), AimOptions{})), is(ErrGrid)},
		"wild both":         {second(v.BestAim(ctx, wild(1e6, 1e6), AimOptions{})), is(ErrGrid)},
		"wild doubt":        {doubt(wild(1e6, 1e6), compare.Options{}), is(ErrGrid)},
		"beyond":            {aim(AimOptions{Left: -900, Right: 0, Short: 100, Long: 110, Step: 5}), func(err error) bool { return errors.As(err, &out) }},
		"doubt of a law":    {doubt(normal, compare.Options{}), is(ErrAsHit)},
		"doubt of two":      {doubt(mustPattern(t, two, AsHit), compare.Options{}), isFew},
		"level":             {doubt(p, compare.Options{Level: 95}), is(dispersion.ErrLevel)},
		"resamples":         {doubt(p, compare.Options{Resamples: -1}), is(compare.ErrResamples)},
		"more than memory":  {doubt(p, compare.Options{Resamples: 1 << 60}), is(compare.ErrResamples)},
		"no clubs":          {second(v.CompareClubs(ctx, nil, AimOptions{}, compare.Options{})), is(ErrMissing)},
		"club of nothing":   {second(v.CompareClubs(ctx, []Club{{Name: "x"}}, AimOptions{}, compare.Options{})), is(ErrPattern)},
	} {
		if !c.is(c.err) {
			t.Errorf("%s: %v", name, c.err)
		}
	}
	few8, err := v.AimDoubt(ctx, p, AimOptions{Left: -10, Right: 10, Short: 130, Long: 150, Step: 2}, compare.Options{Resamples: 20})
	var warning *FewShotsWarning
	if err != nil || len(few8.Warnings) != 1 || !errors.As(few8.Warnings[0], &warning) || warning.Have != 8 {
		t.Errorf("eight shots: %v, %v", few8.Warnings, err)
	}
}
