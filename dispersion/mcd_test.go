package dispersion

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// Source: robust.R and exact_mcd.c: every subset, or every conic through five
// points, and covMcd of robustbase 0.95-0 under R 4.2.2.
func TestMCDAgainstR(t *testing.T) {
	for _, name := range referenceNames(t, "robust_") {
		if name == "a3" || name == "line6" {
			continue // too few; on one line: TestMCDRefuses
		}
		type fit struct {
			H     int
			Exact struct {
				Best []int
				Det  float64
				Ties int        `json:"optimal_subsets"`
				Mean [2]float64 `json:"raw_mean"`
			}
			CovMcd struct {
				RawCov  [2][2]float64 `json:"raw_cov_scaled"`
				Factors [2]float64    `json:"cnp2"`
				Centre  [2]float64    `json:"center"`
				Cov     [2][2]float64
				Weights []int
				Squared []float64 `json:"mah_d2"`
			}
		}
		var ref struct {
			Output struct {
				Half  fit `json:"alpha_0.5"`
				Three fit `json:"alpha_0.75"`
			}
		}
		readReference(t, "robust_"+name, &ref)
		g := referenceGroup(t, name)
		for alpha, want := range map[float64]fit{.5: ref.Output.Half, .75: ref.Output.Three} {
			m, err := g.MCD(MCDOptions{Alpha: alpha})
			if err != nil {
				t.Errorf("%s at %g: %v", name, alpha, err)
				continue
			}
			what := name + " "
			if m.H != want.H || m.Exact != (g.N() <= exactLimit) {
				t.Errorf("%s at %g: h = %d, want %d; exact %v", name, alpha, m.H, want.H, m.Exact)
			}
			nearRel(t, what+"det", m.SqrtDet*m.SqrtDet, want.Exact.Det, 1e-8)
			for i := range want.Exact.Best {
				want.Exact.Best[i]--
			}
			if !slices.Equal(m.Subset, want.Exact.Best) {
				t.Errorf("%s at %g: subset %v, want %v", name, alpha, m.Subset, want.Exact.Best)
			}
			near(t, what+"raw side", m.Raw.X, want.Exact.Mean[0], 1e-9)
			near(t, what+"raw carry", m.Raw.Y, want.Exact.Mean[1], 1e-9)
			if want.Exact.Ties > 1 {
				continue // the two programs take different ones of equal subsets
			}
			nearRel(t, what+"raw cov", m.RawCov.XX, want.CovMcd.RawCov[0][0], 1e-8)
			// That program reports which shots its final fit keeps, not the
			// weights the fit was made with.
			kept := make([]int, g.N())
			for i, d := range m.Distances {
				if d*d <= reweightLimit {
					kept[i] = 1
				}
			}
			if !slices.Equal(kept, want.CovMcd.Weights) {
				t.Errorf("%s at %g: kept %v, want %v", name, alpha, kept, want.CovMcd.Weights)
			}
			nearRel(t, what+"consistency", m.Consistency, want.CovMcd.Factors[0], 1e-8)
			nearRel(t, what+"small sample", m.SmallSample, want.CovMcd.Factors[1], 1e-8)
			near(t, what+"side", m.Centre.X, want.CovMcd.Centre[0], 1e-8)
			near(t, what+"carry", m.Centre.Y, want.CovMcd.Centre[1], 1e-8)
			nearRel(t, what+"var side", m.Cov.XX, want.CovMcd.Cov[0][0], 1e-8)
			near(t, what+"cov", m.Cov.XY, want.CovMcd.Cov[0][1], 1e-8)
			nearRel(t, what+"var carry", m.Cov.YY, want.CovMcd.Cov[1][1], 1e-8)
			for i, d := range m.Distances {
				near(t, what+"squared distance", d*d, want.CovMcd.Squared[i], 1e-8)
			}
		}
	}
}

// Sources: factors of robustbase 0.95-0 (R 4.2.2) for two dimensions.
func TestMCDFactors(t *testing.T) {
	for _, r := range []struct {
		n, half, three                        int
		cHalf, cThree, raw, raw3, rew, rewTwo float64
	}{
		{10, 6, 8, 2.569772457, 1.673246648, 1.664067802, 1.285904208, 1.376617255, 1.262958144},
		{15, 9, 12, 2.569772457, 1.673246648, 1.431654316, 1.188287599, 1.144041734, 1.132315008},
		{20, 11, 15, 2.884541707, 1.859075117, 1.328244612, 1.142869925, 1.078278668, 1.085489610},
		{30, 16, 23, 3.001854055, 1.795053389, 1.229579217, 1.098780352, 1.034564432, 1.048274880},
		{50, 26, 38, 3.100871420, 1.820393838, 1.150958299, 1.063557320, 1.012727516, 1.024681199},
	} {
		if subsetSize(r.n, .5) != r.half || subsetSize(r.n, .75) != r.three {
			t.Errorf("n = %d: h = %d and %d", r.n, subsetSize(r.n, .5), subsetSize(r.n, .75))
		}
		n := float64(r.n)
		near(t, "consistency", consistency(float64(r.half)/n), r.cHalf, 1e-8)
		near(t, "consistency", consistency(float64(r.three)/n), r.cThree, 1e-8)
		near(t, "raw", rawSmallSample(r.n, .5), r.raw, 1e-8)
		near(t, "raw", rawSmallSample(r.n, .75), r.raw3, 1e-8)
		near(t, "reweighted", reweightedSmallSample(r.n, .5), r.rew, 1e-8)
		near(t, "reweighted", reweightedSmallSample(r.n, .75), r.rewTwo, 1e-8)
	}
	near(t, "all shots", smallSample(.3, .8, 1), 1, 1e-15)
}

func mustMCD(t testing.TB, g *Group, o MCDOptions) MCD {
	t.Helper()
	m, err := g.MCD(o)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Source: all subsets, recomputed with R 4.2.2; covMcd of robustbase 0.95-0
// finds the same.
func TestMCDOfP10(t *testing.T) {
	g := mustGroup(t, p10)
	half := mustMCD(t, g, MCDOptions{Alpha: .5})
	if !slices.Equal(half.Subset, []int{0, 1, 2, 5, 6, 7}) || !half.Exact {
		t.Errorf("subset %v, exact %v", half.Subset, half.Exact)
	}
	near(t, "det", half.SqrtDet*half.SqrtDet, 13.4239253, 1e-7)
	near(t, "raw side", half.Raw.X, .783333333, 1e-9)
	near(t, "raw carry", half.Raw.Y, .95, 1e-12)
	// With a half the wild shot hides behind the small-sample factor.
	if slices.Contains(half.Weights, 0) {
		t.Errorf("weights %v: no shot is dropped at alpha 0.5", half.Weights)
	}
	m := mustMCD(t, g, MCDOptions{})
	if !slices.Equal(m.Subset, []int{0, 1, 2, 3, 5, 6, 7, 8}) || m.H != 8 {
		t.Errorf("subset %v", m.Subset)
	}
	near(t, "det", m.SqrtDet*m.SqrtDet, 38.2497316, 1e-7)
	near(t, "raw side", m.Raw.X, .925, 1e-12)
	near(t, "raw carry", m.Raw.Y, 1.1625, 1e-12)
	if !slices.Equal(m.Weights, []int{1, 1, 1, 1, 1, 1, 1, 1, 1, 0}) {
		t.Errorf("weights %v", m.Weights)
	}
	near(t, "side", m.Centre.X, .622222222, 1e-9)
	near(t, "carry", m.Centre.Y, .522222222, 1e-9)
	near(t, "var side", m.Cov.XX, 14.221306246, 1e-9)
	near(t, "cov", m.Cov.XY, .567607662, 1e-9)
	near(t, "var carry", m.Cov.YY, 13.287865075, 1e-9)
}

// Sources: P. J. Rousseeuw, A. M. Leroy 1987, p. 27 (the four giants 11, 20,
// 30, 34); the rest recomputed with robustbase 0.95-0. The 14 known outliers of
// Hawkins, Bradu and Kass 1984 show in its first two columns too.
func TestMCDOfStars(t *testing.T) {
	g := referenceGroup(t, "stars")
	m := mustMCD(t, g, MCDOptions{Alpha: .5})
	near(t, "log det", 2*math.Log(m.SqrtDet), -8.031215198, 1e-9)
	near(t, "raw", m.Raw.X, 4.4648, 1e-12)
	near(t, "raw", m.Raw.Y, 5.1884, 1e-12)
	near(t, "centre", m.Centre.X, 4.40902439, 1e-8)
	near(t, "centre", m.Centre.Y, 4.94902439, 1e-8)
	near(t, "cov", m.Cov.XX, .01711315993, 1e-10)
	near(t, "cov", m.Cov.XY, .05106650479, 1e-10)
	near(t, "cov", m.Cov.YY, .35545628177, 1e-10)
	near(t, "factor", m.Consistency, 1.431080996, 1e-8)
	near(t, "factor", m.SmallSample, 1.014350688, 1e-8)
	var zero []int
	for i, w := range m.Weights {
		if w == 0 {
			zero = append(zero, i+1)
		}
	}
	if !slices.Equal(zero, []int{7, 11, 14, 20, 30, 34}) {
		t.Errorf("weight 0: %v", zero)
	}
	first := mustMCD(t, mustGroup(t, g.Points()[:12]), MCDOptions{Alpha: .5})
	if !slices.Equal(first.Subset, []int{0, 1, 2, 3, 5, 9, 11}) {
		t.Errorf("first twelve: %v", first.Subset)
	}
	nearRel(t, "first twelve", first.SqrtDet*first.SqrtDet, 2.82794048e-05, 1e-8)
	near(t, "first twelve", first.Raw.X, 4.43, 1e-9)
	near(t, "first twelve", first.Raw.Y, 5.381428571, 1e-9)
}

func TestMCDRefuses(t *testing.T) {
	if _, err := mustGroup(t, p10[:5]).MCD(MCDOptions{}); !errors.As(err, new(*TooFewError)) {
		t.Errorf("five shots: error %v", err)
	}
	for _, alpha := range []float64{.49, 1.01, -1, math.NaN(), 75} {
		if _, err := mustGroup(t, p10).MCD(MCDOptions{Alpha: alpha}); !errors.Is(err, ErrAlpha) {
			t.Errorf("alpha %g: error %v", alpha, err)
		}
	}
	if _, err := referenceGroup(t, "line6").MCD(MCDOptions{}); !errors.Is(err, ErrDegenerate) {
		t.Errorf("a line: error %v", err)
	}
	// An exact fit: h of n on a line or at one place, for few, some and many.
	for _, n := range []int{8, 30, 100, 1000} {
		for _, onePlace := range []bool{false, true} {
			points := make([]Point, n)
			for i := range points {
				points[i] = Point{X: float64(i * i % 37), Y: float64(i % 11)}
				if i%8 < 6 || i%20 == 6 {
					points[i].Y = 3 - 2*points[i].X
					if onePlace {
						points[i] = Point{X: 1, Y: 2}
					}
				}
			}
			if m, err := mustGroup(t, points).MCD(MCDOptions{}); !errors.Is(err, ErrDegenerate) {
				t.Errorf("%d shots, one place %v: %v, error %v", n, onePlace, m.Subset, err)
			}
		}
	}
	// One shot fewer on the line is an answer.
	points := []Point{{X: 0, Y: 0}, {X: 1, Y: 1}, {X: 2, Y: 2}, {X: 3, Y: 3}, {X: 4, Y: 4}, {X: 2, Y: 3}, {X: 5, Y: 1}, {X: 0, Y: 7}}
	if m := mustMCD(t, mustGroup(t, points), MCDOptions{}); m.SqrtDet <= 0 {
		t.Errorf("det %g", m.SqrtDet)
	}
}

// Of the subsets with the same determinant the first in order, whatever the
// order of the shots: a square with its middle, twice over.
func TestMCDTies(t *testing.T) {
	square := []Point{{X: 1, Y: 1}, {X: -1, Y: 1}, {X: 1, Y: -1}, {X: -1, Y: -1}, {X: 0, Y: 0}}
	points := append(slices.Clone(square), square...)
	m := mustMCD(t, mustGroup(t, points), MCDOptions{}) // h = 8: leaves out two corners
	if want := []int{0, 1, 2, 4, 5, 6, 7, 9}; !slices.Equal(m.Subset, want) {
		t.Errorf("subset %v, want %v", m.Subset, want)
	}
}

// The search for the proof against every subset, on normal, heavy-tailed,
// rounded and clustered groups.
func TestConeSearchAgainstEnumeration(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	for round := range 60 {
		n := 7 + round%8
		points := make([]Point, n)
		for i := range points {
			points[i] = drawT(rng, []int{0, 1, 3}[round%3])
			if round%4 == 1 {
				points[i] = Point{X: math.Round(2*points[i].X) / 2, Y: math.Round(2*points[i].Y) / 2}
			}
			if round%4 == 2 && i < n/3 {
				points[i].X += 8
			}
		}
		h := subsetSize(n, []float64{.5, .75}[round%2])
		z, _, _, _ := standardised(points)
		if flatSubset(z, h) {
			continue
		}
		// Not the best subset to begin with, so that it must be found.
		first := make([]int, h)
		for i := range first {
			first[i] = n - h + i
		}
		if s, _ := sumsOf(z, first); flatSums(&s) {
			continue
		}
		want := enumerate(z, first)
		got, proven := searchCones(z, first, mostCuts)
		if !proven || !slices.Equal(got, want) {
			a, _ := sumsOf(z, got)
			b, _ := sumsOf(z, want)
			t.Errorf("round %d, n = %d, h = %d: %v (%g), proven %v, want %v (%g)", round, n, h, got, a.det(), proven, want, b.det())
		}
	}
}

// Random starts alone come to the same subset for all but a few groups.
func TestQuickMCDIsMostlyExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	same := 0
	const groups = 60
	for range groups {
		points := make([]Point, 20)
		for i := range points {
			points[i] = drawT(rng, 5)
		}
		g := mustGroup(t, points)
		quick, exact := mustMCD(t, g, MCDOptions{Quick: true}), mustMCD(t, g, MCDOptions{})
		if quick.Exact || quick.SqrtDet < exact.SqrtDet*(1-1e-9) {
			t.Errorf("quick %+v, exact %+v", quick, exact)
		}
		if slices.Equal(quick.Subset, exact.Subset) {
			same++
		}
	}
	if same < groups-3 {
		t.Errorf("%d of %d", same, groups)
	}
}

// The seed decides for many shots, and only there; the same seed, the same
// answer.
func TestMCDSeed(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	points := make([]Point, 2000)
	for i := range points {
		points[i] = Point{X: rng.NormFloat64(), Y: rng.NormFloat64()}
		if i%5 == 0 {
			points[i].X += 12
		}
	}
	g := mustGroup(t, points)
	a, b := mustMCD(t, g, MCDOptions{Seed: 7}), mustMCD(t, g, MCDOptions{Seed: 7})
	if !slices.Equal(a.Subset, b.Subset) || a.Seed != 7 || a.Exact {
		t.Error("the same seed, another answer")
	}
	// A fifth of wild shots, all at one side, does not move it. The consistency
	// factor takes the dropped shots for tails and is too large.
	if math.Abs(a.Centre.X) > .15 || math.Abs(a.Centre.Y) > .15 || math.Abs(a.Cov.XX/a.Consistency-1) > .15 {
		t.Errorf("centre %v, covariance %v, factor %g", a.Centre, a.Cov, a.Consistency)
	}
}

// A search that is given up says so, and what it gives is still a subset no
// worse than where it began.
func TestConeSearchGivenUp(t *testing.T) {
	points, _, _, _ := standardised(referenceGroup(t, "d40").points)
	first := fastMCD(points, 30, 1, resample.NewStream(3, "test", 0))
	got, proven := searchCones(points, first, 5)
	a, _ := sumsOf(points, got)
	b, _ := sumsOf(points, first)
	if proven || len(got) != 30 || a.det() > b.det()*(1+1e-9) {
		t.Errorf("%v, proven %v", got, proven)
	}
	// A grid of 64, where very many subsets are nearly as good as the best.
	var grid []Point
	for i := range 64 {
		grid = append(grid, Point{X: float64(i % 6), Y: float64(i / 6)})
	}
	m := mustMCD(t, mustGroup(t, grid), MCDOptions{Alpha: .5})
	if m.Exact || len(m.Warnings) != 1 || !errors.Is(m.Warnings[0], ErrNotProven) {
		t.Errorf("exact %v, warnings %v", m.Exact, m.Warnings)
	}
}

func TestCutoffRefuses(t *testing.T) {
	m := mustMCD(t, mustGroup(t, p10), MCDOptions{})
	for _, share := range []float64{.94, 1, 97.5, math.NaN(), 0} {
		if _, err := m.Cutoff(share); !errors.Is(err, ErrShare) {
			t.Errorf("share %g: error %v", share, err)
		}
	}
	if _, err := mustMCD(t, mustGroup(t, p10), MCDOptions{Alpha: .5}).Cutoff(.975); !errors.Is(err, ErrNotMeasured) {
		t.Errorf("alpha 0.5: error %v", err)
	}
	if _, err := (MCD{Alpha: .75}).Cutoff(.975); !errors.As(err, new(*TooFewError)) {
		t.Errorf("no fit: error %v", err)
	}
	// Between the sizes of the table and beyond its end the cut-off falls
	// toward that of χ².
	last := math.Inf(1)
	for _, n := range []int{20, 24, 30, 50, 64, 80, 150, 500, 1000, 1e6} {
		d, err := MCD{N: n, Alpha: .75}.Cutoff(.975)
		if err != nil || d > last*1.02 || d < 2.68 {
			t.Errorf("n = %d: %g after %g, %v", n, d, last, err)
		}
		last = d
	}
	near(t, "a million shots", last, math.Sqrt(reweightLimit), .02)
}

// Where some of the shots are on a line the error doesn't say that all are.
func TestErrorOfSomeOnALine(t *testing.T) {
	var points []Point
	for i := range 20 {
		p := Point{X: float64(i), Y: 2 * float64(i)}
		if i >= 16 {
			p.Y += float64(i*i - 200)
		}
		points = append(points, p)
	}
	g := mustGroup(t, points)
	_, err := g.MCD(MCDOptions{})
	if !errors.Is(err, ErrDegenerate) || strings.Contains(err.Error(), "all") {
		t.Errorf("%v", err)
	}
	if _, err := g.TFit(.9); err != nil && strings.Contains(err.Error(), "all") {
		t.Errorf("%v", err)
	}
}
