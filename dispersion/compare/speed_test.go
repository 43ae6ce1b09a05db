package compare

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// Source: R 4.2.2, lm with HC3 put together from hatvalues, on iris.
func TestWildnessAgainstR(t *testing.T) {
	want := evidence(t, "wildness")
	side, carry := evidenceData(t, "wildness", "side"), evidenceData(t, "wildness", "carry")
	points := make([]dispersion.Point, len(side))
	for i := range points {
		points[i] = dispersion.Point{X: side[i], Y: carry[i]}
	}
	s, err := SpeedAgainstAccuracy(ctx, []*dispersion.Group{group(t, points[:12]), group(t, points[12:])}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "slope", s.Slope.Estimate, want["slope"], 1e-8)
	near(t, "low", s.Slope.Interval.Low, want["low"], 1e-8)
	near(t, "high", s.Slope.Interval.High, want["high"], 1e-8)
	if s.Supports != NeitherBelief || s.Distance.Name != NameSpreadRatio || s.Angle.Name != NameAngleSpreadRatio {
		t.Errorf("%+v", s)
	}
}

// fan draws a stage whose angles fan out by the given share per yard of carry.
func fan(t testing.TB, r *rand.Rand, n int, carry, share float64) *dispersion.Group {
	points := make([]dispersion.Point, n)
	for i := range points {
		d := 6 * r.NormFloat64()
		angle := 0.05 * (1 + share*d) * r.NormFloat64()
		points[i] = dispersion.Point{X: (carry + d) * math.Tan(angle), Y: carry + d}
	}
	return group(t, points)
}

func TestBeliefs(t *testing.T) {
	r := rand.New(resample.NewStream(1, "beliefs", 0))
	for _, c := range []struct {
		share float64
		want  Belief
	}{{0.08, HarderWilder}, {-0.08, HarderTruer}} {
		s, err := SpeedAgainstAccuracy(ctx, []*dispersion.Group{fan(t, r, 300, 150, c.share), fan(t, r, 300, 170, c.share)}, Options{})
		if err != nil || s.Supports != c.want || s.Sentence() == (SpeedCheck{}).Sentence() {
			t.Errorf("%g: %v, %v (%v)", c.share, s.Supports, s.Slope.Interval, err)
		}
	}
}

// How often a belief is supported that isn't true: the figure of the doc comment.
func TestBeliefsByChance(t *testing.T) {
	r := rand.New(resample.NewStream(1, "beliefs by chance", 0))
	wrong := 0
	for range *pairs {
		e, err := wildness([]*dispersion.Group{fan(t, r, 10, 150, 0), fan(t, r, 10, 160, 0)}, Options{Level: 0.95})
		if err != nil {
			t.Fatal(err)
		}
		if e.Interval.Low > 0 || e.Interval.High < 0 {
			wrong++
		}
	}
	got := float64(wrong) / float64(*pairs)
	checkCoverage(t, "no belief", 1-got, 0.95)
	t.Logf("wrong: %.4f", got)
}

func TestSpeedErrors(t *testing.T) {
	g := group(t, sample(t, "setosa5"))
	for _, stages := range [][]*dispersion.Group{nil, {g}, {g, nil}} {
		if _, err := SpeedAgainstAccuracy(ctx, stages, Options{}); !errors.Is(err, ErrMissing) {
			t.Errorf("%v: %v", stages, err)
		}
	}
	var few *dispersion.TooFewError
	if _, err := SpeedAgainstAccuracy(ctx, []*dispersion.Group{g, group(t, g.Points()[:2]), g}, Options{}); !errors.As(err, &few) {
		t.Errorf("two shots: %v", err)
	}
	flat := group(t, []dispersion.Point{{X: 1, Y: 5}, {X: 2, Y: 5}, {X: 4, Y: 5}})
	if _, err := wildness([]*dispersion.Group{flat, flat}, Options{Level: 0.95}); !errors.Is(err, dispersion.ErrDegenerate) {
		t.Errorf("one carry: %v", err)
	}
}
