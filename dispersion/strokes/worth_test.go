package strokes

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// Three shots and four, two distances, on a hole of grass alone: by hand. There
// a shot gains what it expects less the lie's strokes and its distance to the
// flag over 100 m.
func TestWorthByHand(t *testing.T) {
	h := mustHole(t, []byte(planOf(marks, polygonFeature(`"lie":"green"`, `[[-100,0],[100,0],[100,300],[-100,300],[-100,0]]`))))
	group := func(points ...dispersion.Point) Pattern {
		g, err := dispersion.NewGroup(points)
		if err != nil {
			t.Fatal(err)
		}
		return mustPattern(t, g, AsHit)
	}
	before := group(dispersion.Point{X: 8, Y: 94}, dispersion.Point{X: 10, Y: 100}, dispersion.Point{X: 12, Y: 106})
	after := group(dispersion.Point{X: -4, Y: 97}, dispersion.Point{X: 0, Y: 100}, dispersion.Point{X: 4, Y: 103}, dispersion.Point{X: 0, Y: 100})
	all, err := WorthOf(ctx, h, byHand, before, after, []float64{100, 50}, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	// From 100 m, carries drawn out by √(3/2): √(64+54), 10, √(144+54) from the
	// flag before; after, by √(4/3): √(16+12) and 0.5 (the baseline's nearest),
	// twice. Each stroke leaves 1.5 + distance/100 of 3.25.
	gained := func(mean float64) float64 { return 3.25 - 1 - 1.5 - mean/100 }
	meanBefore := (math.Sqrt(118) + 10 + math.Sqrt(198)) / 3
	b, a := gained(meanBefore), gained((math.Sqrt(28)+0.5)/2)
	near(t, "before", all[0].Change.Before, b, 1e-12)
	near(t, "after", all[0].Change.After, a, 1e-12)
	near(t, "worth", all[0].Change.Estimate, a-b, 1e-12)
	// About their own middles: √40, 0, √40 times √(3/2) before; 5, 5 times √(4/3) after.
	d1, d2 := (2*math.Sqrt(40)*math.Sqrt(1.5)+0.5)/3, (2*5*math.Sqrt(4.0/3)+2*0.5)/4
	near(t, "spread's part", all[0].Spread.Estimate, (d1-d2)/100, 1e-12)
	// From half the distance every miss is half as far.
	near(t, "from 50 m", all[1].Change.Before, 2.75-1-1.5-meanBefore/2/100, 1e-12)
	if all[0].Distance != 100 || all[1].Distance != 50 || all[0].Change.N1 != 3 || all[0].Change.N2 != 4 || all[0].Change.Unit != "strokes" {
		t.Errorf("%+v", all)
	}
}

// The promise of the interval: on a hole with water, and with normal patterns
// whose worth is known from their law, 95 % intervals hold it, within four binomial standard
// deviations.
func TestWorthCoverage(t *testing.T) {
	if testing.Short() {
		t.Skip("a simulation of 1,200 pairs")
	}
	v := mustApproach(t, mustHole(t, datasets.DemoPondFile()), 140)
	law := func(middle, sd dispersion.Point) Pattern {
		return Pattern{law: Normal, df: math.Inf(1), carry: 140, middle: middle.X, centre: middle, scale: dispersion.Cov{XX: sd.X * sd.X, YY: sd.Y * sd.Y}}
	}
	const pairs = 600
	for _, n := range []int{8, 20} {
		r := rand.New(resample.NewStream(uint64(n), "worth coverage", 0))
		sdBefore, sdAfter := dispersion.Point{X: 11, Y: 9}, dispersion.Point{X: 7, Y: 6}
		truth := func(of func(Pattern) Pattern) float64 {
			b, err1 := v.mean(ctx, of(law(dispersion.Point{X: 6}, sdBefore)), v.Flag(), 0.5)
			a, err2 := v.mean(ctx, of(law(dispersion.Point{X: 1}, sdAfter)), v.Flag(), 0.5)
			if err1 != nil || err2 != nil {
				t.Fatal(err1, err2)
			}
			return b - a // strokes saved are strokes gained
		}
		whole := truth(func(p Pattern) Pattern { return p })
		spread := truth(Pattern.Straightened)
		var held, heldSpread int
		for range pairs {
			before := mustPattern(t, drawnGroup(t, r, n, dispersion.Point{X: 6, Y: 140}, sdBefore), AsHit)
			after := mustPattern(t, drawnGroup(t, r, n, dispersion.Point{X: 1, Y: 140}, sdAfter), AsHit)
			w, err := v.worth(ctx, before, after, compare.Options{Resamples: 9})
			if err != nil {
				t.Fatal(err)
			}
			if i := w.Change.Interval; i.Low <= whole && whole <= i.High {
				held++
			}
			if i := w.Spread.Interval; i.Low <= spread && spread <= i.High {
				heldSpread++
			}
		}
		limit := 4 * math.Sqrt(0.95*0.05/pairs)
		for what, h := range map[string]int{"the change": held, "the spread's part": heldSpread} {
			t.Logf("n = %d, %s: %.1f %%", n, what, 100*float64(h)/pairs)
			if share := float64(h) / pairs; math.Abs(share-0.95) > limit {
				t.Errorf("n = %d: %d of %d intervals hold %s", n, h, pairs, what)
			}
		}
	}
}

func TestWorthThatCannotBe(t *testing.T) {
	h := mustHole(t, datasets.DemoPondFile())
	r := rand.New(resample.NewStream(12, "aim test", 0))
	p := mustPattern(t, drawnGroup(t, r, 8, dispersion.Point{Y: 140}, dispersion.Point{X: 4, Y: 4}), AsHit)
	one := mustPattern(t, drawnGroup(t, r, 1, dispersion.Point{Y: 140}, dispersion.Point{X: 4, Y: 4}), AsHit)
	stated, err := StatedPattern(140, 0.05, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	worth := func(b, a Pattern, d ...float64) error {
		return second(WorthOf(ctx, h, byHand, b, a, d, compare.Options{}))
	}
	var few *dispersion.TooFewError
	for name, c := range map[string]struct {
		err error
		is  func(error) bool
	}{
		"nothing":       {second(WorthOf(ctx, nil, byHand, p, p, []float64{100}, compare.Options{})), is(ErrMissing)},
		"no distances":  {worth(p, p), is(ErrMissing)},
		"a stated one":  {worth(p, stated, 100), is(ErrAsHit)},
		"zero":          {worth(p, Pattern{}, 100), is(ErrAsHit)},
		"beyond":        {worth(p, p, 400), is(ErrPlace)},
		"a single shot": {worth(p, one, 100), func(err error) bool { return errors.As(err, &few) }},
	} {
		if !c.is(c.err) {
			t.Errorf("%s: %v", name, c.err)
		}
	}
}

// A course log twice as wide, hit at many targets: the factor comes out as the
// ratio of the groups made by hand.
func TestWiderOnCourse(t *testing.T) {
	shot := func(side, carry float64) lesson.Shot { return lesson.Shot{Side: side, Carry: carry} }
	bay := lesson.Group{Shots: []lesson.Shot{shot(3, 100), shot(-4, 104), shot(1, 95), shot(-2, 101), shot(5, 99), shot(0, 97)}}
	course := lesson.Group{Shots: []lesson.Shot{shot(6, 100), shot(-8, 108), shot(2, 90), shot(-4, 102), shot(10, 98), shot(0, 94)}}
	b, err := Relative(bay, lesson.Yards)
	if err != nil {
		t.Fatal(err)
	}
	c, err := Relative(course, lesson.Yards)
	if err != nil {
		t.Fatal(err)
	}
	e, err := WiderOnCourse(ctx, b, c, compare.Options{})
	if err != nil || e.Name != NameWider || e.N1 != 6 {
		t.Fatal(e, err)
	}
	// Medians of carry are 99.5 and 99: relative to them the course is twice the
	// bay times 99.5/99.
	near(t, "factor", e.Estimate, 2*99.5/99, 1e-9)
	if !(e.Interval.Low > 1 && e.Interval.High < 4) {
		t.Errorf("interval %v", e.Interval)
	}
	if _, err := Relative(lesson.Group{}, lesson.Yards); !errors.Is(err, ErrMissing) {
		t.Errorf("no shots: %v", err)
	}
	var target *TargetError
	if _, err := Relative(lesson.Group{Shots: []lesson.Shot{{Line: 7, Carry: -3}}}, lesson.Yards); !errors.As(err, &target) || target.Line != 7 {
		t.Errorf("a carry of -3: %v", err)
	}
}
