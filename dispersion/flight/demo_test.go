package flight_test

import (
	"context"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/flight"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// demo returns the demo lesson's shots: all of them, and the clean ones of the
// headline before and after.
func demo(t testing.TB) (all, before, after []flight.Shot) {
	t.Helper()
	l, err := datasets.DemoLesson()
	if err != nil {
		t.Fatal(err)
	}
	shots := func(s []lesson.Shot) []flight.Shot {
		m, err := flight.ShotsOf(l, s)
		if err != nil || len(m.Left) > 0 {
			t.Fatal(err, m.Left)
		}
		return m.Shots
	}
	p := l.Pairs()[0]
	return shots(l.Shots), shots(clean(p.Before)), shots(clean(p.After))
}

// Source: the truth that the demo lesson is drawn from: its coefficients come
// back, and its gain moved along with ball speed, that with the strike.
func TestDemoLesson(t *testing.T) {
	truth, err := datasets.DemoFlightTruth()
	if err != nil {
		t.Fatal(err)
	}
	all, before, after := demo(t)
	f, err := flight.FitCoefficients(all, flight.Conditions{}, flight.DragAndLift)
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range []float64{truth.Drag, truth.Lift} {
		if c := f.Coefficients[k]; math.Abs(c.Value-want) > 4*c.SE {
			t.Errorf("%s %.4f ± %.4f, drawn from %g", c.Name, c.Value, c.SE, want)
		}
	}
	s, err := flight.SplitGain(context.Background(), before, after, f, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	speed := s.Carry.Parts[0]
	if speed.Name != flight.PartSpeed || speed.Flight.Estimate < .8*s.Carry.Gain || speed.Flight.Estimate > 1.4*s.Carry.Gain || s.Carry.Agreement == flight.Disagree {
		t.Errorf("of %.1f m, %+v; the two ways %s", s.Carry.Gain, speed.Flight, s.Carry.Agreement)
	}
	strike, err := flight.SplitStrike(context.Background(), before, after, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if strike.Strike.Interval.Low <= 0 || strike.Strike.Estimate < .8*strike.BallSpeed.Estimate {
		t.Errorf("%+v", strike)
	}
	for _, part := range s.Carry.Parts {
		t.Logf("%s %+v, by regression %+v: %s", part.Name, part.Flight, *part.Regression, part.Agreement)
	}
}
