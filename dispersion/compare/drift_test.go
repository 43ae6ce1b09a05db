package compare

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// runs numbers the balls of stages through.
func runs(stages ...[]float64) []Run {
	var out []Run
	ball := 0.0
	for _, values := range stages {
		r := Run{Values: values}
		for range values {
			ball++
			r.At = append(r.At, ball)
		}
		out = append(out, r)
	}
	return out
}

// Source: R 4.2.2, lm and anova on PlantGrowth.
func TestDriftAgainstR(t *testing.T) {
	a, b, c := evidenceData(t, "data ctrl", "x"), evidenceData(t, "data trt1", "x"), evidenceData(t, "data trt2", "x")
	for name, stages := range map[string][]Run{"plants": runs(a, b, c), "uneven": runs(a, b[:7], c[:5])} {
		want := evidence(t, "drift "+name)
		d, err := DriftOrStages("weight", "g", stages, 0)
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+" line", d.LineShare, want["line"], 1e-9)
		near(t, name+" stages", d.StageShare, want["stages"], 1e-9)
		near(t, name+" slope", d.Within.Estimate, want["slope"], 1e-9)
		near(t, name+" low", d.Within.Interval.Low, want["low"], 1e-9)
		near(t, name+" high", d.Within.Interval.High, want["high"], 1e-9)
		near(t, name+" beyond the line", d.BeyondLine, want["beyond_line"], 1e-9)
		near(t, name+" beyond the stages", d.BeyondStages, want["beyond_stages"], 1e-9)
		if d.LineDoesAsWell() || !strings.Contains(d.Sentence(), "The stages explain these balls better") {
			t.Errorf("%s: %s", name, d.Sentence())
		}
	}
}

// A lesson that only drifts, and one that only steps, each with a little noise.
func TestDriftTellsALineFromAStep(t *testing.T) {
	noise := []float64{.3, -.2, -.4, .1, .2, -.3, .4, -.1}
	line, step := make([]float64, 16), make([]float64, 16)
	for i := range line {
		line[i] = 150 + float64(i) + noise[i%8]
		step[i] = 150 + 10*float64(i/8) + noise[i*3%8]
	}
	d, err := DriftOrStages("carry", "yd", runs(line[:8], line[8:]), 0)
	if err != nil || !d.LineDoesAsWell() || d.Within.Interval.Low > 1 || d.Within.Interval.High < 1 || d.Within.Interval.Low < 0 {
		t.Errorf("a line: %+v, %v", d, err)
	}
	d, err = DriftOrStages("carry", "yd", runs(step[:8], step[8:]), 0)
	if err != nil || d.LineDoesAsWell() || d.BeyondLine > 1e-6 {
		t.Errorf("a step: %+v, %v", d, err)
	}
}

func TestDriftErrors(t *testing.T) {
	var few *dispersion.TooFewError
	if _, err := DriftOrStages("", "", runs([]float64{1, 2, 4, 3, 5}), 0); !errors.As(err, &few) {
		t.Errorf("one stage: %v", err)
	}
	if _, err := DriftOrStages("", "", runs([]float64{1, 2}, []float64{2, 4}), 0); !errors.As(err, &few) || few.Need != 5 {
		t.Errorf("four shots: %v", err)
	}
	if _, err := DriftOrStages("", "", []Run{{[]float64{1}, []float64{1, 2}}, {[]float64{2}, []float64{1}}}, 0); !errors.Is(err, ErrPairs) {
		t.Errorf("places missing: %v", err)
	}
	if _, err := DriftOrStages("", "", runs([]float64{3, 3, 3}, []float64{3, 3, 3}), 0); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("no spread: %v", err)
	}
	if _, err := DriftOrStages("", "", runs([]float64{1, 2, 3}, []float64{4, 5, 6}), 0); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("nothing left over: %v", err)
	}
	var value *ValueError
	if _, err := DriftOrStages("", "", runs([]float64{1, math.NaN(), 3}, []float64{4, 5, 7}), 0); !errors.As(err, &value) {
		t.Errorf("NaN: %v", err)
	}
	if _, err := DriftOrStages("", "", runs([]float64{1, 2, 3}, []float64{4, 5, 7}), 95); !errors.Is(err, dispersion.ErrLevel) {
		t.Errorf("level 95: %v", err)
	}
}

// How often the line does as well: the figures of the doc comment, give or take 4
// binomial standard deviations at 1,000 lessons.
func TestDriftRates(t *testing.T) {
	for _, c := range []struct {
		what       string
		step, line float64
		low, high  float64
	}{{"a step of two", 2, 0, 0.08, 0.163}, {"a step of one", 1, 0, 0.229, 0.343}, {"a drift of two", 0, 2, 0.701, 0.811}} {
		r := rand.New(resample.NewStream(1, c.what, 0))
		as := 0
		for range *pairs {
			x := make([]float64, 20)
			for i := range x {
				x[i] = r.NormFloat64() + c.step*float64(i/10) + c.line*float64(i)/19
			}
			d, err := DriftOrStages("", "", runs(x[:10], x[10:]), 0)
			if err != nil {
				t.Fatal(err)
			}
			if d.LineDoesAsWell() {
				as++
			}
		}
		got := float64(as) / float64(*pairs)
		if got < c.low || got > c.high {
			t.Errorf("%s: %.3f, want between %g and %g", c.what, got, c.low, c.high)
		}
		t.Logf("%s: %.4f", c.what, got)
	}
}
