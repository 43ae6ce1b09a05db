package practice

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
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
		"uneven": {Name: "reaction", Values: uneven.Y, Fixed: []FixedColumn{{"days", uneven.Days}, {"late", uneven.Late}},
			Random: []Term{{Name: "Subject", Of: uneven.Subject}}},
	}
}

// close fails unless got is want within a share of want, or of 1 below 1.
func close(t testing.TB, what string, got, want, tolerance float64) {
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
			close(t, what+"criterion", f.Criterion, want.Criterion, 1e-9)
			for j, c := range f.Fixed {
				close(t, what+c.Name, c.Estimate, want.Fixef[j], 1e-8)
				close(t, what+"se of "+c.Name, c.SE, want.SE[j], 1e-5)
				if !ml && want.DF != nil {
					close(t, what+"df of "+c.Name, c.DF, want.DF[j], 1e-4)
				}
			}
			spread := map[string]float64{}
			for i, n := range want.Spread.Names {
				spread[n] = want.Spread.SD[i]
			}
			close(t, what+"rest", f.SD, spread["Residual"], 1e-5)
			for _, p := range f.Random {
				close(t, what+p.Name, p.SD, spread[p.Name], 2e-5)
			}
			for i, v := range f.Fitted {
				close(t, what+"fitted", v, want.Fitted[i], 1e-5)
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
		spreads, err := f.spreads(func(float64) float64 { return cutFor(0.95, 1e9) })
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range spreads {
			close(t, name+" low of "+s.Name, s.Interval.Low, want.Low[i], 1e-3)
			close(t, name+" high of "+s.Name, s.Interval.High, want.High[i], 1e-3)
		}
	}
}

var _ = errors.Is
var _ = dispersion.ErrLevel
