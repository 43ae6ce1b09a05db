package compare

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// twoGolden returns the values of testdata/two.csv by case and quantity, made by
// ref/two.R under R 4.2.2 with energy 1.7-11.
func twoGolden(t testing.TB) map[string]map[string]float64 {
	t.Helper()
	cases := map[string]map[string]float64{}
	for _, row := range readTable(t, "testdata/two.csv") {
		if cases[row[0]] == nil {
			cases[row[0]] = map[string]float64{}
		}
		cases[row[0]][row[1]] = number(t, row[2])
	}
	return cases
}

// twoGroups returns the groups of a case such as "p20 q20".
func twoGroups(t testing.TB, name string) (before, after *dispersion.Group) {
	t.Helper()
	words := strings.Fields(name)
	if strings.HasPrefix(name, "mouse") {
		return group(t, sample(t, words[0])), group(t, sample(t, words[1]))
	}
	return reference(t, words[0]), reference(t, words[1])
}

func carries(g *dispersion.Group) []float64 {
	return column(g, func(p dispersion.Point) float64 { return p.Y })
}

func checkShift(t *testing.T, name string, s PlaneShift, want map[string]float64) {
	t.Helper()
	near(t, name+" T²", s.T2, want["T2"], 1e-9)
	near(t, name+" df", s.DF, want["df"], 1e-9)
	near(t, name+" p", s.P, want["shift_p"], 1e-8)
	near(t, name+" major", s.Region.SemiMajor, want["major"], 1e-9)
	near(t, name+" minor", s.Region.SemiMinor, want["minor"], 1e-9)
}

func TestTwoGroupsAgainstR(t *testing.T) {
	shifts, exactEnergies, trims, intervals := 0, 0, 0, 0
	for name, want := range twoGolden(t) {
		if !strings.Contains(name, " ") {
			continue // summaries alone: TestCentreShiftAgainstPublished
		}
		before, after := twoGroups(t, name)
		if _, ok := want["T2"]; ok {
			shifts++
			s, err := CentreShift(ctx, before, after, Options{})
			if err != nil {
				t.Fatal(name, err)
			}
			checkShift(t, name, s, want)
			if s.Region.Centre != s.Shift || s.Region.Kind != dispersion.ShiftRegion || s.N1 != before.N() || s.N2 != after.N() {
				t.Errorf("%s: echoed %+v", name, s)
			}
		}
		d, err := AnyDifference(ctx, before, after, Options{Resamples: 99})
		if err != nil {
			t.Fatal(name, err)
		}
		near(t, name+" energy", d.Statistic, want["energy"], 1e-9)
		if count, ok := want["energy_at_least"]; ok {
			exactEnergies++
			if !d.Exact || float64(d.AtLeast) != count {
				t.Errorf("%s: %d splits with as much energy, want %g", name, d.AtLeast, count)
			}
		}
		h, err := HodgesLehmann(ctx, "gain", "yd", carries(before), carries(after), Options{})
		if err != nil {
			t.Fatal(name, err)
		}
		if math.Abs(h.Estimate-want["hl_estimate"]) > 1e-12*100 { // 0 or rounding of carries near 150
			t.Errorf("%s: shift %g, want %g", name, h.Estimate, want["hl_estimate"])
		}
		if p, ok := want["hl_p"]; ok {
			near(t, name+" rank-sum p", h.P, p, 1e-12)
		}
		if low, ok := want["hl_low"]; ok {
			intervals++
			near(t, name+" low", h.Interval.Low, low, 1e-12)
			near(t, name+" high", h.Interval.High, want["hl_high"], 1e-12)
		}
		if estimate, ok := want["trim_estimate"]; ok {
			trims++
			e, err := TrimmedGain(ctx, "gain", "yd", carries(before), carries(after), Options{})
			if err != nil {
				t.Fatal(name, err)
			}
			near(t, name+" trimmed", e.Estimate, estimate, 1e-9)
			near(t, name+" trimmed low", e.Interval.Low, want["trim_low"], 1e-9)
			near(t, name+" trimmed high", e.Interval.High, want["trim_high"], 1e-9)
			near(t, name+" trimmed df", e.DF, want["trim_df"], 1e-9)
			near(t, name+" trimmed p", e.P, want["trim_p"], 1e-8)
		}
	}
	if shifts != 7 || exactEnergies != 4 || trims != 4 || intervals != 1 {
		t.Errorf("%d shifts, %d exact energies, %d trimmed means, %d intervals checked", shifts, exactEnergies, trims, intervals)
	}
}

// Published summaries; ref/two.R names the sources and makes the same from the
// formulae. R. A. Johnson, D. W. Wichern print half-axes 1.15 and .65 for the soap
// (their pooled region is this one, the groups being equally large) and T² = 15.66
// for the electricity.
func TestCentreShiftAgainstPublished(t *testing.T) {
	moments := func(n int64, x, y, sxx, sxy, syy float64) dispersion.Moments {
		d := float64(n - 1)
		return dispersion.Moments{N: n, Mean: dispersion.Point{X: x, Y: y}, SXX: sxx * d, SXY: sxy * d, SYY: syy * d}
	}
	golden := twoGolden(t)
	for name, sides := range map[string][2]dispersion.Moments{
		"soap":        {moments(50, 8.3, 4.1, 2, 1, 5), moments(50, 10.2, 3.9, 2, 1, 5)},
		"electricity": {moments(45, 204.4, 556.6, 13825.3, 23823.4, 73107.4), moments(55, 130, 355, 8632, 19616.7, 55964.5)},
		"yao":         {moments(16, 9.82, 15.06, 120, -16.3, 17.8), moments(11, 13.05, 22.57, 81.8, 32.1, 53.8)},
	} {
		s, err := centreShift(sides[0], sides[1], 0.95)
		if err != nil {
			t.Fatal(name, err)
		}
		checkShift(t, name, s, golden[name])
	}
	near(t, "soap, printed T²", golden["soap"]["T2"], 52.4722222, 1e-8)
	near(t, "soap, printed major half-axis", golden["soap"]["major"], 1.15, 1e-2)
	near(t, "electricity, printed T²", golden["electricity"]["T2"], 15.66, 1e-3)
}

// T² and ν must not care how the plane lies; the region must move with it.
func TestCentreShiftInvariance(t *testing.T) {
	before, after := reference(t, "p20"), reference(t, "d40")
	plain, err := CentreShift(ctx, before, after, Options{})
	if err != nil {
		t.Fatal(err)
	}
	sin, cos := math.Sincos(0.7)
	for what, f := range map[string]func(p dispersion.Point) dispersion.Point{
		"shifted": func(p dispersion.Point) dispersion.Point { return dispersion.Point{X: p.X + 30, Y: p.Y - 900} },
		"turned": func(p dispersion.Point) dispersion.Point {
			return dispersion.Point{X: cos*p.X - sin*p.Y, Y: sin*p.X + cos*p.Y}
		},
		"stretched": func(p dispersion.Point) dispersion.Point { return dispersion.Point{X: 9 * p.X, Y: p.Y + p.X} },
	} {
		s, err := CentreShift(ctx, moved(t, before, f), moved(t, after, f), Options{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, what+" T²", s.T2, plain.T2, 1e-9)
		near(t, what+" df", s.DF, plain.DF, 1e-9)
		zero := f(dispersion.Point{})
		image := f(plain.Shift)
		near(t, what+" side", s.Shift.X, image.X-zero.X, 1e-9)
		near(t, what+" carry", s.Shift.Y, image.Y-zero.Y, 1e-9)
	}
	swapped, err := CentreShift(ctx, after, before, Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "swapped T²", swapped.T2, plain.T2, 1e-12)
	near(t, "swapped side", swapped.Shift.X, -plain.Shift.X, 0)
	// The edge of the region is where p is 5 %: there the shift seen less the edge has p = 0.05.
	edge := plain.Region.Outline(3)[1]
	back := func(p dispersion.Point) dispersion.Point { return dispersion.Point{X: p.X - edge.X, Y: p.Y - edge.Y} }
	on, err := CentreShift(ctx, before, moved(t, after, back), Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "p on the edge", on.P, 0.05, 1e-9)
}

func TestCentreShiftErrorsAndWarnings(t *testing.T) {
	a, b := sample(t, "setosa"), sample(t, "versicolor")
	// With equal n and spreads ν = 2n-2; twice the width of -2·ln(.05) = 5.99 is
	// 4·5.99 = 23.97 = ν[20^(2/(ν-1))-1]: 31.9 at ν = 4, 17.8 at ν = 6, so 4 of each.
	three, err := CentreShift(ctx, group(t, a[:3]), group(t, b[:3]), Options{})
	var few *FewShotsWarning
	if err != nil || len(three.Warnings) != 1 || !errors.As(three.Warnings[0], &few) || few.Need != 4 {
		t.Errorf("3 against 3: %v, %v", three.Warnings, err)
	}
	if s, err := CentreShift(ctx, group(t, a[:8]), group(t, b[:8]), Options{}); err != nil || len(s.Warnings) != 0 {
		t.Errorf("8 against 8: %v, %v", s.Warnings, err)
	}
	var tooFew *dispersion.TooFewError
	if _, err := CentreShift(ctx, group(t, a[:2]), group(t, b), Options{}); !errors.As(err, &tooFew) || tooFew.Need != 3 {
		t.Errorf("2 against 50: %v", err)
	}
	line := []dispersion.Point{{X: 1, Y: 101}, {X: 2, Y: 102}, {X: 4, Y: 104}}
	parallel := []dispersion.Point{{X: 1, Y: 111}, {X: 2, Y: 112}, {X: 9, Y: 119}}
	if _, err := CentreShift(ctx, group(t, line), group(t, parallel), Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("parallel lines: %v", err)
	}
	if _, err := CentreShift(ctx, group(t, line), group(t, b), Options{}); err != nil {
		t.Errorf("one line against a plane: %v", err)
	}
	raw, err := three.MarshalJSON()
	if err != nil || !strings.Contains(string(raw), `"region of the shift"`) || !strings.Contains(string(raw), `"side":`) {
		t.Errorf("JSON %s, %v", raw, err)
	}
}
