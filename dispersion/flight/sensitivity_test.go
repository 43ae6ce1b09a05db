package flight

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// meanCarry flies shots with their launches changed.
func meanCarry(t testing.TB, c Coefficients, shots []Shot, change func(*Launch)) float64 {
	var sum float64
	for _, s := range shots {
		l := s.Launch
		change(&l)
		sum += fly(t, c, l, Conditions{}).Carry / float64(len(shots))
	}
	return sum
}

// Against flights of known coefficients: a step's worth, and where the top is on a
// scan ten times as fine.
func TestSensitivities(t *testing.T) {
	m := ironMaker()
	m.device = maker{}.device
	m.mean.Angle, m.mean.Spin = 24*Degree, 4500*RPM
	shots := m.shots(t, rand.New(rand.NewPCG(1, 6)), 10)
	f, err := FitCoefficients(shots, Conditions{}, DragAndLift)
	if err != nil {
		t.Fatal(err)
	}
	all, err := Sensitivities(context.Background(), shots, f, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(all) != 3 || all[0].Top != nil || all[1].Top == nil || all[2].Top == nil {
		t.Fatalf("%+v", all)
	}
	worth := func(change func(l *Launch, more float64), step float64) float64 {
		return meanCarry(t, m.form, shots, func(l *Launch) { change(l, step/2) }) - meanCarry(t, m.form, shots, func(l *Launch) { change(l, -step/2) })
	}
	speed := func(l *Launch, more float64) { l.Speed += more }
	angle := func(l *Launch, more float64) { l.Angle += more }
	spin := func(l *Launch, more float64) { l.Spin += more }
	near(t, "1 mph", all[0].Carry.Estimate, worth(speed, MPH), .01)
	near(t, "1 degree", all[1].Carry.Estimate, worth(angle, Degree), .02)
	near(t, "100 rpm", all[2].Carry.Estimate, worth(spin, 100*RPM), .01)
	if yards := all[0].Carry.Estimate / Yard; yards < 1.2 || yards > 3 {
		t.Errorf("1 mph is worth %.2f yd", yards)
	}
	top := all[1].Top
	best, at := 0.0, 0.0
	var low, high float64
	carries := map[int]float64{}
	for i := -80; i <= 80; i++ {
		off := float64(i) / 10 * Degree
		carries[i] = meanCarry(t, m.form, shots, func(l *Launch) { l.Angle += off })
		if carries[i] > best {
			best, at = carries[i], off
		}
	}
	low, high = math.Inf(1), math.Inf(-1)
	for i, c := range carries {
		if off := float64(i) / 10 * Degree; c > best-Yard {
			low, high = min(low, off), max(high, off)
		}
	}
	mean := all[1].Mean
	near(t, "top", top.Best.Estimate/Degree, (mean+at)/Degree, .3)
	near(t, "loss", top.Loss.Estimate, best-carries[0], .05)
	near(t, "flat from", top.Low/Degree, (mean+low)/Degree, .3)
	near(t, "flat to", top.High/Degree, (mean+high)/Degree, .3)
	if top.AtEdge || !(top.Low < top.Best.Estimate && top.Best.Estimate < top.High) {
		t.Errorf("%+v", top)
	}
	again, err := Sensitivities(context.Background(), shots, f, compare.Options{})
	if err != nil || !reflect.DeepEqual(all, again) {
		t.Errorf("the same call gives another answer: %v", err)
	}
}

// Source: the truth that the shots are drawn from. The interval of a step's
// worth holds the truth of the swing in 95 of 100 lessons of ten shots.
func TestSensitivityCoverage(t *testing.T) {
	m := ironMaker()
	exact := m
	exact.device = maker{}.device
	twins := exact.shots(t, rand.New(rand.NewPCG(2, 6)), 300)
	truth := meanCarry(t, m.form, twins, func(l *Launch) { l.Speed += MPH / 2 }) - meanCarry(t, m.form, twins, func(l *Launch) { l.Speed -= MPH / 2 })
	rng := rand.New(rand.NewPCG(3, 6))
	const lessons = 25
	held := 0
	for range lessons {
		shots := m.shots(t, rng, 10)
		f, err := FitCoefficients(shots, Conditions{}, DragAndLift)
		if err != nil {
			t.Fatal(err)
		}
		all, err := Sensitivities(context.Background(), shots, f, compare.Options{Resamples: 300})
		if err != nil {
			t.Fatal(err)
		}
		if i := all[0].Carry.Interval; i.Low <= truth && truth <= i.High {
			held++
		}
	}
	// More than 95 %, since the form here is the right one and is doubted all the same.
	if band := 4 * math.Sqrt(.95*.05*lessons); float64(held) < .95*lessons-band {
		t.Errorf("%d of %d intervals hold %.3f m a mile an hour, want 95 %% - %.1f at least", held, lessons, truth, band)
	}
}

// A driver struck low and slow gains with every degree looked at, and is said to.
func TestTopAtTheEdge(t *testing.T) {
	m := ironMaker()
	m.mean = Launch{Speed: 30, Angle: 8 * Degree, Spin: 2000 * RPM}
	shots := m.shots(t, rand.New(rand.NewPCG(4, 6)), 8)
	f, err := FitCoefficients(shots, Conditions{}, DragAndLift)
	if err != nil {
		t.Fatal(err)
	}
	all, err := Sensitivities(context.Background(), shots, f, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if top := all[1].Top; !top.AtEdge || math.Abs(top.Best.Estimate-all[1].Mean-8*Degree) > 1e-9 || top.High < top.Best.Estimate-1e-9 {
		t.Errorf("%+v around %g", top, all[1].Mean)
	}
}

// No launch that can't be is told of: the scan ends where the lowest shot would go
// below 300 rpm, and so do the top and what lies within a yard of it.
func TestTopIsALaunchThatCanBe(t *testing.T) {
	m := ironMaker()
	m.mean, m.sd.Spin = Launch{Speed: 70, Angle: 38 * Degree, Spin: 1900 * RPM}, 200*RPM
	shots := m.shots(t, rand.New(rand.NewPCG(4, 6)), 12)
	f, err := FitCoefficients(shots, Conditions{}, DragAndLift)
	if err != nil {
		t.Fatal(err)
	}
	all, err := Sensitivities(context.Background(), shots, f, compare.Options{Resamples: 200})
	if err != nil {
		t.Fatal(err)
	}
	lowest := math.Inf(1)
	for _, s := range shots {
		lowest = min(lowest, s.Spin)
	}
	s := all[2]
	least := s.Mean - (lowest - 300*RPM) // the mean where the lowest has 300 rpm
	for what, v := range map[string]float64{"low": s.Top.Low, "best": s.Top.Best.Estimate, "best at the least": s.Top.Best.Interval.Low} {
		if v < least-1e-9 {
			t.Errorf("%s %.0f rpm, but below %.0f rpm a shot would have less than 300", what, v/RPM, least/RPM)
		}
	}
	if !s.Top.AtEdge { // so high a launch wants no spin at all
		t.Errorf("%+v", s.Top)
	}
}

// Half a step less is half a step less, however low the shots are; below half a
// degree it is half of what there is, and a degree's worth is still of a degree.
func TestStepOfLowShots(t *testing.T) {
	m := ironMaker()
	m.device = maker{}.device
	shots := m.shots(t, rand.New(rand.NewPCG(4, 6)), 12)
	f, err := FitCoefficients(shots, Conditions{}, DragAndLift)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct{ degrees, low, high float64 }{{2.1, 1.6, 2.6}, {1.5, 1, 2}, {.4, .2, .9}} {
		for i := range shots {
			shots[i].Angle = row.degrees * Degree
		}
		all, err := Sensitivities(context.Background(), shots, f, compare.Options{Resamples: 20})
		if err != nil {
			t.Fatal(err)
		}
		at := func(degrees float64) float64 {
			return meanCarry(t, m.form, shots, func(l *Launch) { l.Angle = degrees * Degree })
		}
		worth := (at(row.high) - at(row.low)) / (row.high - row.low)
		near(t, "a degree's worth", all[1].Carry.Estimate, worth, .1)
	}
	for i := range shots { // no spin to take away
		shots[i].Angle, shots[i].Spin = 19*Degree, 0
	}
	all, err := Sensitivities(context.Background(), shots, f, compare.Options{Resamples: 20})
	if err != nil {
		t.Fatal(err)
	}
	spin := func(rpm float64) float64 {
		return meanCarry(t, m.form, shots, func(l *Launch) { l.Spin = rpm * RPM })
	}
	near(t, "100 rpm's worth", all[2].Carry.Estimate, 2*(spin(50)-spin(0)), .1)
}

func TestSensitivitiesRefuse(t *testing.T) {
	shots := ironMaker().shots(t, rand.New(rand.NewPCG(5, 6)), 6)
	f, err := FitCoefficients(shots, Conditions{}, DragAndLift)
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	var few *dispersion.TooFewError
	if _, err := Sensitivities(ctx, shots[:4], f, compare.Options{}); !errors.As(err, &few) {
		t.Errorf("four shots: %v", err)
	}
	if _, err := Sensitivities(ctx, shots, Fitted{}, compare.Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("no fit: %v", err)
	}
	if _, err := Sensitivities(noContext, shots, f, compare.Options{}); !errors.Is(err, ErrMissing) {
		t.Errorf("no context: %v", err)
	}
	done, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := Sensitivities(done, shots, f, compare.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}
