package lesson

import "testing"

// Source: the international yard and pound agreement of 1959, as printed in
// NIST Special Publication 811 (2008), Appendix B: 1 yd = 0.9144 m and
// 1 ft = 0.3048 m, both exact.
func TestUnitMetres(t *testing.T) {
	for _, tt := range []struct {
		u    Unit
		want float64
	}{{Yards, 0.9144}, {Feet, 0.3048}, {Metres, 1}, {"mile", 0}, {"", 0}} {
		if got := tt.u.Metres(); got != tt.want {
			t.Errorf("%q has %v metres, want %v", tt.u, got, tt.want)
		}
	}
}

// The same agreement: 317 yd are 289.8648 m (317 · 0.9144), 3 ft are 1 yd.
func TestReadConvertsSide(t *testing.T) {
	for _, tt := range []struct {
		header, side string
		want         float64
	}{
		{"carry_yd,side_ft", "3", 1},
		{"carry_yd,side_ft", "-1", -1.0 / 3},
		{"carry_m,side_yd", "317", 289.8648},
		{"carry_m,side_ft", "100", 30.48},
		{"carry_yd,side_m", "0.9144", 1},
		{"carry_ft,side_yd", "2.5", 7.5},
		{"carry_m,side_m", "0.1", 0.1},
	} {
		l := mustRead(t, tt.header+"\n400,"+tt.side+"\n", ReadOptions{})
		if got := l.Shots[0].Side; got != tt.want {
			t.Errorf("%s %s: got %v, want %v", tt.header, tt.side, got, tt.want)
		}
		if l.Shots[0].Carry != 400 {
			t.Errorf("carry became %v", l.Shots[0].Carry)
		}
	}
}
