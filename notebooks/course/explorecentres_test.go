package course

import (
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
)

// Every number and every name of the controls has a picture, and what is said of it
// is what the library says of the same balls.
func TestExploreCentres(t *testing.T) {
	const most = 30
	draw := ExploreCentres(most, 5, 60, 2)
	for n := 6; n <= most; n++ {
		for _, name := range CentreNames() {
			p, says, err := draw(n, name)
			if err != nil {
				t.Fatalf("%d balls, %s: %v", n, name, err)
			}
			if !strings.Contains(p.Alt(), name) || !strings.Contains(says, name) {
				t.Errorf("%d balls, %s: %q, %q", n, name, p.Alt(), says)
			}
		}
	}
	for wild, short := range map[int]float64{0: 0, 5: 60} {
		balls := OneSwing.Draw(random(2, 42), most)
		if wild > 0 {
			balls[wild-1].Y -= short
		}
		g, err := dispersion.NewGroup(balls[:12])
		if err != nil {
			t.Fatal(err)
		}
		for name, at := range map[string]dispersion.Point{"mean": g.Mean(), "geometric median": g.GeometricMedian().Point} {
			_, says, err := ExploreCentres(most, wild, short, 2)(12, name)
			if want := "The " + name + " of 12 balls lies " + tenths(distance(at, OneSwing.Centre)) + " yd"; err != nil || !strings.HasPrefix(says, want) {
				t.Errorf("%q, %v; want %q", says, err, want)
			}
		}
	}
}

func TestExploreCentresRefuses(t *testing.T) {
	draw := ExploreCentres(10, 0, 0, 1)
	for _, n := range []int{0, 11} {
		if _, _, err := draw(n, "mean"); err == nil {
			t.Errorf("%d balls of 10 give no error", n)
		}
	}
	if _, _, err := draw(10, "middle"); err == nil {
		t.Error("an unknown centre gives no error")
	}
}
