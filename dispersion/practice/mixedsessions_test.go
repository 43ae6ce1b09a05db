package practice

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// season draws sessions of one pupil: half of them with the old swing, half with the
// new one, which gains; counts are the shots of the sessions in turn.
func season(r *rand.Rand, sessions int, gain, between, within float64, counts ...int) []Measured {
	var values []Measured
	for s := range sessions {
		stage, mean := "old", 150.0
		if s >= sessions/2 {
			stage, mean = "new", 150+gain
		}
		mean += between * r.NormFloat64()
		for range counts[s%len(counts)] {
			values = append(values, Measured{Session: string(rune('A' + s)), Stage: stage, Value: mean + within*r.NormFloat64()})
		}
	}
	return values
}

// Other units and another origin change nothing but the numbers' own.
func TestMixedInvariance(t *testing.T) {
	r := rand.New(resample.NewStream(3, "mixed invariance", 0))
	values := season(r, 10, 5, 3, 6, 8, 11, 6)
	fit := func(values []Measured) MixedFit {
		f, err := FitMixed(SessionModel("carry", "yd", values), FitOptions{})
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	f := fit(values)
	moved := slices.Clone(values)
	for i := range moved {
		moved[i].Value = 1e6 + 0.9144*moved[i].Value
	}
	g := fit(moved)
	agrees(t, "gain in metres", g.Fixed[1].Estimate, 0.9144*f.Fixed[1].Estimate, 1e-8)
	agrees(t, "its df", g.Fixed[1].DF, f.Fixed[1].DF, 1e-6)
	agrees(t, "sessions in metres", g.Random[0].SD, 0.9144*f.Random[0].SD, 1e-6)
	reversed := slices.Clone(values)
	slices.Reverse(reversed)
	h := fit(reversed)
	agrees(t, "gain the other way round", h.Fixed[1].Estimate, -f.Fixed[1].Estimate, 1e-8)
	agrees(t, "old is the contrast now", h.Fixed[0].Estimate+h.Fixed[1].Estimate, f.Fixed[0].Estimate, 1e-9)
	back, err := h.Contrast("old", []float64{1, 1})
	if err != nil {
		t.Fatal(err)
	}
	agrees(t, "contrast", back.Estimate, f.Fixed[0].Estimate, 1e-9)
	agrees(t, "se of the contrast", back.SE, f.Fixed[0].SE, 1e-6)
	agrees(t, "df of the contrast", back.DF, f.Fixed[0].DF, 1e-6)
	spreads, err := f.SpreadIntervals()
	if err != nil {
		t.Fatal(err)
	}
	inMetres, err := g.SpreadIntervals()
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range spreads {
		agrees(t, "low of "+s.Name, inMetres[i].Interval.Low, 0.9144*s.Interval.Low, 1e-4)
		agrees(t, "high of "+s.Name, inMetres[i].Interval.High, 0.9144*s.Interval.High, 1e-4)
	}
}

// With pupils, sessions of the same name belong to their own pupil.
func TestSessionModelNestsSessions(t *testing.T) {
	m := SessionModel("carry", "yd", []Measured{{"a", "1", "old", 1}, {"b", "1", "new", 2}, {"a", "2", "check", 3}})
	if len(m.Random) != 2 || m.Random[0].Of[0] == m.Random[0].Of[1] || m.Random[1].Of[0] != m.Random[1].Of[2] {
		t.Errorf("%+v", m.Random)
	}
	if len(m.Fixed) != 2 || m.Fixed[0].Name != "new" || !slices.Equal(m.Fixed[1].Values, []float64{0, 0, 1}) {
		t.Errorf("%+v", m.Fixed)
	}
	if m := SessionModel("", "", nil); len(m.Values) != 0 {
		t.Errorf("%+v", m)
	}
}

func TestMixedErrors(t *testing.T) {
	r := rand.New(resample.NewStream(4, "mixed errors", 0))
	good := SessionModel("carry", "yd", season(r, 6, 5, 3, 6, 5))
	change := func(f func(m *Model)) error {
		m := Model{Name: good.Name, Values: slices.Clone(good.Values), Fixed: slices.Clone(good.Fixed), Random: slices.Clone(good.Random)}
		f(&m)
		_, err := FitMixed(m, FitOptions{})
		return err
	}
	ones := make([]float64, len(good.Values))
	for i := range ones {
		ones[i] = 1
	}
	each := make([]string, len(ones))
	for i := range each {
		each[i] = string(rune('A' + i))
	}
	bySession := StageColumns(good.Random[0].Of)
	var value *ColumnValueError
	var levels *LevelsError
	var aliased *AliasedError
	var few *dispersion.TooFewError
	for name, c := range map[string]struct {
		err  error
		want func(error) bool
	}{
		"no term":       {change(func(m *Model) { m.Random = nil }), func(e error) bool { return errors.Is(e, ErrColumns) }},
		"short column":  {change(func(m *Model) { m.Fixed[0].Values = ones[:3] }), func(e error) bool { return errors.Is(e, ErrColumns) }},
		"short term":    {change(func(m *Model) { m.Random[0].Of = each[:3] }), func(e error) bool { return errors.Is(e, ErrColumns) }},
		"NaN":           {change(func(m *Model) { m.Values[7] = math.NaN() }), func(e error) bool { return errors.As(e, &value) && value.Index == 7 }},
		"infinite":      {change(func(m *Model) { m.Values[2] = math.Inf(1) }), func(e error) bool { return errors.As(e, &value) && value.Index == 2 }},
		"too large":     {change(func(m *Model) { m.Values[2] = 1e200 }), func(e error) bool { return errors.As(e, &value) }},
		"one session":   {change(func(m *Model) { m.Random[0].Of = make([]string, len(ones)) }), func(e error) bool { return errors.As(e, &levels) && levels.Have == 1 }},
		"constant":      {change(func(m *Model) { m.Fixed = []FixedColumn{{"always", ones}} }), func(e error) bool { return errors.As(e, &aliased) && aliased.What == "always" }},
		"twice":         {change(func(m *Model) { m.Fixed = append(m.Fixed, FixedColumn{"again", m.Fixed[0].Values}) }), func(e error) bool { return errors.As(e, &aliased) && aliased.What == "again" }},
		"sessions both": {change(func(m *Model) { m.Fixed = bySession }), func(e error) bool { return errors.As(e, &aliased) && aliased.What == "sessions" }},
		"one shot each": {change(func(m *Model) { m.Random[0].Of = each }), func(e error) bool { return errors.As(e, &aliased) && aliased.What == "sessions" }},
		"no multiplier": {change(func(m *Model) { m.Random[0].Times = make([]float64, len(ones)) }), func(e error) bool { return errors.As(e, &aliased) }},
		"equal values":  {change(func(m *Model) { m.Values = ones }), func(e error) bool { return errors.Is(e, dispersion.ErrDegenerate) }},
		"few": {change(func(m *Model) {
			*m = Model{Values: []float64{1, 2, 4}, Random: []Term{{Name: "sessions", Of: []string{"a", "a", "b"}}}}
		}), func(e error) bool { return errors.As(e, &few) && few.Need == 5 }},
		"nothing left": {change(func(m *Model) { copy(m.Values, m.Fixed[0].Values) }), func(e error) bool { return errors.Is(e, dispersion.ErrDegenerate) }},
	} {
		if !c.want(c.err) {
			t.Errorf("%s: %v", name, c.err)
		}
	}
	if _, err := FitMixed(good, FitOptions{Level: 95}); !errors.Is(err, dispersion.ErrLevel) {
		t.Errorf("level: %v", err)
	}
	f, err := FitMixed(good, FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.Contrast("", []float64{0, 0}); !errors.Is(err, ErrColumns) {
		t.Errorf("no weights: %v", err)
	}
	if _, err := f.Contrast("", []float64{1}); !errors.Is(err, ErrColumns) {
		t.Errorf("one weight: %v", err)
	}
	if _, err := (MixedFit{}).Contrast("", nil); !errors.Is(err, ErrColumns) {
		t.Errorf("no fit: %v", err)
	}
	if _, err := (MixedFit{}).SpreadIntervals(); !errors.Is(err, ErrColumns) {
		t.Errorf("no fit: %v", err)
	}
	if _, err := f.Repeatability("pupils", 5); !errors.As(err, &levels) {
		t.Errorf("no such term: %v", err)
	}
}

// Sessions of one shot among others are no trouble; sessions without any spread
// between them have a standard deviation of 0, with an interval and a warning.
func TestOneShotSessionsAndNoVariance(t *testing.T) {
	r := rand.New(resample.NewStream(5, "one shot", 0))
	f, err := FitMixed(SessionModel("carry", "yd", season(r, 10, 5, 3, 6, 1, 8)), FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if d := f.Random[0].Levels[0]; d.N != 1 || !(d.SE > 0) {
		t.Errorf("%+v", d)
	}
	var values []Measured
	for s := range 6 {
		for shot := range 4 { // the same four carries every day
			values = append(values, Measured{Session: string(rune('a' + s)), Stage: "full", Value: float64(150 + 3*shot)})
		}
	}
	f, err = FitMixed(SessionModel("carry", "yd", values), FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	var none *NoVarianceWarning
	if f.Random[0].SD != 0 || len(f.Warnings) == 0 || !errors.As(f.Warnings[0], &none) || none.Term != "sessions" {
		t.Errorf("%+v", f)
	}
	spreads, err := f.SpreadIntervals()
	if err != nil || spreads[0].Interval.Low != 0 || !(spreads[0].Interval.High > 0) {
		t.Errorf("%+v, %v", spreads, err)
	}
	for _, d := range f.Random[0].Levels {
		if d.Estimate != 0 || !(d.SE > 0) {
			t.Errorf("%+v", d)
		}
	}
}

// Source for the 9: χ² table, 8 df: 2.18, and 8/2.18 < 4; 7 df: 1.69, 7/1.69 > 4.
func TestFewSessionsWarning(t *testing.T) {
	r := rand.New(resample.NewStream(6, "few sessions", 0))
	values := season(r, 6, 0, 5, 3, 8)
	for i := range values {
		values[i].Stage = "full"
	}
	f, err := FitMixed(SessionModel("carry", "yd", values), FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	var few *FewLevelsWarning
	if len(f.Warnings) != 1 || !errors.As(f.Warnings[0], &few) || few.Have != 6 || few.Need != 9 {
		t.Errorf("%v", f.Warnings)
	}
}

// The log radius is right on average from three shots on: 20,000 groups of a
// normal law with |Σ| = 36·64·(1-.09), so ln of its radius is ln(|Σ|)/4.
func TestLogRadiusOnAverage(t *testing.T) {
	r := rand.New(resample.NewStream(7, "log radius", 0))
	want := math.Log(36*64*.91) / 4
	for _, n := range []int{3, 5, 12} {
		const groups = 20_000
		var sum, squares float64
		points := make([]dispersion.Point, n)
		for range groups {
			for i := range points {
				u, v := r.NormFloat64(), r.NormFloat64()
				points[i] = dispersion.Point{X: 6 * u, Y: 150 + 8*(-.3*u+math.Sqrt(.91)*v)}
			}
			g, err := dispersion.NewGroup(points)
			if err != nil {
				t.Fatal(err)
			}
			l, err := LogRadius(g)
			if err != nil {
				t.Fatal(err)
			}
			sum += l - want
			squares += (l - want) * (l - want)
		}
		if mean := sum / groups; math.Abs(mean) > 4*math.Sqrt(squares)/groups {
			t.Errorf("n = %d: off by %g on average", n, mean)
		}
		// The fourth moment of so skewed a value is under 10 variances squared.
		if v := squares / groups; math.Abs(v/logRadiusVariance(n)-1) > 4*math.Sqrt(9.0/groups) {
			t.Errorf("n = %d: variance %g, want %g", n, v, logRadiusVariance(n))
		}
	}
}

func TestLogRadiusErrors(t *testing.T) {
	var few *dispersion.TooFewError
	two, _ := dispersion.NewGroup([]dispersion.Point{{X: 1, Y: 2}, {X: 2, Y: 3}})
	line, _ := dispersion.NewGroup([]dispersion.Point{{X: 1, Y: 1}, {X: 2, Y: 2}, {X: 3, Y: 3}})
	if _, err := LogRadius(two); !errors.As(err, &few) || few.Need != 3 {
		t.Error(err)
	}
	if _, err := LogRadius(line); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Error(err)
	}
	if _, err := LogRadius(nil); !errors.Is(err, ErrColumns) {
		t.Error(err)
	}
}

func FuzzFitMixed(f *testing.F) {
	f.Add(1.0, 2.0, 4.0, 8.0, 1e200, 1.0)
	f.Add(1e-200, 0.0, 0.0, 3.0, 1.0, 1e150)
	f.Add(5.0, 5.0, 5.0, 5.0, 5.0, 5.0)
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g float64) {
		values := []float64{a, b, c, d, e, g, a + 1, b - 2}
		fit, err := FitMixed(Model{
			Values: values, Fixed: []FixedColumn{{"x", []float64{0, 1, e, 0, 1, 1, 0, 1}}},
			Random: []Term{{Name: "sessions", Of: []string{"1", "1", "2", "2", "3", "3", "3", "1"}}},
		}, FitOptions{})
		if err != nil {
			return
		}
		if _, err := fit.SpreadIntervals(); err == nil && !(fit.SD >= 0 && fit.Fixed[1].SE > 0) {
			t.Errorf("%+v", fit)
		}
	})
}

// BenchmarkRandomIntercept5000 fits 5,000 shots in 251 sessions of 10 to 30 shots
// and three stages within each: one core, nothing in parallel.
func BenchmarkRandomIntercept5000(b *testing.B) {
	r := rand.New(resample.NewStream(8, "random intercept", 0))
	var values []Measured
	for s := range 251 {
		day := 3 * r.NormFloat64()
		for shot := range 10 + s%21 {
			values = append(values, Measured{Session: string(rune(s)), Stage: string(rune('a' + shot%3)), Value: 150 + day + 8*r.NormFloat64()})
		}
	}
	m := SessionModel("carry", "yd", values[:5000])
	b.ReportAllocs()
	for b.Loop() {
		if _, err := FitMixed(m, FitOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}

// What tells how the levels of a term differ: one less than its levels, where
// sessions lie within pupils, teachers cross both and 2,000 shots tell much of a
// teacher; two less, where a fixed column differs from session to session.
func TestLevelFreedom(t *testing.T) {
	r := rand.New(resample.NewStream(11, "level freedom", 0))
	m := Model{Name: "carry", Random: []Term{{Name: "sessions"}, {Name: "pupils"}, {Name: "teachers"}}}
	for pupil := range 40 {
		own := 4 * r.NormFloat64()
		for day := range 6 {
			today, teacher := 2*r.NormFloat64(), (pupil+day)%5
			for range 6 + (pupil+day)%5 {
				m.Values = append(m.Values, 150+own+today+float64(teacher)+8*r.NormFloat64())
				for k, of := range []int{10*pupil + day, pupil, teacher} {
					m.Random[k].Of = append(m.Random[k].Of, strconv.Itoa(of))
				}
			}
		}
	}
	f, err := FitMixed(m, FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(f.df, []float64{239, 39, 4}) {
		t.Errorf("df %v", f.df)
	}
	// Four teachers' worth of the mean's variance: not the pupils' 39.
	if df := f.Fixed[0].DF; !(df >= 4 && df < 39) {
		t.Errorf("df of the mean %g", df)
	}
	f, err = FitMixed(SessionModel("carry", "yd", season(r, 9, 5, 3, 6, 8)), FitOptions{})
	if err != nil || !slices.Equal(f.df, []float64{7}) {
		t.Errorf("df %v, %v", f.df, err)
	}
}

// With the tails of t(5) the interval of the spread within a day still holds in
// about 90 of 100 seasons; cut without an eye to tails it would hold in 80.
func TestSpreadWithHeavyTails(t *testing.T) {
	r := rand.New(resample.NewStream(12, "heavy tails", 0))
	const seasons = 800
	held := 0
	for range seasons {
		values := season(r, 8, 5, 3, 0, 10)
		for i := range values {
			var chi2 float64
			for range 5 {
				z := r.NormFloat64()
				chi2 += z * z
			}
			values[i].Value += 8 * math.Sqrt(3/chi2) * r.NormFloat64() // standard deviation 8
		}
		f, err := FitMixed(SessionModel("carry", "yd", values), FitOptions{})
		if err != nil {
			t.Fatal(err)
		}
		spreads, err := f.SpreadIntervals()
		if err != nil {
			t.Fatal(err)
		}
		if i := spreads[1].Interval; i.Low <= 8 && 8 <= i.High {
			held++
		}
	}
	if share := float64(held) / seasons; math.Abs(share-.905) > 4*math.Sqrt(.905*.095/seasons) {
		t.Errorf("%.3f of the intervals hold", share)
	}
}

// Spread over the weeks: twelve days, ten balls with the old swing and ten with a
// new one that is tighter by 30 %; the groups' log radii are the values. The interval
// of the gain holds ln 0.7 in 95 of 100 seasons.
func TestModelOfLogRadii(t *testing.T) {
	r := rand.New(resample.NewStream(10, "log radii", 0))
	const seasons = 400
	held := 0
	for range seasons {
		var values []Measured
		for day := range 12 {
			wide := 8 * math.Exp(0.1*r.NormFloat64())
			values = append(values,
				Measured{Session: string(rune('a' + day)), Stage: "old", Value: drawnLogRadius(t, r, wide)},
				Measured{Session: string(rune('a' + day)), Stage: "new", Value: drawnLogRadius(t, r, 0.7*wide)})
		}
		f, err := FitMixed(SessionModel("log radius", "", values), FitOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if gain := f.Fixed[1]; gain.Interval.Low <= math.Log(.7) && math.Log(.7) <= gain.Interval.High {
			held++
		}
	}
	if share := float64(held) / seasons; math.Abs(share-.95) > 4*math.Sqrt(.95*.05/seasons) {
		t.Errorf("%.3f of the intervals hold", share)
	}
}

// drawnLogRadius is that of ten round normal shots.
func drawnLogRadius(t testing.TB, r *rand.Rand, sd float64) float64 {
	points := make([]dispersion.Point, 10)
	for i := range points {
		points[i] = dispersion.Point{X: sd * r.NormFloat64(), Y: 150 + sd*r.NormFloat64()}
	}
	g, err := dispersion.NewGroup(points)
	if err != nil {
		t.Fatal(err)
	}
	l, err := LogRadius(g)
	if err != nil {
		t.Fatal(err)
	}
	return l
}
