package chart

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/flight"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// demoFlights is an old and a new swing, of which the new one flies further,
// higher and straighter.
func demoFlights(t testing.TB) MeanFlightsInput {
	t.Helper()
	in := MeanFlightsInput{Title: "The new swing flew further and higher", Unit: lesson.Yards}
	for i, name := range []string{"old swing", "new swing"} {
		var shots []flight.Shot
		for k := range 9 {
			off := float64(k-4) / 4
			shots = append(shots, flight.Shot{Launch: flight.Launch{
				Speed: (84 + 8*float64(i) + 3*off) * flight.MPH, Angle: (19 - off) * flight.Degree, Direction: (2 - 2*float64(i) + 3*off*off - 2*off) * flight.Degree,
				Spin: (5600 + 300*off) * flight.RPM, Tilt: (3 + 6*off) * flight.Degree,
			}})
		}
		m, err := flight.MeanFlightOf(shots, flight.Model{Coefficients: flight.Illustrative()}, flight.Conditions{})
		if err != nil {
			t.Fatal(err)
		}
		in.Flights = append(in.Flights, NamedFlight{Name: name, Flight: m})
	}
	return in
}

// The words say what the picture shows: 84 mph and 92 mph of ball speed by the
// model itself, the earlier one hollow and broken, the later solid.
func TestMeanFlights(t *testing.T) {
	in := demoFlights(t)
	f, err := MeanFlights(in)
	if err != nil {
		t.Fatal(err)
	}
	for i, named := range in.Flights {
		last := named.Flight.Spots[len(named.Flight.Spots)-1]
		for _, want := range []string{named.Name + ", n = 9: ", "lands after " + length(last.Carry/flight.Yard, "yd"), sideText(last.Side/flight.Yard, "yd")} {
			if !strings.Contains(f.Alt(), want) {
				t.Errorf("flight %d: %q is not in %q", i+1, want, f.Alt())
			}
		}
	}
	before, err := newFlightLine(0, 2, in.Flights[0], lesson.Yards)
	if err != nil {
		t.Fatal(err)
	}
	after, err := newFlightLine(1, 2, in.Flights[1], lesson.Yards)
	if err != nil {
		t.Fatal(err)
	}
	if !before.look.Hollow || after.look.Hollow || before.style.Dashes == nil || after.style.Dashes != nil || before.look.Shape == after.look.Shape {
		t.Errorf("before %+v, after %+v", before.style, after.style)
	}
	// 1.2816 standard deviations either way hold four in five of a normal law.
	if half, want := after.side.half[40], 1.281551566*in.Flights[1].Flight.SideSD[40]/.9144; math.Abs(half-want) > 1e-8 {
		t.Errorf("half a band is %g, want %g", half, want)
	}
	svg, err := f.SVG()
	if err != nil || !strings.Contains(string(svg), "from above: side, yd") || !strings.Contains(string(svg), "new swing, n = 9") {
		t.Errorf("svg: %v", err)
	}
	again, err := MeanFlights(in)
	if err != nil {
		t.Fatal(err)
	}
	if b, err := again.SVG(); err != nil || string(b) != string(svg) {
		t.Errorf("the same input draws another picture: %v", err)
	}
}

// Both views have one scale for both axes.
func TestMeanFlightsAreEven(t *testing.T) {
	for _, spans := range [][2]span{{{0, 130}, {0, 22}}, {{-10, 15}, {0, 130}}, {{-1, 1}, {-1, 1}}} {
		a := newXY(spans[0], spans[1], "x", "y", false, 60).evenly(planHeight)
		width := textWidth - a.left - a.right
		if across, up := width/a.x.size(), a.height/a.y.size(); math.Abs(across/up-1) > .02 {
			t.Errorf("%v: %g points a unit across, %g up", spans, across, up)
		}
		if a.height > planHeight+1e-9 || a.x.low > spans[0].low || a.x.high < spans[0].high || a.y.low > spans[1].low || a.y.high < spans[1].high {
			t.Errorf("%v: %+v", spans, a)
		}
	}
}

func TestMeanFlightsRefuse(t *testing.T) {
	if _, err := MeanFlights(MeanFlightsInput{}); !errors.Is(err, ErrEmpty) {
		t.Errorf("no flights: %v", err)
	}
	good := demoFlights(t)
	many := good
	many.Flights = append(append(append([]NamedFlight{}, good.Flights...), good.Flights...), good.Flights[0])
	unit := good
	unit.Unit = "furlong"
	bare := MeanFlightsInput{Flights: []NamedFlight{{Name: "bare"}}}
	wild := demoFlights(t)
	wild.Flights[1].Flight.HeightSD[3] = math.NaN()
	for what, in := range map[string]MeanFlightsInput{"5 flights": many, "the unit": unit, "flight 1": bare, "flight 2": wild} {
		var wrong *InputError
		if _, err := MeanFlights(in); !errors.As(err, &wrong) || !strings.HasPrefix(wrong.Where, what) {
			t.Errorf("%s: %v", what, err)
		}
	}
}
