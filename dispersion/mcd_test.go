package dispersion

import (
	"slices"
	"testing"
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
			nearRel(t, what+"det", m.Det, want.Exact.Det, 1e-8)
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
