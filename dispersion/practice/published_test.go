package practice

import (
	"context"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/compare"
)

// Source: G. W. Cobb, "The Problem of the Nile", Biometrika 65(2), 1978, pp.
// 243-251, for the series (as R's Nile); K = 1617 at 1898 and p = 3.591e-7 as the
// documentation of R's package trend prints them.
func TestNileChangedIn1898(t *testing.T) {
	x := readGolden(t).series(t, "data Nile", "x")
	c, err := Pettitt(context.Background(), x, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if c.N != 100 || c.K != 1617 || 1870+c.Last != 1898 { // the series starts in 1871
		t.Errorf("n = %d, K = %d, last year %d", c.N, c.K, 1870+c.Last)
	}
	near(t, "p", c.P/3.591e-7, 1, 5e-5)
	near(t, "mean before", c.Before, 1097.75, 1e-12)
	near(t, "mean after", c.After, 849.97222, 1e-7)
}

// Source: R. Bartels, Journal of the American Statistical Association 77(377),
// 1982, table 2: lower critical values at 0.5, 1, 2.5, 5 and 10 %, to two digits.
// At ten balls his values lie up to .018 above the largest that keeps the share;
// at 15 and 20 they come from an approximation, as here.
func TestBartelsTable(t *testing.T) {
	shares := []float64{0.005, 0.01, 0.025, 0.05, 0.10}
	for n, c := range map[int]struct {
		want []float64
		step float64
	}{
		6:  {[]float64{0.29, 0.46, 0.63, 0.80, 0.97}, 0},
		8:  {[]float64{0.55, 0.62, 0.76, 0.93, 1.14}, 0},
		10: {[]float64{0.62, 0.72, 0.89, 1.04, 1.23}, 0.013},
		15: {[]float64{0.81, 0.90, 1.05, 1.19, 1.36}, 0},
		20: {[]float64{0.94, 1.03, 1.17, 1.29, 1.44}, 0},
	} {
		for i, share := range shares {
			got, err := RankVonNeumannCritical(n, share)
			if err != nil {
				t.Fatal(err)
			}
			if got > c.want[i]+0.005 || got < c.want[i]-0.005-c.step {
				t.Errorf("n = %d at %g: %.4f, table %.2f", n, share, got, c.want[i])
			}
		}
	}
}

// Source: the series lh and LakeHuron of R (P. J. Diggle 1990; P. J. Brockwell, R.
// A. Davis 1991) with r1, von Neumann's ratio and its rank version as computed by
// R 4.2.2 in a program of its own, not kept.
func TestHormoneAndLake(t *testing.T) {
	g := readGolden(t)
	for name, want := range map[string]struct{ r1, ratio, rank float64 }{
		"lh":        {.57552448, .83146853, .87599412},
		"LakeHuron": {.83191121, .31952688, math.NaN()},
	} {
		x := g.series(t, "data "+name, "x")
		s, err := SerialInterval(0, x)
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+": r1", s.R1, want.r1, 1e-7)
		near(t, name+": ratio", s.VonNeumann, want.ratio, 1e-7)
		if v, err := RankVonNeumannRatio(x); err != nil {
			t.Fatal(err)
		} else if !math.IsNaN(want.rank) {
			near(t, name+": rank ratio", v.Ratio, want.rank, 1e-7)
		}
	}
}

// Source: the variance of the rank ratio of ten balls over all orders is .3383165
// by the formula of R. Bartels 1982, and the mean is 2.
func TestMomentsOfTheRankRatio(t *testing.T) {
	o := untied[10]()
	var mean, square float64
	for i, count := range o.counts {
		ratio := float64(i*o.unit) / 4 / 82.5
		mean += count / o.total * ratio
		square += count / o.total * ratio * ratio
	}
	near(t, "mean", mean, 2, 1e-12)
	near(t, "variance", square-mean*mean, .3383165, 1e-7)
	if o.total != 3628800 {
		t.Errorf("%g orders, want 10!", o.total)
	}
	n := 10.0
	near(t, "variance of the beta law", 4/(2*betaShape(n)+1), .3383165, 1e-7)
}

// Source: NIST/SEMATECH e-Handbook, section 6.5.4.3 (form of the limits); values
// for two measures at 5 % from R 4.2.2 in a program of its own, not kept.
func TestT2Limits(t *testing.T) {
	for n, want := range map[int][2]float64{
		10: {4.65838597, 11.035951},
		20: {5.36136649, 7.87926834},
		30: {5.57889745, 7.15001575},
	} {
		one, err1 := LimitPhaseI(n, 0.05)
		two, err2 := LimitPhaseII(n, 0.05)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		near(t, "phase I", one, want[0], 1e-8)
		near(t, "phase II", two, want[1], 1e-7)
	}
}
