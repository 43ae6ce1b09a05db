package practice

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// reference is testdata/ref/mixed.json, made by mixed.R beside it.
type reference struct {
	Data map[string]struct {
		Y, Days, Late                 []float64
		Subject, Batch, Plate, Sample []string
	}
	Fits map[string]map[string]referenceFit
}

type referenceFit struct {
	Criterion         float64
	Fixef, SE, DF, SD []float64
	Spread            struct {
		SD    []float64
		Names []string
	}
	Deviations map[string]map[string]float64
	Fitted     []float64
	Profile    struct {
		Names     []string
		Low, High []float64
	}
}

func readReference(t testing.TB) (r reference) {
	t.Helper()
	text, err := os.ReadFile("testdata/ref/mixed.json")
	if err != nil {
		t.Fatal(err)
	}
	// A fit of one coefficient has a number where others have a list.
	var loose any
	if err := json.Unmarshal(text, &loose); err != nil {
		t.Fatal(err)
	}
	text, err = json.Marshal(listed(loose))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// listed turns single numbers into lists of one, where lists are expected.
func listed(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for key, x := range v {
			if _, single := x.(float64); single && (key == "fixef" || key == "se" || key == "df" || key == "sd" || key == "low" || key == "high") {
				x = []any{x}
			}
			if s, single := x.(string); single && key == "names" {
				x = []any{s}
			}
			if key == "df" {
				if _, none := x.(map[string]any); none {
					x = nil
				}
			}
			v[key] = listed(x)
		}
	}
	return v
}

// referenceModels are the models of mixed.R.
func referenceModels(r reference) map[string]Model {
	sleep, uneven, penicillin, pastes := r.Data["sleepstudy"], r.Data["uneven"], r.Data["penicillin"], r.Data["pastes"]
	days := []FixedColumn{{"days", sleep.Days}}
	subject := Term{Name: "Subject", Of: sleep.Subject}
	return map[string]Model{
		"sleepstudy_slope1": {Name: "reaction", Values: sleep.Y, Fixed: days, Random: []Term{subject}},
		"sleepstudy_1":      {Name: "reaction", Values: sleep.Y, Random: []Term{subject}},
		"sleepstudy_both": {Name: "reaction", Values: sleep.Y, Fixed: days, Random: []Term{
			subject, {Name: "Subject.1", Of: sleep.Subject, Times: sleep.Days}}},
		"dyestuff":   {Name: "yield", Values: r.Data["dyestuff"].Y, Random: []Term{{Name: "Batch", Of: r.Data["dyestuff"].Batch}}},
		"dyestuff2":  {Name: "yield", Values: r.Data["dyestuff2"].Y, Random: []Term{{Name: "Batch", Of: r.Data["dyestuff2"].Batch}}},
		"penicillin": {Name: "diameter", Values: penicillin.Y, Random: []Term{{Name: "plate", Of: penicillin.Plate}, {Name: "sample", Of: penicillin.Sample}}},
		"pastes":     {Name: "strength", Values: pastes.Y, Random: []Term{{Name: "sample", Of: pastes.Sample}, {Name: "batch", Of: pastes.Batch}}},
		"season": {Name: "carry", Values: r.Data["season"].Y, Fixed: []FixedColumn{{"late", r.Data["season"].Late}},
			Random: []Term{{Name: "session", Of: r.Data["season"].Subject}}},
		"uneven": {Name: "reaction", Values: uneven.Y, Fixed: []FixedColumn{{"days", uneven.Days}, {"late", uneven.Late}},
			Random: []Term{{Name: "Subject", Of: uneven.Subject}}},
	}
}

// agrees fails unless got is want within a share of want, or of 1 below 1.
func agrees(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*max(1, math.Abs(want))) {
		t.Errorf("%s is %.12g, want %.12g within %g", what, got, want, tolerance)
	}
}

// Source: R 4.2.2, lme4 1.1.31, and pbkrtest 0.5.2 for the df, in
// testdata/ref/mixed.R. Data: sleepstudy, Dyestuff, Dyestuff2, Penicillin and
// Pastes as they come with lme4.
func TestMixedAgainstLme4(t *testing.T) {
	r := readReference(t)
	for name, m := range referenceModels(r) {
		for _, ml := range []bool{false, true} {
			method := "REML"
			if ml {
				method = "ML"
			}
			f, err := FitMixed(m, FitOptions{ML: ml})
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			want := r.Fits[name][method]
			what := name + " " + method + " "
			agrees(t, what+"criterion", f.Criterion, want.Criterion, 1e-9)
			for j, c := range f.Fixed {
				agrees(t, what+c.Name, c.Estimate, want.Fixef[j], 1e-8)
				agrees(t, what+"se of "+c.Name, c.SE, want.SE[j], 1e-5)
				if !ml && want.DF != nil {
					// Here df never go below those of the term with the fewest: 16 for the
					// subjects of uneven, where Satterthwaite's formula gives 15.979.
					agrees(t, what+"df of "+c.Name, c.DF, max(want.DF[j], slices.Min(f.df)), 1e-4)
				}
			}
			spread := map[string]float64{}
			for i, n := range want.Spread.Names {
				spread[n] = want.Spread.SD[i]
			}
			agrees(t, what+"rest", f.SD, spread["Residual"], 1e-5)
			for _, p := range f.Random {
				agrees(t, what+p.Name, p.SD, spread[p.Name], 2e-5)
			}
			for i, v := range f.Fitted {
				agrees(t, what+"fitted", v, want.Fitted[i], 1e-5)
			}
			if dyes := name == "dyestuff2"; dyes != (f.Random[0].SD == 0) {
				t.Errorf("%s: standard deviation %g", what, f.Random[0].SD)
			}
		}
	}
}

// Source: R 4.2.2, lme4 1.1.31: confint(method = "profile") of the standard
// deviations, which profiles the full likelihood and cuts at χ².
func TestSpreadProfilesAgainstLme4(t *testing.T) {
	r := readReference(t)
	for name, m := range referenceModels(r) {
		want := r.Fits[name]["ML"].Profile
		if len(want.Low) == 0 {
			continue
		}
		f, err := FitMixed(m, FitOptions{ML: true})
		if err != nil {
			t.Fatal(err)
		}
		spreads, err := f.spreads(func(float64) float64 { return cutFor(0.95, 1e9) }, 1)
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range spreads {
			agrees(t, name+" low of "+s.Name, s.Interval.Low, want.Low[i], 1e-3)
			agrees(t, name+" high of "+s.Name, s.Interval.High, want.High[i], 1e-3)
		}
	}
}

// Balanced sessions: restricted likelihood gives what the mean squares give, and
// the coefficient of a phase its textbook standard error and df, 16 - 2.
//
// Source: the analysis of variance of the season in testdata/ref/mixed.R, R 4.2.2;
// H. Scheffé, The Analysis of Variance, Wiley 1959, section 7.2, for the algebra.
func TestBalancedSeasonByMeanSquares(t *testing.T) {
	r := readReference(t)
	f, err := FitMixed(referenceModels(r)["season"], FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	want := r.Fits["season_anova"]["REML"]
	agrees(t, "session to session", f.Random[0].SD, want.SD[0], 1e-8)
	agrees(t, "shot to shot", f.SD, want.SD[1], 1e-10)
	agrees(t, "se", f.Fixed[1].SE, want.SE[0], 1e-10)
	agrees(t, "df", f.Fixed[1].DF, 14, 1e-8)
}

// The variances of batches and of samples of dyestuff: the mean squares of the
// table are 11271.5 and 2451.25, so (11271.5-2451.25)/5 = 1764.05.
//
// Source: O. L. Davies, P. L. Goldsmith (eds.), Statistical Methods in Research and
// Production, 4th ed., 1972, section 6.4, for the data, as the documentation of
// lme4 1.1.31 says; the mean squares by R 4.2.2.
func TestDyestuffByMeanSquares(t *testing.T) {
	f, err := FitMixed(referenceModels(readReference(t))["dyestuff"], FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	agrees(t, "batches", f.Random[0].SD*f.Random[0].SD, 1764.05, 1e-7)
	agrees(t, "samples", f.SD*f.SD, 2451.25, 1e-9)
	agrees(t, "mean", f.Fixed[0].Estimate, 1527.5, 1e-12)
	agrees(t, "criterion", f.Criterion, 319.65428, 1e-8)
}

// A slope that goes along with the intercept is one term with the multipliers
// 1 + γ·day beside a slope of its own; γ is searched for here. At the best γ this
// is the model of correlated intercepts and slopes.
//
// Source: R 4.2.2, lme4 1.1.31: Days + (Days | Subject) on sleepstudy; the same
// values stand in D. Bates et al., Journal of Statistical Software 67(1), 2015.
func TestCorrelatedSlopesAgainstLme4(t *testing.T) {
	r := readReference(t)
	sleep := r.Data["sleepstudy"]
	fit := func(g float64) MixedFit {
		times := make([]float64, len(sleep.Days))
		for i, d := range sleep.Days {
			times[i] = 1 + g*d
		}
		f, err := FitMixed(Model{Name: "reaction", Values: sleep.Y, Fixed: []FixedColumn{{"days", sleep.Days}}, Random: []Term{
			{Name: "together", Of: sleep.Subject, Times: times}, {Name: "slope", Of: sleep.Subject, Times: sleep.Days}}}, FitOptions{})
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	low, high := -0.1, 0.2
	for range 60 { // the golden section
		a, b := high-0.618*(high-low), low+0.618*(high-low)
		if fit(a).Criterion < fit(b).Criterion {
			high = b
		} else {
			low = a
		}
	}
	g := (low + high) / 2
	f := fit(g)
	want := r.Fits["sleepstudy_full"]["REML"]
	agrees(t, "criterion", f.Criterion, want.Criterion, 1e-9)
	agrees(t, "criterion as printed", f.Criterion, 1743.6283, 1e-7)
	agrees(t, "intercept", f.Fixed[0].Estimate, want.Fixef[0], 1e-8)
	agrees(t, "se of the slope", f.Fixed[1].SE, want.SE[1], 1e-5)
	intercept, slope := f.Random[0].SD, math.Hypot(g*f.Random[0].SD, f.Random[1].SD)
	agrees(t, "spread of intercepts", intercept, want.SD[0], 1e-4)
	agrees(t, "spread of slopes", slope, want.SD[1], 1e-4)
	agrees(t, "correlation", g*intercept/slope, want.SD[2], 1e-3)
	agrees(t, "rest", f.SD, want.SD[3], 1e-5)
}

// The deviations and their errors against whole matrices: û = λZ'Py, and for the
// error λ - λ²γ + 2γ(1-λγ)²·var λ̂ with everything from P = V⁻¹ - V⁻¹X(X'V⁻¹X)⁻¹X'V⁻¹.
func TestDeviationsByWholeMatrices(t *testing.T) {
	models := referenceModels(readReference(t))
	for _, name := range []string{"dyestuff", "penicillin", "uneven", "sleepstudy_both"} {
		m := models[name]
		f, err := FitMixed(m, FitOptions{})
		if err != nil {
			t.Fatal(err)
		}
		n, k := len(m.Values), len(m.Random)
		zz := make([]*mat.Dense, k) // ZZ'
		v := mat.NewDense(n, n, nil)
		for i := range n {
			v.Set(i, i, 1)
		}
		lambda := make([]float64, k)
		times := func(t Term, i int) float64 {
			if t.Times == nil {
				return 1
			}
			return t.Times[i]
		}
		for j, term := range m.Random {
			lambda[j] = math.Pow(f.Random[j].SD/f.SD, 2)
			zz[j] = mat.NewDense(n, n, nil)
			for a := range n {
				for b := range n {
					if term.Of[a] == term.Of[b] {
						zz[j].Set(a, b, times(term, a)*times(term, b))
					}
				}
			}
			var part mat.Dense
			part.Scale(lambda[j], zz[j])
			v.Add(v, &part)
		}
		x := mat.NewDense(n, 1+len(m.Fixed), nil)
		for i := range n {
			x.Set(i, 0, 1)
			for j, c := range m.Fixed {
				x.Set(i, j+1, c.Values[i])
			}
		}
		var vi, vx, xvx, xvxi, drop, p mat.Dense
		if err := vi.Inverse(v); err != nil {
			t.Fatal(err)
		}
		vx.Mul(&vi, x)
		xvx.Mul(x.T(), &vx)
		if err := xvxi.Inverse(&xvx); err != nil {
			t.Fatal(err)
		}
		drop.Product(&vx, &xvxi, vx.T())
		p.Sub(&vi, &drop)
		info := mat.NewDense(k+1, k+1, nil)
		pv := make([]mat.Dense, k)
		for j := range k {
			pv[j].Mul(&p, zz[j])
		}
		for a := range k {
			for b := range k {
				var ab mat.Dense
				ab.Mul(&pv[a], &pv[b])
				info.Set(a, b, mat.Trace(&ab)/2)
			}
			info.Set(a, k, mat.Trace(&pv[a])/2)
			info.Set(k, a, mat.Trace(&pv[a])/2)
		}
		info.Set(k, k, float64(n-1-len(m.Fixed))/2)
		var joint mat.Dense
		if err := joint.Inverse(info); err != nil {
			t.Fatal(err)
		}
		var py mat.VecDense
		py.MulVec(&p, mat.NewVecDense(n, slices.Clone(m.Values)))
		for j, term := range m.Random {
			for _, d := range f.Random[j].Levels {
				z := mat.NewVecDense(n, nil)
				for i := range n {
					if term.Of[i] == d.Of {
						z.SetVec(i, times(term, i))
					}
				}
				gamma := mat.Inner(z, &p, z)
				left := 1 - lambda[j]*gamma
				mse := lambda[j]*left + 2*gamma*left*left*joint.At(j, j)
				agrees(t, name+" deviation of "+d.Of, d.Estimate, lambda[j]*mat.Dot(z, &py), 1e-7)
				agrees(t, name+" error of "+d.Of, d.SE, f.SD*math.Sqrt(mse), 1e-7)
			}
		}
	}
}

// Source: χ² with 1 df at 95 %, 3.841459; ψ(½) = -γ - 2·ln 2 = -1.963510 and
// ψ(1) = -γ = -0.577216: 1·(ln ½ + 1.963510) = 1.270363, 2·(0 + 0.577216) = 1.154431.
func TestCutForFewSessions(t *testing.T) {
	agrees(t, "1 df", cutFor(.95, 1), 3.841459*1.270363, 1e-6)
	agrees(t, "2 df", cutFor(.95, 2), 3.841459*1.154431, 1e-6)
	agrees(t, "many df", cutFor(.95, 1e6), 3.841459, 1e-6)
}
