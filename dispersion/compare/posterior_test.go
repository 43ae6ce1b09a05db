package compare

import (
	"errors"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"gonum.org/v1/gonum/stat/distuv"
)

// By hand: five points with the mean (3, 3) and A = [10 8; 8 10], μ₀ = 0, κ₀ = 1,
// ν₀ = 4, Λ₀ = I. κ₀n/κₙ·ddᵀ = 5/6·9 = 7.5 in every place, so Λₙ = [18.5 15.5; 15.5
// 18.5]; E Σ = Λₙ/6; the scale of the centre's t(8) is Λₙ/(6·8).
func TestPosteriorByHand(t *testing.T) {
	g := group(t, []dispersion.Point{{X: 1, Y: 2}, {X: 2, Y: 1}, {X: 3, Y: 4}, {X: 4, Y: 3}, {X: 5, Y: 5}})
	p, err := PosteriorOf(g, Prior{Shots: 1, DF: 4, Scale: dispersion.Cov{XX: 1, YY: 1}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "κ", p.Shots, 6, 1e-15)
	near(t, "ν", p.DF, 9, 1e-15)
	near(t, "μ side", p.Mean.X, 2.5, 1e-14)
	near(t, "μ carry", p.Mean.Y, 2.5, 1e-14)
	near(t, "Λ side", p.Scale.XX, 18.5, 1e-14)
	near(t, "Λ", p.Scale.XY, 15.5, 1e-14)
	near(t, "Λ carry", p.Scale.YY, 18.5, 1e-14)
	c, err := p.ExpectedCov()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "E Σ", c.XX, 3.08333333333, 1e-11)
	near(t, "E Σ, off", c.XY, 2.58333333333, 1e-11)
	region, err := p.MeanRegion(0.95)
	if err != nil {
		t.Fatal(err)
	}
	// Along the axis (1, 1) the t scale is (18.5+15.5)/48 = .708333; the limit is 2·F
	// with F.95(2, 8) = 4.45897 (any F table).
	near(t, "major half-axis", region.SemiMajor, math.Sqrt(34.0/48*2*4.45897), 1e-6)
	near(t, "angle", region.Angle, math.Pi/4, 1e-12)
}

// Without a prior the answers are those of the intervals that need none.
func TestJeffreysMatchesTheFrequentistIntervals(t *testing.T) {
	for _, name := range []string{"p20 d40", "b6 c12", "setosa versicolor"} {
		before, after := twoGroups(t, name)
		p1, err := PosteriorOf(before, Jeffreys())
		if err != nil {
			t.Fatal(err)
		}
		p2, err := PosteriorOf(after, Jeffreys())
		if err != nil {
			t.Fatal(err)
		}
		for _, level := range []float64{0.5, 0.95} {
			want, err := AreaRatio(ctx, before, after, Options{Level: level})
			if err != nil {
				t.Fatal(err)
			}
			got, err := PosteriorAreaRatio(p1, p2, level)
			if err != nil {
				t.Fatal(err)
			}
			near(t, name+" ratio", got.Estimate, want.Estimate, 1e-9)
			near(t, name+" low", got.Interval.Low, want.Interval.Low, 1e-9)
			near(t, name+" high", got.Interval.High, want.Interval.High, 1e-9)
			if got.HasP || got.Null != 1 || got.N1 != before.N() || got.N2 != after.N() {
				t.Errorf("%s: echoed %+v", name, got)
			}
			low, err := ProbabilityAreaBelow(p1, p2, got.Interval.Low)
			if err != nil {
				t.Fatal(err)
			}
			near(t, name+" probability below the low end", low, (1-level)/2, 1e-8)
			// Half the two-sided p of no change, on the side of the estimate.
			one, err := ProbabilityAreaBelow(p1, p2, 1)
			if err != nil {
				t.Fatal(err)
			}
			near(t, name+" probability of no growth", 2*min(one, 1-one), want.P, 1e-8)
			region, err := p1.MeanRegion(level)
			if err != nil {
				t.Fatal(err)
			}
			mean, err := before.MeanEllipse(level)
			if err != nil {
				t.Fatal(err)
			}
			near(t, name+" region", region.SemiMajor, mean.SemiMajor, 1e-12)
			near(t, name+" region, minor", region.SemiMinor, mean.SemiMinor, 1e-12)
			near(t, name+" centre", region.Centre.X, mean.Centre.X, 1e-14)
		}
	}
}

// Source: χ² with 6 degrees of freedom at 2.5, 50 and 97.5 % is 1.237, 5.348 and
// 14.449 (any table), so √|Σ| = 2√|Λ₀|/χ² has its median at the area given and
// 95 % between 0.370 and 4.323 times it, as the doc comment promises.
func TestWeakPriorLeavesRoom(t *testing.T) {
	w, err := WeakPrior(6, 8)
	if err != nil {
		t.Fatal(err)
	}
	if w.DF != 4 || w.Shots != 0 || w.Scale.XY != 0 {
		t.Errorf("%+v", w)
	}
	near(t, "shape", w.Scale.YY/w.Scale.XX, 64.0/36, 1e-15)
	law := distuv.ChiSquared{K: 2*w.DF - 2}
	for tail, times := range map[float64]float64{0.025: 0.3701, 0.5: 1, 0.975: 4.3226} {
		near(t, "area", 2*w.Scale.SqrtDet()/law.Quantile(1-tail), times*6*8, 1e-3)
	}
	// Three shots on a line have no area of their own, and get one.
	line := group(t, []dispersion.Point{{X: 1, Y: 101}, {X: 2, Y: 102}, {X: 4, Y: 104}})
	p, err := PosteriorOf(line, w)
	if err != nil {
		t.Fatal(err)
	}
	e, err := PosteriorAreaRatio(p, p, 0.95)
	if err != nil || e.Interval.High < 1.5 {
		t.Errorf("%+v, %v", e.Interval, err)
	}
}

func TestPosteriorErrors(t *testing.T) {
	g := group(t, sample(t, "setosa5"))
	for _, p := range []Prior{
		{DF: math.NaN()}, {DF: -2}, {Shots: -1, DF: 4}, {DF: 4, Scale: dispersion.Cov{XX: -1, YY: 1}},
		{DF: 4, Scale: dispersion.Cov{XX: 1, XY: 2, YY: 1}}, {DF: 4, Mean: dispersion.Point{X: math.Inf(1)}},
	} {
		if _, err := PosteriorOf(g, p); !errors.Is(err, ErrPrior) {
			t.Errorf("%+v: %v", p, err)
		}
	}
	for _, sd := range [][2]float64{{0, 1}, {1, -1}, {math.NaN(), 1}, {1, math.Inf(1)}} {
		if _, err := WeakPrior(sd[0], sd[1]); !errors.Is(err, ErrPrior) {
			t.Errorf("deviations %v: %v", sd, err)
		}
	}
	if _, err := PosteriorOf(nil, Jeffreys()); !errors.Is(err, ErrMissing) {
		t.Errorf("no group: %v", err)
	}
	var few *dispersion.TooFewError
	if _, err := PosteriorOf(group(t, g.Points()[:2]), Jeffreys()); !errors.As(err, &few) || few.Need != 3 {
		t.Errorf("two shots: %v", err)
	}
	weak, _ := WeakPrior(1, 1)
	if _, err := PosteriorOf(&dispersion.Group{}, weak); !errors.As(err, &few) || few.Need != 1 {
		t.Errorf("no shots: %v", err)
	}
	line := group(t, []dispersion.Point{{X: 1, Y: 101}, {X: 2, Y: 102}, {X: 4, Y: 104}})
	if _, err := PosteriorOf(line, Jeffreys()); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("shots on a line: %v", err)
	}
	good, err := PosteriorOf(g, Jeffreys())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := PosteriorAreaRatio(good, good, 95); !errors.Is(err, dispersion.ErrLevel) {
		t.Errorf("level 95: %v", err)
	}
	if _, err := PosteriorAreaRatio(Posterior{}, good, 0.95); !errors.Is(err, ErrPrior) {
		t.Errorf("an empty posterior: %v", err)
	}
	if _, err := ProbabilityAreaBelow(good, Posterior{}, 1); !errors.Is(err, ErrPrior) {
		t.Errorf("an empty posterior: %v", err)
	}
	if _, err := ProbabilityAreaBelow(good, good, 0); !errors.Is(err, ErrSmallest) {
		t.Errorf("below 0 times: %v", err)
	}
	if _, err := (Posterior{}).MeanRegion(0.95); !errors.Is(err, ErrPrior) {
		t.Errorf("region of an empty posterior: %v", err)
	}
	if _, err := good.MeanRegion(0); !errors.Is(err, dispersion.ErrLevel) {
		t.Errorf("level 0: %v", err)
	}
	three, err := PosteriorOf(group(t, g.Points()[:3]), Jeffreys())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := three.ExpectedCov(); !errors.As(err, &few) || few.Need != 5 {
		t.Errorf("expected covariance of three shots: %v", err)
	}
}
