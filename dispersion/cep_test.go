package dispersion

import (
	"errors"
	"math"
	"testing"
)

// Source: CEP by mpmath 1.2.1, 30 digits (cep.py).
func TestCEPAgainstHighPrecision(t *testing.T) {
	type row struct {
		Major  float64    `json:"sigma_major"`
		Minor  float64    `json:"sigma_minor"`
		Sigma  [2]float64 // of side and carry, where they are correlated
		Rho    float64
		Mean   [2]float64
		P      float64
		Radius float64
	}
	var ref struct {
		Output struct {
			Centred, Offset []row
			Correlated      []row `json:"correlated_example"`
		}
	}
	readReference(t, "cep_radius", &ref)
	rows := append(ref.Output.Centred, ref.Output.Offset...)
	rows = append(rows, ref.Output.Correlated...)
	if len(rows) != 70 {
		t.Fatalf("%d rows", len(rows))
	}
	for _, r := range rows {
		c := Cov{XX: r.Major * r.Major, YY: r.Minor * r.Minor}
		if r.Rho != 0 {
			c = Cov{XX: r.Sigma[0] * r.Sigma[0], XY: r.Rho * r.Sigma[0] * r.Sigma[1], YY: r.Sigma[1] * r.Sigma[1]}
		}
		got, err := c.CEP(r.P, Point{X: r.Mean[0], Y: r.Mean[1]})
		if err != nil {
			t.Fatal(err)
		}
		nearRel(t, "CEP", got, r.Radius, 1e-10)
	}
}

// Source: H. L. Harter, "Circular Error Probabilities", 1960 (his five digits,
// from memory, for half), here with digits recomputed by quadrature to 1e-11.
func TestCEPHarter(t *testing.T) {
	for ratio, want := range map[float64][3]float64{
		0:   {.67448975, 1.64485363, 1.95996398},
		.1:  {.681985088, 1.64791161, 1.9625296},
		.2:  {.705853867, 1.65731349, 1.9704075},
		.25: {.725434382, 1.66460580, 1.97650506},
		.3:  {.749935122, 1.67382866, 1.98419623},
		.4:  {.807852714, 1.69918306, 2.00513724},
		.5:  {.870417428, 1.73707993, 2.03585872},
		.6:  {.933651386, 1.79152231, 2.08130448},
		.7:  {.996206746, 1.86252969, 2.14598113},
		.75: {1.02709061, 1.90334936, 2.18580192},
		.8:  {1.05769258, 1.9471581, 2.23028729},
		.9:  {1.11806575, 2.04235993, 2.33179798},
		1:   {1.17741002, 2.14596603, 2.44774683},
	} {
		for i, share := range []float64{.5, .9, .95} {
			got, err := Cov{XX: 1, YY: ratio * ratio}.CEP(share, Point{})
			if err != nil {
				t.Fatal(err)
			}
			near(t, "CEP", got, want[i], 1e-7)
			// The same, turned by a quarter and by an eighth.
			for _, c := range []Cov{{XX: ratio * ratio, YY: 1}, {XX: (1 + ratio*ratio) / 2, XY: (1 - ratio*ratio) / 2, YY: (1 + ratio*ratio) / 2}} {
				turned, err := c.CEP(share, Point{})
				if err != nil {
					t.Fatal(err)
				}
				near(t, "CEP, turned", turned, got, 1e-9)
			}
		}
	}
}

// Source: recomputed with R 4.2.2 and SciPy 1.10.1; round groups with the
// quantiles of the noncentral χ² there.
func TestCEPOffset(t *testing.T) {
	for d, want := range map[float64][2]float64{
		0: {1.17741002, 2.44774683}, .5: {1.25158019, 2.59166065}, 1: {1.47547909, 2.93976255},
		1.5: {1.82547153, 3.36846322}, 2: {2.24580226, 3.82625294}, 3: {3.16524579, 4.77722503},
	} {
		for i, share := range []float64{.5, .95} {
			got, err := Cov{XX: 1, YY: 1}.CEP(share, Point{X: .6 * d, Y: -.8 * d})
			if err != nil {
				t.Fatal(err)
			}
			near(t, "CEP", got, want[i], 1e-7)
		}
	}
	for at, want := range map[Point][2]float64{
		{X: .5, Y: 0}: {.942265865, 1.91737659}, {X: 0, Y: .5}: {1.01654011, 1.84584603}, {X: 1, Y: 0}: {1.1822114, 2.34441442},
		{X: 0, Y: 1}: {1.3549951, 2.12393643}, {X: 1, Y: 1}: {1.59631626, 2.59531217},
	} {
		for i, share := range []float64{.5, .9} {
			got, err := Cov{XX: 1, YY: .25}.CEP(share, at)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "CEP", got, want[i], 1e-7)
		}
	}
	for d, want := range map[float64]float64{0: .39346934, .5: .35728577, 1: .2671202, 2: .0818923} {
		near(t, "P(R <= 1)", disc{s1: 1, s2: 1, m1: d}.share(1), want, 5e-9)
	}
}

// Thin, far and tiny: against the line it nearly is, the distance itself, and
// by scaling.
func TestCEPExtremes(t *testing.T) {
	for _, c := range []struct {
		cov    Cov
		offset Point
		share  float64
		want   float64
		tol    float64
	}{
		{Cov{XX: 1, YY: 1e-8}, Point{}, .5, .6744897501960817, 1e-7},
		{Cov{XX: 1, YY: 1e-24}, Point{}, .5, .6744897501960817, 1e-12},
		{Cov{XX: 1, YY: 1e-12}, Point{X: 0, Y: 3}, .5, math.Hypot(3, .6744897501960817), 1e-6},
		{Cov{XX: 1, YY: 1}, Point{X: 1e6, Y: 0}, .5, 1e6, 1e-6},
		{Cov{}, Point{X: 3, Y: 4}, .9, 5, 1e-15},
		{Cov{XX: 1e-18, YY: 1e-18}, Point{}, .5, 1.17741002251547e-9, 1e-12},
		{Cov{XX: 1e200, YY: 1e200}, Point{}, .5, 1.17741002251547e100, 1e-12},
		{Cov{XX: 1, YY: 1}, Point{}, 1e-6, math.Sqrt(-2 * math.Log1p(-1e-6)), 1e-9},
		{Cov{XX: 1, YY: 1}, Point{}, 1 - 1e-6, math.Sqrt(-2 * math.Log(1e-6)), 1e-8},
	} {
		got, err := c.cov.CEP(c.share, c.offset)
		if err != nil {
			t.Fatal(err)
		}
		nearRel(t, "CEP", got, c.want, c.tol)
	}
	if r, err := (Cov{}).CEP(.5, Point{}); err != nil || r != 0 {
		t.Errorf("no spread, no offset: %g, %v", r, err)
	}
	for share, want := range map[float64]error{0: ErrShare, 1: ErrShare, 50: ErrShare, math.NaN(): ErrShare} {
		if _, err := (Cov{XX: 1, YY: 1}).CEP(share, Point{}); !errors.Is(err, want) {
			t.Errorf("share %g: error %v", share, err)
		}
	}
	for _, c := range []Cov{{XX: -1, YY: 1}, {XX: 1, XY: 2, YY: 1}, {XX: math.NaN(), YY: 1}, {XX: math.Inf(1), YY: 1}} {
		if _, err := c.CEP(.5, Point{}); !errors.Is(err, ErrNotCov) {
			t.Errorf("%+v: error %v", c, err)
		}
	}
	if _, err := (Cov{XX: 1, YY: 1}).CEP(.5, Point{X: math.NaN()}); !errors.As(err, new(*PointError)) {
		t.Errorf("offset: error %v", err)
	}
}

// By hand: the CEP of a group is that of its covariance, at its mean.
func TestGroupCEP(t *testing.T) {
	g := mustGroup(t, []Point{{X: 1, Y: 151}, {X: -1, Y: 151}, {X: 1, Y: 149}, {X: -1, Y: 149}})
	got, err := g.CEP(.5, Point{X: 0, Y: 150})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "CEP", got, math.Sqrt(4.0/3)*1.17741002251547, 1e-12) // variances 4/3, none shared
}
