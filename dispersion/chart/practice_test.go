package chart

import (
	"bytes"
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/practice"
)

func demoRunChart(t testing.TB) RunChartInput {
	t.Helper()
	l, err := datasets.DemoLesson()
	if err != nil {
		t.Fatal(err)
	}
	c, err := practice.RunChartOf(l, "7 iron", "carry")
	if err != nil {
		t.Fatal(err)
	}
	clean := c.Clean()
	trend, err := practice.ColdStart(context.Background(), "carry", "yd", clean.At, clean.Values, compare.Options{Resamples: 19})
	if err != nil {
		t.Fatal(err)
	}
	return RunChartInput{Title: "The carry moved with a stage and not ball by ball", Chart: c, Trend: &trend}
}

// demoControl is made once: its limit takes a while.
var demoControl = sync.OnceValues(func() (practice.ControlChart, error) {
	r := rand.New(rand.NewPCG(5, 5))
	pattern, _ := invented(r, 20, dispersion.Point{X: 3, Y: 148}, dispersion.Point{X: 6, Y: 7})
	watched, _ := invented(r, 12, dispersion.Point{X: 3, Y: 148}, dispersion.Point{X: 6, Y: 7})
	later, _ := invented(r, 6, dispersion.Point{X: -20, Y: 128}, dispersion.Point{X: 6, Y: 7})
	g, err := dispersion.NewGroup(pattern)
	if err != nil {
		return practice.ControlChart{}, err
	}
	return practice.NewControlChart(g, append(watched, append(later, dispersion.Point{X: 31, Y: 150})...), 0)
})

func demoControlChart(t testing.TB) ControlChartInput {
	t.Helper()
	c, err := demoControl()
	if err != nil {
		t.Fatal(err)
	}
	c.Pattern, c.Watched = slices.Clone(c.Pattern), slices.Clone(c.Watched)
	return ControlChartInput{Unit: "yd", Chart: c}
}

func demoSeason(t testing.TB, column, unit string) SeasonInput {
	t.Helper()
	s, err := practice.ReadSeason(bytes.NewReader(datasets.DemoSeasonFile()), practice.SeasonOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return SeasonInput{Season: s, Club: "7 iron", Column: column, Unit: unit}
}

// offLine returns how far places are off the line through those of the smallest
// and of the largest value.
func offLine(values, places []float64) (worst float64) {
	low, high := 0, 0
	for i, v := range values {
		if v < values[low] {
			low = i
		}
		if v > values[high] {
			high = i
		}
	}
	for i, v := range values {
		want := places[low] + (places[high]-places[low])*(v-values[low])/(values[high]-values[low])
		worst = max(worst, math.Abs(places[i]-want))
	}
	return worst
}

// Every ball stands at its number and value by one scale, in the order hit.
func TestRunChartStandsAtItsNumbers(t *testing.T) {
	in := demoRunChart(t)
	f := must[Figure](t)(RunChart(in))
	p := read(t, f)
	checkTexts(t, f, p)
	for _, want := range []string{"as she came", "feet together", "slow takeaway", "room for the arms", "old swing again", "carry, yd", "ball, in the order hit"} {
		if !p.has(want) {
			t.Errorf("%q is not written", want)
		}
	}
	// The hair through all balls is the one path with as many corners.
	var values, balls []float64
	for _, point := range in.Chart.Points {
		values, balls = append(values, point.Value), append(balls, float64(point.Ball))
	}
	found := false
	for _, path := range p.paths {
		if x, y := path.corners(); len(x) == len(values) {
			found = true
			if worst := offLine(balls, x); worst > 0.1 {
				t.Errorf("balls are up to %.2f points off across", worst)
			}
			if worst := offLine(values, y); worst > 0.1 {
				t.Errorf("balls are up to %.2f points off upwards", worst)
			}
		}
	}
	if !found {
		t.Error("no line joins the balls")
	}
	if !strings.Contains(f.Alt(), "47 balls in the order hit, 3 mishits") || !strings.Contains(f.Alt(), "Balls 1 to 10, as she came: median") {
		t.Errorf("alt text: %s", f.Alt())
	}
}

// The dashed ring is where T² is at the limit, and the stems below are as long as
// T².
func TestControlChartStandsAtItsNumbers(t *testing.T) {
	in := demoControlChart(t)
	f := must[Figure](t)(ControlChart(in))
	p := read(t, f)
	checkTexts(t, f, p)
	ring := limitRing(in.Chart)
	c := in.Chart.Cov
	for _, q := range ring.Outline(24) {
		x, y := q.X-ring.Centre.X, q.Y-ring.Centre.Y
		if t2 := (c.YY*x*x - 2*c.XY*x*y + c.XX*y*y) / c.Det(); math.Abs(t2-in.Chart.LimitII) > 1e-9*t2 {
			t.Errorf("T² on the ring is %g, limit %g", t2, in.Chart.LimitII)
		}
	}
	if !p.has("pattern") || !p.has("watched") || !p.has("how far out, T²") {
		t.Error("a name is missing")
	}
	signals := in.Chart.Signals()
	if len(signals) < 3 || !p.has(signalName(signals[0], in.Chart.Watched[signals[0]])) {
		t.Errorf("signals %v are not named", signals)
	}
	var stems []float64
	for _, path := range p.paths {
		if x, y := path.corners(); len(x) == 2 && x[0] == x[1] && (path.style["stroke"] == hex(StageLook(0)) || path.style["stroke"] == hex(StageLook(1))) {
			stems = append(stems, math.Abs(y[1]-y[0]))
		}
	}
	shots := append(append([]practice.WatchedShot(nil), in.Chart.Pattern...), in.Chart.Watched...)
	if len(stems) != len(shots) {
		t.Fatalf("%d stems of %d shots", len(stems), len(shots))
	}
	var heights []float64
	for _, s := range shots {
		heights = append(heights, min(s.T2, highestSignal*in.Chart.LimitII))
	}
	if worst := offLine(heights, stems); worst > 0.1 {
		t.Errorf("stems are up to %.2f points off", worst)
	}
	if !strings.Contains(f.Alt(), "20 shots make the pattern") || !strings.Contains(f.Alt(), "shorter") {
		t.Errorf("alt text: %s", f.Alt())
	}
}

func TestSeasonFigure(t *testing.T) {
	for column, unit := range map[string]string{"carry": "yd", "start_line_deg": "deg"} {
		in := demoSeason(t, column, unit)
		f := must[Figure](t)(Season(in))
		p := read(t, f)
		checkTexts(t, f, p)
		for _, want := range []string{"performance", "first balls", "baseline", "days since the first session, 2026-04-04"} {
			if !p.has(want) {
				t.Errorf("%s: %q is not written", column, want)
			}
		}
		// Twelve bars upright in the colour of the first balls; eleven grey squares.
		bars := 0
		for _, path := range p.paths {
			if x, y := path.corners(); path.style["stroke"] == hex(StageLook(0)) && len(x) == 2 && x[0] == x[1] && y[0] != y[1] {
				bars++
			}
		}
		if squares := p.count("stroke", hex(Look{Colour: performanceGrey})) - 1; bars != 12 || squares != 11 {
			t.Errorf("%s: %d bars, %d squares", column, bars, squares)
		}
		if !strings.Contains(f.Alt(), "Day 69, first balls (retention") || !strings.Contains(f.Alt(), "performance at the end") {
			t.Errorf("alt text: %s", f.Alt())
		}
	}
}

func TestPracticeFiguresThatCannotBe(t *testing.T) {
	run := func(change func(*RunChartInput)) error {
		in := demoRunChart(t)
		change(&in)
		_, err := RunChart(in)
		return err
	}
	control := func(change func(*ControlChartInput)) error {
		in := demoControlChart(t)
		change(&in)
		_, err := ControlChart(in)
		return err
	}
	season := func(change func(*SeasonInput)) error {
		in := demoSeason(t, "carry", "yd")
		change(&in)
		_, err := Season(in)
		return err
	}
	for _, c := range []struct {
		name  string
		err   error
		where string // of an *InputError; "" for ErrEmpty
	}{
		{"no balls", run(func(in *RunChartInput) { in.Chart.Points = nil }), ""},
		{"many balls", run(func(in *RunChartInput) { in.Chart.Points = make([]practice.RunPoint, 401) }), "401 balls"},
		{"NaN", run(func(in *RunChartInput) { in.Chart.Points[2].Value = math.NaN() }), "ball 3"},
		{"stretches", run(func(in *RunChartInput) { in.Chart.Stretches[1].From++ }), "stretch 2"},
		{"half the stretches", run(func(in *RunChartInput) { in.Chart.Stretches = in.Chart.Stretches[:2] }), "the stretches"},
		{"median", run(func(in *RunChartInput) { in.Chart.Stretches[0].Median = math.Inf(1) }), "stretch 1"},
		{"trend", run(func(in *RunChartInput) { in.Trend.Fitted = in.Trend.Fitted[1:] }), "the trend"},
		{"trend of NaN", run(func(in *RunChartInput) { in.Trend.Fitted[0] = math.NaN() }), "the trend"},
		{"no pattern", control(func(in *ControlChartInput) { in.Chart.Pattern = nil }), ""},
		{"many shots", control(func(in *ControlChartInput) { in.Chart.Watched = make([]practice.WatchedShot, 400) }), "420 shots"},
		{"T² of NaN", control(func(in *ControlChartInput) { in.Chart.Watched[0].T2 = math.NaN() }), "watched, shot 1"},
		{"infinite", control(func(in *ControlChartInput) { in.Chart.Pattern[1].Point.X = math.Inf(1) }), "pattern, shot 2"},
		{"flat", control(func(in *ControlChartInput) { in.Chart.Cov = dispersion.Cov{} }), "the pattern"},
		{"no limit", control(func(in *ControlChartInput) { in.Chart.LimitII = 0 }), "the pattern"},
		{"no season", season(func(in *SeasonInput) { in.Season = nil }), ""},
		{"no such club", season(func(in *SeasonInput) { in.Club = "9 iron" }), ""},
		{"no such column", season(func(in *SeasonInput) { in.Column = "spin_rpm" }), ""},
		{"many sessions", season(func(in *SeasonInput) { in.Season.Sessions = make([]practice.Session, 101) }), "101 sessions"},
		{"too large", season(func(in *SeasonInput) { in.Season.Sessions[0].Stages[0].Shots[0].Carry = 1e10 }), `session "2026-04-04"`},
	} {
		var input *InputError
		switch {
		case c.where == "" && !errors.Is(c.err, ErrEmpty):
			t.Errorf("%s: %v, want ErrEmpty", c.name, c.err)
		case c.where != "" && (!errors.As(c.err, &input) || input.Where != c.where || input.Problem == ""):
			t.Errorf("%s: %v, want an *InputError for %q", c.name, c.err, c.where)
		}
	}
}
