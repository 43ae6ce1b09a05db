package flight

import (
	"errors"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// Two launches that mirror each other have a mean flight down the middle, and
// scatter by the difference of the two over √2.
func TestMeanFlightOfMirroredShots(t *testing.T) {
	l := Launch{Speed: 45, Angle: .3, Direction: .05, Spin: 500, Tilt: .1}
	m := Model{Coefficients: Illustrative()}
	f, err := MeanFlightOf([]Shot{{Launch: l}, {Launch: l.mirrored()}}, m, Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	want := fly(t, Illustrative(), l, Conditions{})
	last := len(f.Spots) - 1
	near(t, "carry", f.Spots[last].Carry, want.Carry, 1e-2)
	near(t, "side", f.Spots[last].Side, 0, 1e-2)
	near(t, "time", f.Spots[last].Time, want.Time, 1e-2)
	near(t, "scatter of the side", f.SideSD[last], math.Sqrt2*want.Side, 1e-2)
	near(t, "scatter of the carry", f.CarrySD[last], 0, 1e-2)
	top := 0.0
	for i, s := range f.Spots {
		top = max(top, s.Height)
		near(t, "scatter of the height", f.HeightSD[i], 0, 1e-2)
	}
	near(t, "top", top, want.Apex, .05)
	if f.N != 2 || len(f.SideSD) != len(f.Spots) || f.Spots[0] != (Spot{}) {
		t.Errorf("%d flights, %d spots from %+v", f.N, len(f.Spots), f.Spots[0])
	}
	var few *dispersion.TooFewError
	if _, err := MeanFlightOf([]Shot{{Launch: l}}, m, Conditions{}); !errors.As(err, &few) {
		t.Errorf("one shot: %v", err)
	}
	var of *ShotError
	l.Angle = 0
	if _, err := MeanFlightOf([]Shot{{Launch: l}, {Launch: l}}, m, Conditions{}); !errors.As(err, &of) {
		t.Errorf("a ball along the ground: %v", err)
	}
}
