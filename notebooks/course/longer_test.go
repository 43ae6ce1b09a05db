package course

import (
	"context"
	"math"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/compare"
)

// By hand: 100·tan 3° = 5.24; ten yards at 100 are 5.71°, 1.904 standard
// deviations, within which the normal law has 0.943 (a table's 2·0.9715 - 1).
func TestFanTable(t *testing.T) {
	row := FanTable(3, []float64{100}).Rows[0]
	if row[0] != "100" || row[1] != "5.2" || row[2] != "94" {
		t.Errorf("%v", row)
	}
}

func TestAimerDrawsWhatItSays(t *testing.T) {
	const n = 20000
	a := Aimer{Carry: 140, CarrySD: 6, Angle: 3, Wilder: 0.3, Mishits: 0.1}
	shots, mishit := a.draw(random(1, 1), n)
	mishits := 0
	var nearSquares, near float64 // balls within a yard of 150, where the spread is 1.3 times that of 140
	for i, p := range shots {
		if mishit[i] {
			mishits++
			continue
		}
		if math.Abs(p.Y-150) < 1 {
			angle := math.Atan2(p.X, p.Y)
			nearSquares += angle * angle
			near++
		}
	}
	if share := float64(mishits) / n; math.Abs(share-0.1) > 4*math.Sqrt(0.09/n) {
		t.Errorf("%.4f are mishits, want 0.1", share)
	}
	sd, want := math.Sqrt(nearSquares/near), 1.3*radians(3)
	if band := 4 * want / math.Sqrt(2*near); math.Abs(sd-want) > band {
		t.Errorf("at 150 yd the angles spread %.4f, want %.4f ± %.4f from %g balls", sd, want, band, near)
	}
}

// Where there is nothing to believe in, both beliefs together are found no more
// often than a 95 % interval errs; where there is, the wrong one hardly ever is.
func TestBeliefsFound(t *testing.T) {
	const lessons = 1000
	for _, a := range Aimers(0.3) {
		count, err := a.beliefs(context.Background(), 20, lessons, true, random(2, 2))
		if err != nil {
			t.Fatal(err)
		}
		wilder, truer := float64(count[compare.HarderWilder])/lessons, float64(count[compare.HarderTruer])/lessons
		band := 4 * math.Sqrt(0.05*0.95/lessons)
		switch {
		case a.Wilder == 0 && wilder+truer > 0.05+band:
			t.Errorf("no link, yet found in %.3f and %.3f", wilder, truer)
		case a.Wilder > 0 && !(wilder > 0.05+band && truer < 0.025),
			a.Wilder < 0 && !(truer > 0.05+band && wilder < 0.025):
			t.Errorf("link %+.1f: wilder in %.3f, truer in %.3f", a.Wilder, wilder, truer)
		}
	}
}

// Mishits left out leave nothing to believe in; counted they make harder look truer.
func TestMishitsMakeHarderLookTruer(t *testing.T) {
	const lessons = 500
	a := Aimers(0)[0]
	a.Mishits = 0.1
	counted, err1 := a.beliefs(context.Background(), 40, lessons, false, random(3, 1))
	clean, err2 := a.beliefs(context.Background(), 40, lessons, true, random(3, 1))
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	band := 4 * lessons * math.Sqrt(0.025*0.975/lessons)
	if c := clean[compare.HarderTruer]; float64(c) > 0.025*lessons+band {
		t.Errorf("left out: truer in %d", c)
	}
	if c := counted[compare.HarderTruer]; c < lessons/3 {
		t.Errorf("counted: truer in %d of %d", c, lessons)
	}
}
