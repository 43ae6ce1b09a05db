package flight

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// By hand: two parts worth 3 and 5 alone and 10 together share the 2 that are
// left. Three of which one does nothing and two only together.
func TestShapleyByHand(t *testing.T) {
	if got := shapley([]float64{1, 4, 6, 11}, 2); !reflect.DeepEqual(got, []float64{4, 6}) {
		t.Errorf("%v", got)
	}
	got := shapley([]float64{0, 0, 0, 6, 0, 0, 0, 6}, 3)
	for k, want := range []float64{3, 3, 0} {
		near(t, "part", got[k], want, 1e-12)
	}
}

// Source: the axioms of L. S. Shapley 1953: the parts add up; what adds nothing
// gets nothing; what adds the same to every set gets that; equals get equal parts.
// And by the definition over all 24 orders of four parts.
func TestShapleyAxioms(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	value := make([]float64, 16)
	for mask := range value {
		value[mask] = rng.Float64()
	}
	parts := shapley(value, 4)
	near(t, "sum", parts[0]+parts[1]+parts[2]+parts[3], value[15]-value[0], 1e-12)
	var byOrders [4]float64
	for code := range 256 { // every order is among these
		order := [4]int{code & 3, code >> 2 & 3, code >> 4 & 3, code >> 6 & 3}
		if seen := 1<<order[0] | 1<<order[1] | 1<<order[2] | 1<<order[3]; seen != 15 {
			continue
		}
		mask := 0
		for _, k := range order {
			byOrders[k] += (value[mask|1<<k] - value[mask]) / 24
			mask |= 1 << k
		}
	}
	for k := range parts {
		near(t, "part over all orders", parts[k], byOrders[k], 1e-12)
	}
	for mask := range value { // 2 adds nothing, 3 adds 7; 0 and 1 are alike
		value[mask] = float64(mask&1*(mask>>1&1))*4 + float64(mask>>3&1)*7
	}
	for k, want := range []float64{2, 2, 0, 7} {
		near(t, "part", shapley(value, 4)[k], want, 1e-12)
	}
}

// changed is the maker with some of its mean launch changed.
func (m maker) changed(l Launch) maker {
	m.mean.Speed += l.Speed
	m.mean.Angle += l.Angle
	m.mean.Spin += l.Spin
	m.mean.Direction += l.Direction
	m.mean.Tilt += l.Tilt
	return m
}

func split(t testing.TB, before, after []Shot, at Conditions, o compare.Options) Splits {
	t.Helper()
	f, err := FitCoefficients(append(append([]Shot{}, before...), after...), at, DragAndLift)
	if err != nil {
		t.Fatal(err)
	}
	s, err := SplitGain(context.Background(), before, after, f, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Source: the truth that the shots are drawn from. A gain with one cause alone
// is found with that part, by both ways, and both add up to it.
func TestSplitFindsTheOneCause(t *testing.T) {
	for k, change := range []Launch{{Speed: 4}, {Angle: -5 * Degree}, {Spin: 2500 * RPM}, {Tilt: 25 * Degree}} {
		m := ironMaker()
		rng := rand.New(rand.NewPCG(uint64(k), 3))
		s := split(t, m.shots(t, rng, 16), m.changed(change).shots(t, rng, 16), Conditions{}, compare.Options{Resamples: 200})
		of := s.Carry
		switch k {
		case 2: // near the top of the carry spin does nothing to it
			of = *s.Height
		case 3:
			of = *s.Curve
		}
		var flights, regression float64
		for part, p := range of.Parts {
			flights += p.Flight.Estimate
			if p.Regression == nil {
				t.Fatalf("%s: no regression: %v", p.Name, of.Warnings)
			}
			regression += p.Regression.Estimate
			// The truth within four standard errors, of which an interval is two.
			width := p.Flight.Interval.High - p.Flight.Interval.Low
			truth := 0.0
			if part == k {
				truth = of.Gain
			}
			near(t, p.Name, p.Flight.Estimate, truth, width+.1*math.Abs(of.Gain))
		}
		near(t, "sum by flights", flights, of.Gain, 1e-9)
		near(t, "sum by regression", regression, of.Gain, 1e-9)
		if of.Agreement == Disagree || math.Abs(of.Parts[k].Flight.Estimate) < .7*math.Abs(of.Gain) {
			t.Errorf("%s: %+v of %.1f m, agreement %s", of.Parts[k].Name, of.Parts[k].Flight, of.Gain, of.Agreement)
		}
	}
}

// Source: the truth that the shots are drawn from. At ten shots a stage the
// intervals hold what is true of the swings, in 95 of 100 lessons: the parts of
// the same shots with and without the change.
func TestSplitCoverage(t *testing.T) {
	m := ironMaker()
	after := m.changed(Launch{Speed: 2.5, Angle: -1 * Degree, Spin: -400 * RPM, Tilt: -4 * Degree})
	exact := func(m maker) maker { m.device = maker{}.device; return m }
	known, err := FitCoefficients(exact(m).shots(t, rand.New(rand.NewPCG(10, 3)), 30), Conditions{}, DragAndLift)
	if err != nil {
		t.Fatal(err)
	}
	// The same deviations on both sides, so that the truth has no luck in it.
	twin := func(m maker) []Shot { return exact(m).shots(t, rand.New(rand.NewPCG(11, 3)), 30) }
	s, err := SplitGain(context.Background(), twin(m), twin(after), known, compare.Options{Resamples: 1})
	if err != nil {
		t.Fatal(err)
	}
	var truth [3][parts + 1]float64
	for o, of := range []Split{s.Carry, *s.Height, *s.Curve} {
		for k, p := range of.Parts {
			truth[o][k] = p.Flight.Estimate
		}
	}
	rng := rand.New(rand.NewPCG(12, 3))
	const lessons = 24
	held, intervals, regressed, width := 0, 0, 0, 0.0
	for range lessons {
		s := split(t, m.shots(t, rng, 10), after.shots(t, rng, 10), Conditions{}, compare.Options{Resamples: 300})
		for o, of := range []Split{s.Carry, *s.Height, *s.Curve} {
			for k, p := range of.Parts {
				intervals++
				if p.Flight.Interval.Low <= truth[o][k] && truth[o][k] <= p.Flight.Interval.High {
					held++
				}
				if p.Regression.Interval.Low <= truth[o][k] && truth[o][k] <= p.Regression.Interval.High {
					regressed++
				}
				if o == 0 && k == 0 {
					width += (p.Flight.Interval.High - p.Flight.Interval.Low) / lessons
				}
			}
		}
	}
	t.Logf("truth of the carry %.2f; %.3f of %d intervals hold, by regression %.3f; the part of ball speed is known to %.1f m", truth[0], float64(held)/float64(intervals), intervals, float64(regressed)/float64(intervals), width)
	// The 15 intervals of a lesson hang together, so the band is that of the lessons.
	band := 4 * math.Sqrt(.95*.05/lessons)
	for what, n := range map[string]int{"flights": held, "regression": regressed} {
		if share := float64(n) / float64(intervals); share < .95-band {
			t.Errorf("by %s %.3f of the intervals hold the truth, want .95 - %.3f at least", what, share, band)
		}
	}
}

// The same seed gives the same bits on any number of cores, another seed others,
// and progress grows to its total.
func TestSplitIsReproducible(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 3))
	m := ironMaker()
	before, after := m.shots(t, rng, 8), m.changed(Launch{Speed: 3}).shots(t, rng, 9)
	last, total := 0, 0
	o := compare.Options{Resamples: 300, Seed: 4, Progress: func(done, of int) {
		if done <= last {
			t.Errorf("progress %d after %d", done, last)
		}
		last, total = done, of
	}}
	one := split(t, before, after, Conditions{}, o)
	if last != total || total != 308 {
		t.Errorf("progress ended at %d of %d", last, total)
	}
	o.Progress = nil
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if again := split(t, before, after, Conditions{}, o); !reflect.DeepEqual(one, again) {
		t.Error("one core gives another answer")
	}
	o.Seed = 5
	if other := split(t, before, after, Conditions{}, o); reflect.DeepEqual(one.Carry.Parts, other.Carry.Parts) {
		t.Error("another seed gives the same intervals")
	}
}

// Without a start line a shot's side is all there is, and no curve: not where both
// lack it, and not where one does.
func TestSplitWithoutStartLines(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 3))
	before, after := ironMaker().shots(t, rng, 6), ironMaker().shots(t, rng, 6)
	bare := func(shots []Shot) []Shot {
		shots = slices.Clone(shots)
		for i := range shots {
			shots[i].Direction = 0
		}
		return shots
	}
	for i, pair := range [][2][]Shot{{bare(before), after}, {before, bare(after)}, {bare(before), bare(after)}} {
		if s := split(t, pair[0], pair[1], Conditions{}, compare.Options{Resamples: 20}); s.Curve != nil {
			t.Errorf("pair %d has a curve: %+v", i, s.Curve)
		}
	}
	if s := split(t, before, after, Conditions{}, compare.Options{Resamples: 20}); s.Curve == nil {
		t.Error("with start lines there is no curve")
	}
}

// Columns that move together leave no regression, however many shots there are, and
// the warning does not blame their number alone.
func TestSplitOfColumnsThatMoveTogether(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 3))
	before, after := ironMaker().shots(t, rng, 15), ironMaker().shots(t, rng, 15)
	for _, stage := range [][]Shot{before, after} {
		for i := range stage {
			stage[i].Spin = 15 * stage[i].Speed
		}
	}
	s := split(t, before, after, Conditions{}, compare.Options{Resamples: 20})
	if !slices.Contains(s.Carry.Warnings, ErrNoRegression) || !strings.Contains(ErrNoRegression.Error(), "move together") {
		t.Errorf("warnings %v", s.Carry.Warnings)
	}
}

// What is not there is said: no height without apex, no regression of few shots.
func TestSplitOfLess(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 3))
	m := ironMaker()
	before, after := m.shots(t, rng, 5), m.changed(Launch{Speed: 3}).shots(t, rng, 6)
	f, err := FitCoefficients(append(append([]Shot{}, before...), after...), Conditions{}, DragAndLift)
	if err != nil {
		t.Fatal(err)
	}
	after[2].Apex = 0
	s, err := SplitGain(context.Background(), before, after, f, compare.Options{Resamples: 50})
	if err != nil {
		t.Fatal(err)
	}
	if s.Height != nil || s.Carry.Parts[0].Regression != nil || s.Carry.Agreement != Unsure || len(s.Carry.Warnings) != 1 || !errors.Is(s.Carry.Warnings[0], ErrNoRegression) {
		t.Errorf("%+v", s)
	}
	var few *dispersion.TooFewError
	if _, err := SplitGain(context.Background(), before[:4], after, f, compare.Options{}); !errors.As(err, &few) || few.Need != 5 {
		t.Errorf("four before: %v", err)
	}
	if _, err := SplitGain(context.Background(), before, after, Fitted{}, compare.Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("no fit: %v", err)
	}
	if _, err := SplitGain(noContext, before, after, f, compare.Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("no context: %v", err)
	}
	if _, err := SplitGain(context.Background(), before, after, f, compare.Options{Level: 95}); !errors.Is(err, dispersion.ErrLevel) {
		t.Errorf("level 95: %v", err)
	}
	if _, err := SplitGain(context.Background(), before, after, f, compare.Options{Resamples: 1 << 60}); !errors.Is(err, compare.ErrResamples) {
		t.Errorf("1<<60 resamples: %v", err)
	}
	if _, err := SplitGain(context.Background(), before, after, f, compare.Options{Resamples: -1}); !errors.Is(err, compare.ErrResamples) {
		t.Errorf("-1 resamples: %v", err)
	}
	done, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := SplitGain(done, before, after, f, compare.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	after[3].Spin = math.NaN()
	var of *ShotError
	if _, err := SplitGain(context.Background(), before, after, f, compare.Options{}); !errors.As(err, &of) || of.Index != 8 {
		t.Errorf("spin that is no number: %v", err)
	}
}
