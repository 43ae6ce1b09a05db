package practice

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

func demoChart(t testing.TB, column string) RunChart {
	t.Helper()
	l, err := datasets.DemoLesson()
	if err != nil {
		t.Fatal(err)
	}
	c, err := RunChartOf(l, "7 iron", column)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestRunChartKeepsTheOrderHit(t *testing.T) {
	// By hand: b comes back, ball 4 is void, ball 5 has no spin, ball 6 is another club.
	l, err := lesson.Read(strings.NewReader(`stage,intent,club,carry_yd,side_yd,spin_rpm
a,baseline,7i,100,0,5000
a,baseline,7i,104,0,5200
b,full,7i,110,0,5100
b,full,7i,111,0,5150
a,baseline,7i,102,0,
a,baseline,5i,140,0,4000
b,full,7i,112,0,5300
`), lesson.ReadOptions{StagesFile: strings.NewReader("from,to,stage,intent,cue,expect,void,why\n1,2,a,baseline,,,,\n3,4,b,full,,,,\n5,6,a,baseline,,,,\n7,7,b,full,,,,\n4,4,,,,,yes,noise\n")})
	if err != nil {
		t.Fatal(err)
	}
	c, err := RunChartOf(l, "7i", "spin_rpm")
	if err != nil {
		t.Fatal(err)
	}
	if c.Missing != 1 || c.Unit != "rpm" || fmt.Sprint(c.Points) != "[{1 5000 false} {2 5200 false} {3 5100 false} {7 5300 false}]" {
		t.Errorf("%+v", c)
	}
	c, err = RunChartOf(l, "7i", "carry")
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range c.Stretches {
		got = append(got, fmt.Sprintf("%s %d-%d %g", s.Stage.Name, s.From, s.To, s.Median))
	}
	if fmt.Sprint(got) != "[a 0-2 102 b 2-3 110 a 3-4 102 b 4-5 112]" || c.Unit != "yd" {
		t.Errorf("%v %s", got, c.Unit)
	}
	for _, call := range []struct {
		l            *lesson.Lesson
		club, column string
		want         error
	}{{nil, "", "carry", ErrMissing}, {l, "9i", "carry", ErrColumn}, {l, "7i", "loft_deg", ErrColumn}} {
		if _, err := RunChartOf(call.l, call.club, call.column); !errors.Is(err, call.want) {
			t.Errorf("%q %q: %v, want %v", call.club, call.column, err, call.want)
		}
	}
}

// Source: datasets/demo-lesson/truth.json: balls 4, 12 (the drill's second) and
// 36 of those read are drawn as mishits, and the gain belongs to a stage, not to
// a drift.
func TestRunChartOfTheDemoLesson(t *testing.T) {
	c := demoChart(t, "carry")
	mishits := 0
	for _, p := range c.Points {
		if p.Mishit {
			mishits++
		}
	}
	if len(c.Points) != 47 || mishits != 3 || len(c.Stretches) != 5 || len(c.Clean().Values) != 44 {
		t.Errorf("%d points, %d mishits, %d stretches", len(c.Points), mishits, len(c.Stretches))
	}
	d, err := c.DriftOrStages(0.95)
	if err != nil {
		t.Fatal(err)
	}
	if d.LineDoesAsWell() || d.Stages != 4 {
		t.Errorf("%s", d.Line())
	}
}

// When the balls only drift, stages get no credit.
func TestDriftIsNotTheStages(t *testing.T) {
	var rows strings.Builder
	rows.WriteString("stage,intent,carry_yd,side_yd\n")
	for i := range 20 {
		fmt.Fprintf(&rows, "%s,full,%d,0\n", either(i < 10, "old", "new"), 100+i+3*(i%2))
	}
	l, err := lesson.Read(strings.NewReader(rows.String()), lesson.ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	c, err := RunChartOf(l, "", "carry")
	if err != nil {
		t.Fatal(err)
	}
	if d, err := c.DriftOrStages(0); err != nil || !d.LineDoesAsWell() {
		t.Errorf("%v, %v", d, err)
	}
}

// A clean start, or end, is found where it was put.
func TestTrendsOfExactCurves(t *testing.T) {
	ctx := context.Background()
	x := make([]float64, 30)
	for i := range x {
		x[i] = 150 + 0.01*float64(i%2) - 10*math.Exp2(-float64(i)/4)
	}
	f, err := ColdStart(ctx, "carry", "yd", nil, x, compare.Options{Resamples: 199})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(f.Off.Estimate+10) > 0.05 || math.Abs(f.Place-4) > 0.1 || math.Abs(f.Level-150) > 0.05 || f.Off.P != 1.0/200 || len(f.Fitted) != 30 {
		t.Errorf("%+v", f)
	}
	for i := range x {
		x[i] = 150 + 0.01*float64(i%2) - 8*max(0, 1-float64(i)/10)
	}
	w, err := WarmUp(ctx, "carry", "yd", nil, x, compare.Options{Resamples: 19})
	if err != nil || math.Abs(w.Off.Estimate+8) > 0.1 || math.Abs(w.Place-11) > 0.2 {
		t.Errorf("%+v, %v", w, err)
	}
	slices.Reverse(x)
	// Backwards and in minutes: the break is 10 balls before the last, at (29-10)·0.5.
	minutes := make([]float64, 30)
	for i := range minutes {
		minutes[i] = 0.5 * float64(i)
	}
	e, err := Tiring(ctx, "carry", "yd", minutes, x, compare.Options{Resamples: 19})
	if err != nil || math.Abs(e.Off.Estimate+8) > 0.1 || math.Abs(e.Place-9.5) > 0.1 || math.Abs(e.Fitted[29]-e.Off.After) > 1e-9 {
		t.Errorf("%+v, %v", e, err)
	}
}

func TestErrorsWithinASession(t *testing.T) {
	ctx := context.Background()
	var none context.Context
	x := []float64{1, 5, 2, 6, 3, 7, 4, 8, 6, 9}
	flat, bad, huge := slices.Repeat([]float64{3}, 10), append(slices.Clone(x), math.NaN()), append(slices.Clone(x), 1e300)
	done, cancel := context.WithCancel(ctx)
	cancel()
	second := func(_ any, err error) error { return err }
	var few *dispersion.TooFewError
	var value *ValueError
	as := func(err error, target any) bool { return errors.As(err, target) }
	for name, ok := range map[string]bool{
		"serial: few":        as(second(SerialInterval(0, x[:7])), &few),
		"serial: none":       as(second(SerialInterval(0)), &few),
		"serial: level":      errors.Is(second(SerialInterval(95, x)), dispersion.ErrLevel),
		"serial: flat":       errors.Is(second(SerialInterval(0, flat)), dispersion.ErrDegenerate),
		"ratio: few":         as(second(RankVonNeumannRatio(x[:5])), &few),
		"ratio: NaN":         as(second(RankVonNeumannRatio(bad)), &value),
		"ratio: flat":        errors.Is(second(RankVonNeumannRatio(flat)), dispersion.ErrDegenerate),
		"critical: few":      as(second(RankVonNeumannCritical(5, 0.05)), &few),
		"critical: share":    errors.Is(second(RankVonNeumannCritical(8, 0)), ErrShare),
		"critical: tiny":     errors.Is(second(RankVonNeumannCritical(6, 0.001)), ErrShare), // 2 of 720 orders are as low as can be
		"pettitt: context":   errors.Is(second(Pettitt(none, x, compare.Options{})), ErrMissing),
		"pettitt: few":       as(second(Pettitt(ctx, x[:5], compare.Options{})), &few),
		"pettitt: huge":      as(second(Pettitt(ctx, huge, compare.Options{})), &value),
		"pettitt: flat":      errors.Is(second(Pettitt(ctx, flat, compare.Options{})), dispersion.ErrDegenerate),
		"pettitt: too many":  errors.Is(second(Pettitt(ctx, x, compare.Options{Resamples: 1 << 60})), ErrResamples),
		"pettitt: resamples": errors.Is(second(Pettitt(ctx, x, compare.Options{Resamples: -1})), ErrResamples),
		"pettitt: done":      errors.Is(second(Pettitt(done, append(x, x...), compare.Options{})), context.Canceled),
		"trend: context":     errors.Is(second(ColdStart(none, "", "", nil, x, compare.Options{})), ErrMissing),
		"trend: few":         as(second(ColdStart(ctx, "", "", nil, x[:7], compare.Options{})), &few),
		"trend: NaN":         as(second(WarmUp(ctx, "", "", nil, bad, compare.Options{})), &value),
		"trend: flat":        errors.Is(second(Tiring(ctx, "", "", nil, flat, compare.Options{})), dispersion.ErrDegenerate),
		"trend: places":      errors.Is(second(ColdStart(ctx, "", "", x, x, compare.Options{})), ErrPlaces),
		"trend: too few":     errors.Is(second(ColdStart(ctx, "", "", x[:3], x, compare.Options{})), ErrPlaces),
		"trend: level":       errors.Is(second(ColdStart(ctx, "", "", nil, x, compare.Options{Level: -1})), dispersion.ErrLevel),
		"trend: resamples":   errors.Is(second(ColdStart(ctx, "", "", nil, x, compare.Options{Resamples: -1})), ErrResamples),
		"trend: done":        errors.Is(second(ColdStart(done, "", "", nil, x, compare.Options{})), context.Canceled),
		"limit I: few":       as(second(LimitPhaseI(3, 0.05)), &few),
		"limit II: share":    errors.Is(second(LimitPhaseII(10, 1)), ErrShare),
		"run length: few":    as(second(LimitRunLength(9, 100)), &few),
		"run length: short":  errors.Is(second(LimitRunLength(10, 9)), ErrRunLength),
		"run length: long":   errors.Is(second(LimitRunLength(10, 1001)), ErrRunLength),
	} {
		if !ok {
			t.Errorf("%s: not the error documented", name)
		}
	}
	s, err := SerialInterval(0, x)
	var warning *FewShotsWarning
	if err != nil || len(s.Warnings) != 1 || !errors.As(s.Warnings[0], &warning) || warning.Need != 24 {
		t.Errorf("ten balls: %v, %v", s.Warnings, err)
	}
}

// Shift and scale change nothing but places and sizes; order by rank ignores any
// growing scale; the number of cores changes nothing.
func TestInvarianceWithinASession(t *testing.T) {
	ctx := context.Background()
	x := []float64{12, 15, 11, 18, 14, 19, 22, 17, 23, 21, 25, 20, 24, 26, 23, 27, 22, 29, 31, 28, 30}
	y, cubes := make([]float64, len(x)), make([]float64, len(x))
	for i, v := range x {
		y[i], cubes[i] = 1000-3*v, v*v*v
	}
	a, err1 := ColdStart(ctx, "", "", nil, x, compare.Options{Resamples: 99})
	b, err2 := ColdStart(ctx, "", "", nil, y, compare.Options{Resamples: 99})
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	near(t, "off", b.Off.Estimate, -3*a.Off.Estimate, 1e-9)
	near(t, "low", b.Off.Interval.Low, -3*a.Off.Interval.High, 1e-9)
	near(t, "place", b.Place, a.Place, 1e-12)
	near(t, "p", b.Off.P, a.Off.P, 1e-12)
	for name, of := range map[string]func([]float64) (float64, error){
		"rank ratio": func(v []float64) (float64, error) { r, err := RankVonNeumannRatio(v); return r.P, err },
		"pettitt": func(v []float64) (float64, error) {
			r, err := Pettitt(ctx, v, compare.Options{Resamples: 500})
			return r.P, err
		},
	} {
		p, err1 := of(x)
		q, err2 := of(cubes)
		if err1 != nil || err2 != nil || p != q {
			t.Errorf("%s: %g and, of the cubes, %g; %v %v", name, p, q, err1, err2)
		}
	}
	s, err1 := SerialInterval(0, x)
	r, err2 := SerialInterval(0, y)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	near(t, "rho", r.Rho, s.Rho, 1e-12)
}
