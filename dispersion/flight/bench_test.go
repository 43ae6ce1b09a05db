package flight

import "testing"

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
