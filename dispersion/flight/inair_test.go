package flight

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// winter is air of 2 °C, summer of 30 °C.
func seasons(t testing.TB) (winter, summer Conditions) {
	t.Helper()
	cold, err := MoistAir(2, 101000, .8)
	if err != nil {
		t.Fatal(err)
	}
	hot, err := MoistAir(30, 101000, .5)
	if err != nil {
		t.Fatal(err)
	}
	return Conditions{Air: cold.Air()}, Conditions{Air: hot.Air()}
}

// With coefficients that are known, the shots fly in other air as the model has
// it, and back again.
func TestInAirExact(t *testing.T) {
	winter, summer := seasons(t)
	m := ironMaker()
	m.device, m.at = maker{}.device, winter
	shots := m.shots(t, rand.New(rand.NewPCG(1, 1)), 12)
	f, err := FitCoefficients(shots, winter, DragAndLift)
	if err != nil {
		t.Fatal(err)
	}
	there, err := InAir(shots, f, summer)
	if err != nil {
		t.Fatal(err)
	}
	g := f // the same coefficients, met in summer
	g.Conditions = summer
	back, err := InAir(there.Shots, g, winter)
	if err != nil {
		t.Fatal(err)
	}
	var mean float64
	for i, s := range shots {
		want := fly(t, m.form, s.Launch, summer)
		near(t, "carry", there.Shots[i].Carry, want.Carry, .02)
		near(t, "side", there.Shots[i].Side, want.Side, .02)
		near(t, "apex", there.Shots[i].Apex, want.Apex, .02)
		near(t, "descent", there.Shots[i].Descent, want.Descent, 1e-3)
		near(t, "there and back", back.Shots[i].Carry, s.Carry, 1e-9*s.Carry)
		near(t, "change", there.Change[i], there.Shots[i].Carry-s.Carry, 1e-9)
		mean += there.Change[i] / 12
	}
	near(t, "mean change", there.MeanChange, mean, 1e-9)
	if mean < 1 || mean > 6 {
		t.Errorf("30 °C in place of 2 °C carries a 7 iron %.1f m further", mean)
	}
}

// Source: the truth that the shots are drawn from. The doubt is what it says:
// over many lessons measured by a device that errs, the change of the mean carry
// is off by its standard error.
func TestInAirDoubt(t *testing.T) {
	winter, summer := seasons(t)
	m := ironMaker()
	m.at = winter
	rng := rand.New(rand.NewPCG(2, 1))
	const sets = 30
	var squares, se float64
	for range sets {
		shots := m.shots(t, rng, 12)
		f, err := FitCoefficients(shots, winter, DragAndLift)
		if err != nil {
			t.Fatal(err)
		}
		c, err := InAir(shots, f, summer)
		if err != nil {
			t.Fatal(err)
		}
		var truth float64
		for _, s := range shots {
			truth += (fly(t, m.form, s.Launch, summer).Carry - fly(t, m.form, s.Launch, winter).Carry) / 12
		}
		z := (c.MeanChange - truth) / c.FitSE
		squares += z * z / sets
		se += c.FitSE / sets
	}
	t.Logf("mean square of z %.2f, mean standard error %.3f m", squares, se)
	// A mean of squares of t(10) is 1.25, with a standard deviation of 2.2/√sets.
	if squares < .4 || squares > 1.25+4*2.2/math.Sqrt(sets) {
		t.Errorf("the mean square of z is %.2f", squares)
	}
}

// Source: the truth that the shots are drawn from. One and the same swing in
// winter and in summer shows a gain as measured and none in one air.
func TestGainInAir(t *testing.T) {
	winter, summer := seasons(t)
	standard := Conditions{}
	rng := rand.New(rand.NewPCG(3, 1))
	const sets = 25
	raw, held := 0, 0
	for range sets {
		var carried [2]Carried
		var carries [2][]float64
		for i, at := range []Conditions{winter, summer} {
			m := ironMaker()
			m.at = at
			shots := m.shots(t, rng, 15)
			f, err := FitCoefficients(shots, at, DragAndLift)
			if err != nil {
				t.Fatal(err)
			}
			if carried[i], err = InAir(shots, f, standard); err != nil {
				t.Fatal(err)
			}
			carries[i] = carriesOf(shots)
		}
		o := compare.Options{Resamples: 99}
		gain, err := GainInAir(context.Background(), carried[0], carried[1], o)
		if err != nil {
			t.Fatal(err)
		}
		e := gain.Effect
		if e.Interval.Low <= 0 && e.Interval.High >= 0 {
			held++
		}
		if e, err = compare.MeanGain(context.Background(), "carry", "m", carries[0], carries[1], o); err != nil {
			t.Fatal(err)
		}
		if e.Interval.Low <= 0 && e.Interval.High >= 0 {
			raw++
		}
	}
	t.Logf("no gain is in the interval of %d of %d, of %d as measured", held, sets, raw)
	// More than 95 %, since the form here is the right one and is doubted all the same.
	if band := 4 * math.Sqrt(.95*.05*sets); float64(held) < .95*sets-band {
		t.Errorf("%d of %d intervals hold no gain, want 95 %% at least", held, sets)
	}
	if raw >= held {
		t.Errorf("as measured %d of %d hold no gain", raw, held)
	}
}

// A fit that tells its coefficients serves, whether or not the shots would tell
// those of another form as well.
func TestDoubtOfAFitIsNoRefusal(t *testing.T) {
	_, summer := seasons(t)
	m := ironMaker()
	m.sd.Spin, m.sd.Speed, m.sd.Angle = 1500*RPM, 4, 4*Degree
	fits := 0
	for seed := range uint64(40) {
		shots := m.shots(t, rand.New(rand.NewPCG(seed, 8)), 12)
		f, err := FitCoefficients(shots, Conditions{}, DragSpinToo)
		if err != nil {
			continue
		}
		fits++
		if c, err := InAir(shots, f, summer); err != nil || !(c.FormSE > 0) {
			t.Errorf("seed %d: form %g, %v", seed, c.FormSE, err)
		}
	}
	if fits < 3 {
		t.Errorf("%d fits are too few to see it", fits)
	}
}

func TestInAirRefuses(t *testing.T) {
	winter, summer := seasons(t)
	shots := ironMaker().shots(t, rand.New(rand.NewPCG(4, 1)), 10)
	f, err := FitCoefficients(shots, winter, DragAndLift)
	if err != nil {
		t.Fatal(err)
	}
	var few *dispersion.TooFewError
	if _, err := InAir(nil, f, summer); !errors.As(err, &few) {
		t.Errorf("no shots: %v", err)
	}
	if _, err := InAir(shots, Fitted{}, summer); !errors.Is(err, ErrMissing) {
		t.Errorf("no fit: %v", err)
	}
	var out *RangeError
	if _, err := InAir(shots, f, Conditions{Air: Air{Density: 12, Viscosity: 1.8e-5}}); !errors.As(err, &out) {
		t.Errorf("in water: %v", err)
	}
	var of *ShotError
	bad := append([]Shot{}, shots...)
	bad[3].Speed = math.NaN()
	if _, err := InAir(bad, f, summer); !errors.As(err, &of) || of.Index != 3 {
		t.Errorf("a speed that is no number: %v", err)
	}
	a, err := InAir(shots, f, summer)
	if err != nil {
		t.Fatal(err)
	}
	b, err := InAir(shots, f, winter)
	if err != nil {
		t.Fatal(err)
	}
	var unlike *ConditionsError
	if _, err := GainInAir(context.Background(), a, b, compare.Options{}); !errors.As(err, &unlike) {
		t.Errorf("in two airs: %v", err)
	}
}

// Other air through a form that is wrong, since the ball's is another: the change
// is off, and by no more than two of the standard errors that allow for that.
func TestInAirThroughAnotherForm(t *testing.T) {
	winter, summer := seasons(t)
	for i, form := range []Form{
		{Drag: .20, DragSpin: .45, Lift: .62, LiftPower: .6},
		{Drag: .26, DragReynolds: .03, Lift: .30, LiftPower: .2},
	} {
		m := ironMaker()
		m.device, m.at, m.form = maker{}.device, winter, form
		shots := m.shots(t, rand.New(rand.NewPCG(uint64(i), 7)), 12)
		f, err := FitCoefficients(shots, winter, DragAndLift)
		if err != nil {
			t.Fatal(err)
		}
		c, err := InAir(shots, f, summer)
		if err != nil {
			t.Fatal(err)
		}
		var truth float64
		for _, s := range shots {
			truth += (fly(t, form, s.Launch, summer).Carry - fly(t, form, s.Launch, winter).Carry) / 12
		}
		t.Logf("form %d: %.2f ± %.2f m in place of %.2f", i+1, c.MeanChange, c.MeanSE, truth)
		near(t, "change of the mean carry", c.MeanChange, truth, 2*c.MeanSE)
		near(t, "doubt", c.MeanSE, math.Hypot(c.FitSE, c.FormSE), 1e-12)
		if c.MeanSE > c.MeanChange {
			t.Errorf("form %d: %.2f ± %.2f m says nothing", i+1, c.MeanChange, c.MeanSE)
		}
	}
}
