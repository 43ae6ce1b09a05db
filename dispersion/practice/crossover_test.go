package practice

import (
	"bytes"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

func demo(t testing.TB, seed uint64) (StudyPlan, []Trial, StudyTruth) {
	t.Helper()
	p, trials, truth, err := DemoStudy(seed)
	if err != nil {
		t.Fatal(err)
	}
	return p, trials, truth
}

func simulated(t testing.TB, p StudyPlan, truth StudyTruth, seed uint64) []Trial {
	t.Helper()
	trials, _, err := p.Simulate(truth, demoTeachers, seed)
	if err != nil {
		t.Fatal(err)
	}
	return trials
}

// With every pupil's two turns there, the drills' difference is that of the two
// orders' mean differences between the turns, halved, and its interval that of two
// samples with one spread, t(n-2).
//
// Source: M. Hills, P. Armitage, "The Two-Period Cross-over Clinical Trial", British
// Journal of Clinical Pharmacology 8(1), 1979, pp. 7-20 (from memory).
func TestCrossoverIsHillsAndArmitage(t *testing.T) {
	p, trials, _ := demo(t, 1)
	r, err := Crossover(p, trials, FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	turn := map[string][2]float64{}
	first := map[string]string{}
	for _, x := range trials {
		before, _ := p.Measure.of(x.Before)
		after, _ := p.Measure.of(x.After)
		g := turn[x.Pupil]
		g[x.Period-1] = after - before
		turn[x.Pupil] = g
		if x.Period == 1 {
			first[x.Pupil] = x.Drill
		}
	}
	var mean, squares, n [2]float64
	for pass := range 2 {
		for pupil, g := range turn {
			k := slices.Index(p.Drills[:], first[pupil])
			d := g[1] - g[0]
			if pass == 0 {
				n[k]++
				mean[k] += d
				continue
			}
			squares[k] += (d - mean[k]/n[k]) * (d - mean[k]/n[k])
		}
	}
	if n != [2]float64{24, 24} || !(r.Fit.Random[0].SD > 0) {
		t.Fatalf("orders %v, pupils %g", n, r.Fit.Random[0].SD)
	}
	pooled := (squares[0] + squares[1]) / 46
	agrees(t, "drill", r.Drill.Estimate, (mean[0]/n[0]-mean[1]/n[1])/2, 1e-9)
	agrees(t, "df", r.Drill.DF, 46, 1e-6)
	// t(46) at 97.5 % is 2.012896.
	agrees(t, "half width", r.Drill.Interval.High-r.Drill.Estimate, 2.012896*math.Sqrt(pooled*(1/n[0]+1/n[1]))/2, 1e-6)
	agrees(t, "values", r.Drill.After-r.Drill.Before, r.Drill.Estimate, 1e-9)
}

// The demo study finds what it was drawn from, and says so.
func TestDemoStudy(t *testing.T) {
	p, trials, truth := demo(t, 1)
	r, err := Crossover(p, trials, FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		e     compare.Effect
		truth float64
	}{{r.Drill, truth.Drill}, {r.Schedule, truth.Schedule}, {r.Period, truth.Period}} {
		if !(c.e.Interval.Low <= c.truth && c.truth <= c.e.Interval.High) {
			t.Errorf("%s: %v does not hold %g", c.e.Name, c.e.Interval, c.truth)
		}
	}
	if r.Drill.Interval.Low <= 0 || r.Pupils != 48 || r.Teachers != 4 || r.Trials != 96 || r.Drill.N1 != 48 || r.Drill.N2 != 48 {
		t.Errorf("%+v", r.Drill)
	}
	held := 0
	for i, d := range r.PupilGains {
		if i > 0 && d.Estimate > r.PupilGains[i-1].Estimate {
			t.Error("pupils out of order")
		}
		if v := truth.Pupils[d.Of]; d.Interval.Low <= v && v <= d.Interval.High {
			held++
		}
	}
	if held < 39 || len(r.PupilGains) != 48 { // 48·.95 less 4 SD
		t.Errorf("%d of %d pupils' intervals hold", held, len(r.PupilGains))
	}
	report, err := r.Report()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"48 pupils of 4 teachers, 96 turns", "step and swing against slow swings: ", "pupil 18", "Note: "} {
		if !strings.Contains(report, want) {
			t.Errorf("no %q in\n%s", want, report)
		}
	}
}

// A study of the radius gives ratios, and recovers one: every ball of the second
// drill's tests after it is a fifth nearer to the middle.
func TestCrossoverOfTheRadius(t *testing.T) {
	p, trials, _ := demo(t, 3)
	p.Measure, p.DaySD, p.Smallest = MeasureRadius, 0.05, 0.1
	for i := range trials {
		if trials[i].Drill != p.Drills[1] {
			continue
		}
		for j := range trials[i].After {
			trials[i].After[j].X *= 0.8
			trials[i].After[j].Y = 150 + 0.8*(trials[i].After[j].Y-150)
		}
	}
	r, err := Crossover(p, trials, FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if e := r.Drill; e.Null != 1 || e.Interval.Low > .8 || e.Interval.High < .8 || e.Unit != "" {
		t.Errorf("%+v", e)
	}
	agrees(t, "ratio", r.Drill.After/r.Drill.Before, r.Drill.Estimate, 1e-9)
	report, err := r.Report()
	if err != nil || !strings.Contains(report, "× 0.") {
		t.Errorf("%v\n%s", err, report)
	}
}

// Over many studies the interval holds the drill's gain, the estimate is right on
// average, and it is as wide as the plan says.
func TestCrossoverRecoversTheDrill(t *testing.T) {
	const studies = 300
	p, _, truth := demo(t, 0)
	planned, err := p.HalfWidth(0)
	if err != nil {
		t.Fatal(err)
	}
	var held int
	var sum, squares, width float64
	for seed := range uint64(studies) {
		r, err := Crossover(p, simulated(t, p, truth, seed), FitOptions{})
		if err != nil {
			t.Fatal(err)
		}
		e := r.Drill
		if e.Interval.Low <= truth.Drill && truth.Drill <= e.Interval.High {
			held++
		}
		sum += e.Estimate - truth.Drill
		squares += (e.Estimate - truth.Drill) * (e.Estimate - truth.Drill)
		width += (e.Interval.High - e.Interval.Low) / 2 / studies
	}
	if share := float64(held) / studies; share < .95-4*math.Sqrt(.95*.05/studies) {
		t.Errorf("%.3f of the intervals hold", share)
	}
	if math.Abs(sum/studies) > 4*math.Sqrt(squares)/studies {
		t.Errorf("off by %g on average", sum/studies)
	}
	// The mean of s on 46 df is 0.995·σ, with 0.1·σ/√300 around it.
	if math.Abs(width/planned-.995) > .025 {
		t.Errorf("half width %g, planned %g", width, planned)
	}
}

func TestCrossoverErrors(t *testing.T) {
	p, good, _ := demo(t, 1)
	change := func(f func(trials []Trial)) error {
		trials := slices.Clone(good)
		f(trials)
		_, err := Crossover(p, trials, FitOptions{})
		return err
	}
	var row *RowError
	for column, f := range map[string]func(trials []Trial){
		"pupil":    func(x []Trial) { x[4].Pupil = "" },
		"period":   func(x []Trial) { x[4].Period = 3 },
		"drill":    func(x []Trial) { x[4].Drill = "another" },
		"schedule": func(x []Trial) { x[4].Schedule = "mixed" },
		"before":   func(x []Trial) { x[4].Before = []dispersion.Point{{X: math.NaN()}} },
		"after":    func(x []Trial) { x[4].After = []dispersion.Point{{Y: math.Inf(1)}} },
	} {
		if err := change(f); !errors.As(err, &row) || row.Row != 5 || row.Column != column {
			t.Errorf("%s: %v", column, err)
		}
	}
	if err := change(func(x []Trial) { x[1] = x[0] }); !errors.As(err, &row) || row.Row != 2 || row.Column != "pupil" {
		t.Errorf("a turn twice: %v", err)
	}
	var none *LevelsError
	if err := change(func(x []Trial) {
		for i := range x {
			x[i].Before = nil
		}
	}); !errors.As(err, &none) || none.Have != 0 {
		t.Errorf("no balls: %v", err)
	}
	var levels *LevelsError
	if _, err := Crossover(p, good[:10], FitOptions{}); !errors.As(err, &levels) || levels.Have != 5 {
		t.Errorf("five pupils: %v", err)
	}
	if _, err := Crossover(StudyPlan{}, good, FitOptions{}); !errors.Is(err, ErrStudy) {
		t.Errorf("no plan: %v", err)
	}
	if _, err := Crossover(p, good, FitOptions{Level: 95}); !errors.Is(err, dispersion.ErrLevel) {
		t.Errorf("level: %v", err)
	}
	// One turn only: kept, with a warning.
	r, err := Crossover(p, good[1:], FitOptions{})
	if err != nil || r.Pupils != 48 || len(r.Warnings) == 0 || !errors.As(r.Warnings[0], &row) || row.Row != 1 {
		t.Errorf("one turn: %v, %v", r.Warnings, err)
	}
	if _, err := (CrossoverResult{}).Report(); err == nil {
		t.Error("a report of nothing")
	}
}

// In every study some pupil leaves after the first test: that turn is left out with
// a warning, as the plan says beforehand, and the pool can still be written.
func TestCrossoverLeavesOutHalfTurns(t *testing.T) {
	p, trials, _ := demo(t, 1)
	whole, err := Crossover(p, trials, FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	trials[5].After = nil
	r, err := Crossover(p, trials, FitOptions{})
	if err != nil || r.Trials != whole.Trials-1 || r.Pupils != whole.Pupils {
		t.Fatalf("%d turns of %d pupils, %v", r.Trials, r.Pupils, err)
	}
	told := 0
	var row *RowError
	for _, w := range r.Warnings {
		if errors.As(w, &row) && (strings.Contains(row.Error(), "left out") && row.Row == 6 || strings.Contains(row.Error(), "one turn only")) {
			told++
		}
	}
	if told != 2 {
		t.Errorf("%v", r.Warnings)
	}
	var file bytes.Buffer
	if err := WritePool(&file, p, demoKey, trials); err != nil {
		t.Fatal(err)
	}
	again, err := AnalysePool(&file, p, FitOptions{})
	if err != nil || again.Trials != r.Trials {
		t.Errorf("%d turns, %v", again.Trials, err)
	}
}

// The report of a study of spreads lists the tightest first, in per cent of the
// radius and not of its logarithm.
func TestReportOfRadii(t *testing.T) {
	p, trials, _ := demo(t, 1)
	p.Measure, p.DaySD, p.Smallest = MeasureRadius, 0.05, 0.1
	r, err := Crossover(p, trials, FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	r.PupilGains = []Deviation{{Of: "wide", Estimate: math.Log(2)}, {Of: "tight", Estimate: -math.Log(2)}}
	text, err := r.Report()
	if err != nil {
		t.Fatal(err)
	}
	tight, wide := strings.Index(text, "| tight | -50 %"), strings.Index(text, "| wide | +100 %")
	if tight < 0 || wide < tight {
		t.Error(text)
	}
	sheet, err := p.Preregistration()
	if err != nil || strings.Contains(sheet, "balls of one day differ") || !strings.Contains(sheet, "a factor of about 1.") {
		t.Errorf("%s, %v", sheet, err)
	}
}

// Whatever the table, the coefficients are numbers within their range and in
// their intervals.
func TestShroutFleissOfAnyTable(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	answered := 0
	for range 3000 {
		n, k := 2+r.IntN(4), 2+r.IntN(3)
		table := make([][]float64, n)
		for i := range table {
			for range k {
				table[i] = append(table[i], float64(r.IntN(6)))
			}
		}
		s, err := ShroutFleiss(table, 0.95)
		if err != nil {
			if !errors.Is(err, dispersion.ErrDegenerate) {
				t.Fatalf("%v: %v", table, err)
			}
			continue
		}
		answered++
		for _, c := range []ICC{s.Single1, s.Single2, s.Single3, s.Average1, s.Average2, s.Average3} {
			if !(c.Value <= 1 && c.Interval.Low <= c.Value && c.Value <= c.Interval.High && c.Interval.High <= 1) || math.IsInf(c.Interval.Low, 0) {
				t.Fatalf("%v: %+v", table, c)
			}
		}
	}
	if answered < 2000 {
		t.Errorf("%d tables answered", answered)
	}
}
