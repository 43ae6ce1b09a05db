package compare

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// Source: R 4.2.2, the likelihood ratio of noncentral and central t integrated
// over the gain. Its dt is good to about 1e-8.
func TestEvidenceAgainstR(t *testing.T) {
	for _, w := range [][3]float64{{2.5, 10, 10}, {1, 10, 3}, {4, 5, 30}} {
		want := evidence(t, fmt.Sprintf("evidence %g %g %g", w[0], w[1], w[2]))["e"]
		got := math.Exp(logEvidence(w[0], w[1]+w[2]-2, w[1]*w[2]/(w[1]+w[2])))
		near(t, fmt.Sprint(w), got, want, 1e-6)
	}
}

// The interval ends where the evidence against the gain reaches 1/(1-level).
func TestAnytimeIntervalIsWhereTheEvidenceEnds(t *testing.T) {
	for _, level := range []float64{0.8, 0.95, 0.99} {
		reach := anytimeReach(10, 6, level)
		near(t, "evidence", math.Exp(logEvidence(reach, 14, 3.75)), 1/(1-level), 1e-10)
	}
	a, b := evidenceData(t, "data trt1", "x"), evidenceData(t, "data trt2", "x")
	e, err := AnytimeGain(ctx, "weight", "g", a, b, Options{})
	if err != nil {
		t.Fatal(err)
	}
	plain, err := MeanGain(ctx, "weight", "g", a, b, Options{})
	if err != nil || e.Estimate != plain.Estimate || e.Interval.Low > plain.Interval.Low || e.Interval.High < plain.Interval.High || e.P < plain.P {
		t.Errorf("%+v is no more cautious than %+v (%v)", e, plain, err)
	}
	if (e.P < 0.05) != (e.Interval.Low > 0 || e.Interval.High < 0) {
		t.Errorf("p %g beside %v", e.P, e.Interval)
	}
}

func TestAnytimeErrors(t *testing.T) {
	var few *dispersion.TooFewError
	if _, err := AnytimeGain(ctx, "", "", []float64{1, 2}, []float64{3, 5}, Options{}); !errors.As(err, &few) || few.Need != 4 {
		t.Errorf("two balls: %v", err)
	}
	if _, err := AnytimeGain(ctx, "", "", level(1, 9), []float64{3}, Options{}); !errors.As(err, &few) {
		t.Errorf("one ball: %v", err)
	}
	if _, err := AnytimeGain(ctx, "", "", []float64{1, 1, 1, 1, 1, 1}, []float64{2, 2, 2, 2, 2, 2}, Options{}); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("no spread: %v", err)
	}
	var none context.Context
	if _, err := AnytimeGain(none, "", "", level(1, 9), level(1, 9), Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("no context: %v", err)
	}
	var value *ValueError
	if _, err := AnytimeGain(ctx, "", "", level(1, 9), []float64{1, math.NaN()}, Options{}); !errors.As(err, &value) {
		t.Errorf("NaN: %v", err)
	}
}

// Ten balls with the old swing, then a look after each of thirty with the new
// one, without any gain: how often does an interval ever exclude 0? The promise
// is 5 %; the interval of a single look does so far more often.
func TestLookingAfterEveryBall(t *testing.T) {
	for _, c := range []struct {
		what   string
		spread float64 // of the new swing
	}{{"equal spreads", 1}, {"half the spread", 0.5}} {
		r := rand.New(resample.NewStream(1, c.what, 0))
		lessons, ever, naive := max(*pairs/2, 500), 0, 0
		x, y := make([]float64, 10), make([]float64, 30)
		for range lessons {
			for i := range x {
				x[i] = r.NormFloat64()
			}
			for i := range y {
				y[i] = c.spread * r.NormFloat64()
			}
			valid, single := false, false
			for n := 2; n <= len(y); n++ {
				w := welchOf(summaryOf(x), summaryOf(y[:n]))
				single = single || math.Abs(w.difference) > studentQuantile(0.975, w.df)*w.se
				if e, err := AnytimeGain(ctx, "", "", x, y[:n], Options{}); err == nil {
					valid = valid || e.Interval.Low > 0 || e.Interval.High < 0
				}
			}
			if valid {
				ever++
			}
			if single {
				naive++
			}
		}
		share, single := float64(ever)/float64(lessons), float64(naive)/float64(lessons)
		if limit := 0.05 + 4*math.Sqrt(0.05*0.95/float64(lessons)); share > limit {
			t.Errorf("%s: %.4f of lessons ever exclude 0, limit %.4f", c.what, share, limit)
		}
		if single < 0.12 {
			t.Errorf("%s: the single look fails in %.3f only, so this test shows nothing", c.what, single)
		}
		t.Logf("%s: %.4f, single look %.4f", c.what, share, single)
	}
}
