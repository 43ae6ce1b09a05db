package flight

import (
	"math/rand/v2"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/compare"
)

// The promise is 20 µs on one core for a landing within 0.1 m.
func BenchmarkTrajectory(b *testing.B) {
	m := Model{Coefficients: Illustrative(), Precision: .1}
	l := Launch{Speed: 70, Angle: 11 * Degree, Direction: .02, Spin: 2600 * RPM, Tilt: .1}
	at := Conditions{Wind: Wind{Along: -3, Across: 2, Roughness: .03}}
	for b.Loop() {
		if _, err := m.Fly(l, at); err != nil {
			b.Fatal(err)
		}
	}
}

// The promise is 50 ms on one core for 60 shots.
func BenchmarkFitCoefficients(b *testing.B) {
	shots := ironMaker().shots(b, rand.New(rand.NewPCG(1, 0)), 60)
	for b.Loop() {
		if _, err := FitCoefficients(shots, Conditions{}, DragAndLift); err != nil {
			b.Fatal(err)
		}
	}
}

// The promise is 5 s for 1,000 resamples; here with 30 shots on either side.
func BenchmarkSplitGain(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 0))
	m := ironMaker()
	before, after := m.shots(b, rng, 30), m.changed(Launch{Speed: 3}).shots(b, rng, 30)
	f, err := FitCoefficients(append(append([]Shot{}, before...), after...), Conditions{}, DragAndLift)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := SplitGain(b.Context(), before, after, f, compare.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
