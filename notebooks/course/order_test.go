package course

import (
	"context"
	"math"
	"testing"
)

// By hand: balls 2 and 3 of a start that is cold by 8 and halves every ball are
// 4 and 2 short; half way through 3 balls a climb of 10 has reached 5.
func TestWhatADayDoes(t *testing.T) {
	if row := ColdTable(8, 1, 2, []int{1}).Rows[0]; row[0] != "1" || row[1] != "3.0" {
		t.Errorf("%v", row)
	}
	if s := (Day{Climb: 10}).shift(1, 3); s != 5 {
		t.Errorf("a climb reaches %g", s)
	}
}

// By hand: on a climb of 10 yd over 32 balls 16 new balls after 16 old ones come
// 16 steps of 10/31 later; old, new, old and a coin leave nothing of it.
func TestOrdersOnAClimb(t *testing.T) {
	const sessions, sd = 1000, 6.0
	day := Days(12, 3, 10)[2]
	for i, want := range []float64{160.0 / 31, 0, 0} {
		o := Orders()[i]
		got, err := o.outcome(context.Background(), day, sd, 0, sessions, random(4, uint64(i)))
		if err != nil {
			t.Fatal(err)
		}
		// The mean difference of 16 and 16 balls, or 11 and 22, and for the coin
		// what is left of the climb within a pair.
		se := sd * math.Sqrt(2.0/16) / math.Sqrt(sessions)
		if i == 2 {
			se = math.Hypot(se, 20.0/31/math.Sqrt(8*sessions))
		}
		if math.Abs(got.seems-want) > 4*se {
			t.Errorf("%s: seems to gain %.3f, want %.3f ± %.3f", o.Name, got.seems, want, 4*se)
		}
	}
}

// A true gain of twice the smallest is mostly called one, none hardly ever, on a
// day on which nothing else happens.
func TestOrdersOnAQuietDay(t *testing.T) {
	const sessions = 300
	for i, o := range Orders() {
		none, err1 := o.outcome(context.Background(), Day{}, 6, 0, sessions, random(5, uint64(i)))
		some, err2 := o.outcome(context.Background(), Day{}, 6, 10, sessions, random(6, uint64(i)))
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		// No gain lies 5 yd below the smallest worth having, far beyond the line of
		// “probably”, one chance in five at just that gain.
		if none.called > 5 || some.called < 75 {
			t.Errorf("%s: none called in %g of 100, ten yards in %g", o.Name, none.called, some.called)
		}
	}
}
