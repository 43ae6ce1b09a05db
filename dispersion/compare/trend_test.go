package compare

import (
	"context"
	"errors"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// stagesOf returns the values of a trend case by stage.
func stagesOf(t *testing.T, name string) [][]float64 {
	t.Helper()
	x, g := evidenceData(t, name, "x"), evidenceData(t, name, "g")
	var stages [][]float64
	for i, v := range x {
		if int(g[i]) > len(stages) {
			stages = append(stages, nil)
		}
		stages[int(g[i])-1] = append(stages[int(g[i])-1], v)
	}
	return stages
}

// Source: M. Hollander, D. A. Wolfe, Nonparametric Statistical Methods, 2nd ed.,
// 1999, section 6.2 (knowledge of performance, data as in R's NSM3): J = 79; z and
// p as those of Kendall's S by cor.test of R 4.2.2, also for R's plants, of whose
// weights some are equal.
func TestTrendAgainstR(t *testing.T) {
	for _, name := range []string{"trend knowledge", "trend plants"} {
		got, err := Trend(ctx, name, stagesOf(t, name))
		if err != nil {
			t.Fatal(err)
		}
		want := evidence(t, name)
		near(t, name+" J", got.J, want["j"], 1e-15)
		near(t, name+" z", (got.J-got.Mean)/got.SD, want["z"], 1e-9)
		near(t, name+" p", got.P, want["p"], 1e-9)
		if got.Exact {
			t.Errorf("%s: exact in spite of ties", name)
		}
	}
	kp, err := Trend(ctx, "", stagesOf(t, "trend knowledge"))
	if err != nil || kp.J != 79 || kp.Mean != 54 || kp.Share != 79.0/108 {
		t.Errorf("%+v, %v", kp, err)
	}
	near(t, "variance with ties", kp.SD*kp.SD, 150.2867647, 1e-9)
}

// Stages of 2, 2 and 3 shots without ties: 210 ways to deal them, each counted.
func TestTrendCountsEveryWay(t *testing.T) {
	order := []float64{1, 2, 3, 4, 5, 6, 7}
	var all []TrendTest
	for a := range 7 {
		for b := range a {
			for c := range 7 {
				for d := range c {
					if c == a || c == b || d == a || d == b {
						continue
					}
					stages := [][]float64{{order[a], order[b]}, {order[c], order[d]}, nil}
					for i, v := range order {
						if i != a && i != b && i != c && i != d {
							stages[2] = append(stages[2], v)
						}
					}
					got, err := Trend(ctx, "", stages)
					if err != nil || !got.Exact {
						t.Fatalf("%+v, %v", got, err)
					}
					all = append(all, got)
				}
			}
		}
	}
	if len(all) != 210 {
		t.Fatalf("%d ways", len(all))
	}
	var mean, variance float64
	for _, one := range all {
		far := 0
		for _, other := range all {
			if math.Abs(other.J-8) >= math.Abs(one.J-8) {
				far++
			}
		}
		near(t, "p", one.P, float64(far)/210, 1e-12)
		mean += one.J / 210
		variance += (one.J - 8) * (one.J - 8) / 210
	}
	near(t, "mean", all[0].Mean, mean, 1e-12)
	near(t, "variance", all[0].SD*all[0].SD, variance, 1e-12)
}

func TestTrendErrors(t *testing.T) {
	one := []float64{1, 2}
	done, cancel := context.WithCancel(ctx)
	cancel()
	var few *dispersion.TooFewError
	var value *ValueError
	if _, err := Trend(ctx, "", [][]float64{one, one}); !errors.Is(err, ErrStages) {
		t.Errorf("two stages: %v", err)
	}
	var none context.Context
	if _, err := Trend(none, "", [][]float64{one, one, one}); !errors.Is(err, ErrMissing) {
		t.Errorf("no context: %v", err)
	}
	if _, err := Trend(ctx, "", [][]float64{one, nil, one}); !errors.As(err, &few) {
		t.Errorf("an empty stage: %v", err)
	}
	if _, err := Trend(ctx, "", [][]float64{one, {math.NaN()}, one}); !errors.As(err, &value) {
		t.Errorf("NaN: %v", err)
	}
	if _, err := Trend(ctx, "", [][]float64{{3}, {3, 3}, {3}}); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("equal values: %v", err)
	}
	if _, err := Trend(done, "", [][]float64{{3}, {4, 5}, {6}}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}
