package strokes

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// Source: expected putts of professionals by distance, from memory of M. Broadie,
// Every Shot Counts, 2014, not looked up. The player is the one fitted to the
// open table of 2018. Beyond 40 feet the model, on its flat green, needs up to a
// tenth of a putt less.
func TestHolingOutAgainstRememberedPutts(t *testing.T) {
	m, _, err := FitAngleDistance(readCounts(t, datasets.Putts2018File()))
	if err != nil {
		t.Fatal(err)
	}
	h, err := NewHolingOut(m)
	if err != nil {
		t.Fatal(err)
	}
	for feet, want := range map[float64]float64{3: 1.04, 5: 1.23, 8: 1.50, 10: 1.61, 20: 1.87, 30: 1.98, 40: 2.06, 60: 2.21, 90: 2.40} {
		p, err := h.Putts(feet * foot)
		if err != nil {
			t.Fatal(err)
		}
		tol := 0.02
		if feet > 40 {
			tol = 0.11
		}
		near(t, "expected putts", p.Expected, want, tol)
	}
}

// For every player: shares that sum to one, putts that never fall with the
// distance, and no fewer than one putt and a second for every miss.
func TestHolingOutOfAnyPlayer(t *testing.T) {
	for _, m := range []AngleDistanceModel{{.018, .08}, {.001, .001}, {.5, .5}, {1e-6, .5}, {.5, 1e-6}, {.04, .25}} {
		h, err := NewHolingOut(m)
		if err != nil {
			t.Fatal(err)
		}
		last := 0.0
		for x := 0.01; x <= greenReach; x += 0.173 {
			p, err := h.Putts(x)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "sum of shares", p.One+p.Two+p.Three, 1, 1e-12)
			if p.One < 0 || p.Two < 0 || p.Three < 0 || p.Expected < last-1e-12 || p.Expected < 2-p.One-1e-3 || math.IsInf(p.Expected, 0) {
				t.Fatalf("%v: %+v after %g", m, p, last)
			}
			last = p.Expected
		}
	}
}

func TestHolingOutThatCannotBe(t *testing.T) {
	if _, err := NewHolingOut(AngleDistanceModel{}); !errors.Is(err, ErrModel) {
		t.Errorf("no model: %v", err)
	}
	h, err := NewHolingOut(AngleDistanceModel{.02, .1})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []float64{-1, math.NaN(), math.Inf(1), 61} {
		var out *RangeError
		if p, err := h.Putts(x); !errors.As(err, &out) || p != (Putts{}) {
			t.Errorf("from %g m: %+v, %v", x, p, err)
		}
	}
	if _, err := h.Putts(0); !errors.Is(err, ErrPutts) {
		t.Errorf("in the hole: %v", err)
	}
}

// A game played putt by putt, from the words of the model alone.
func TestHolingOutAgainstPlay(t *testing.T) {
	r := rand.New(resample.NewStream(5, "putting out", 0))
	m := AngleDistanceModel{Angle: 0.03, Distance: 0.15}
	h, err := NewHolingOut(m)
	if err != nil {
		t.Fatal(err)
	}
	const games = 40_000
	for _, start := range []float64{1, 4, 15} {
		var sum, squares float64
		var counts [4]float64
		for range games {
			x, putts := start, 0
			for x > 0 {
				putts++
				run, angle := (x+overshot)*(1+m.Distance*r.NormFloat64()), m.Angle*r.NormFloat64()
				if x <= clearance || math.Abs(angle) < math.Asin(clearance/x) && run > x && run < x+tolerance {
					break
				}
				run = max(run, 0)
				x = math.Hypot(run*math.Cos(angle)-x, run*math.Sin(angle))
			}
			counts[min(putts, 3)]++
			sum += float64(putts)
			squares += float64(putts * putts)
		}
		p, err := h.Putts(start)
		if err != nil {
			t.Fatal(err)
		}
		mean := sum / games
		near(t, "expected", p.Expected, mean, 4*math.Sqrt((squares/games-mean*mean)/games)+1e-3)
		for k, share := range []float64{p.One, p.Two, p.Three} {
			near(t, "share", share, counts[k+1]/games, 4*math.Sqrt(share*(1-share)/games)+1e-3)
		}
	}
}

func BenchmarkHolingOut(b *testing.B) {
	for b.Loop() {
		if _, err := NewHolingOut(AngleDistanceModel{0.018, 0.08}); err != nil {
			b.Fatal(err)
		}
	}
}
