package course

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"testing"
)

// Source: R 4.2.2, power.t.test(n, delta = 5, sd = 6, strict = TRUE) for 13, 24
// and 39 balls.
func TestPowerTableCountsWhatThePlanPromises(t *testing.T) {
	const lessons = 2000
	table, err := PowerTable(context.Background(), 6, 5, []float64{0.5, 0.8, 0.95}, lessons, 3)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct {
		balls int
		power float64
	}{{13, 0.53161625}, {24, 0.80676699}, {39, 0.9528412}} {
		row := table.Rows[i]
		if row[1] != fmt.Sprint(want.balls) {
			t.Errorf("%s balls, want %d", row[1], want.balls)
		}
		got, err := strconv.ParseFloat(row[2], 64)
		if err != nil {
			t.Fatal(err)
		}
		if band := 4 * 100 * math.Sqrt(want.power*(1-want.power)/lessons); math.Abs(got-100*want.power) > band {
			t.Errorf("%d balls: showed in %g of 100, want %.2f ± %.2f", want.balls, got, 100*want.power, band)
		}
	}
}

// Without a gain one look errs upward as often as its level says, and looks that
// are paid for no oftener, at however many balls.
func TestLooksWithoutAGain(t *testing.T) {
	const lessons = 2000
	found, err := Looks{Old: 20, First: 6, Last: 30}.lookAt(context.Background(), 6, 0, lessons, 5, 1)
	if err != nil {
		t.Fatal(err)
	}
	band := 4 * 100 * math.Sqrt(0.025*0.975/lessons)
	if got := found[0].share(lessons); math.Abs(got-2.5) > band {
		t.Errorf("one look errs in %g of 100, want 2.5 ± %.2f", got, band)
	}
	if got := found[2].share(lessons); got > 5+band {
		t.Errorf("paid looks err in %g of 100", got)
	}
	if found[1].lessons < 2*found[0].lessons {
		t.Errorf("looking after each ball errs in %d lessons, one look in %d", found[1].lessons, found[0].lessons)
	}
	if found[0].lessons > 0 && found[0].mean() != 30 {
		t.Errorf("one look comes after %g balls", found[0].mean())
	}
}
