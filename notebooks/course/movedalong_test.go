package course

import (
	"context"
	"math"
	"regexp"
	"strconv"
	"testing"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/flight"
	"github.com/landfall-golf/landfall/notebooks/show"
)

func flown(t *testing.T) Flown {
	t.Helper()
	f, err := FlyLesson()
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func cells(t *testing.T, table show.TableData, row, from, to int) []float64 {
	t.Helper()
	var values []float64
	for _, text := range table.Rows[row][from:to] {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		values = append(values, v)
	}
	return values
}

// In every order the steps add up to the same whole, and a step may differ by order.
func TestOrdersTable(t *testing.T) {
	table, err := flown(t).OrdersTable()
	if err != nil {
		t.Fatal(err)
	}
	if len(table.Rows) != 6 {
		t.Fatalf("%d orders of three things", len(table.Rows))
	}
	seen := map[float64]bool{}
	for i := range table.Rows {
		v := cells(t, table, i, 1, 5)
		if math.Abs(v[0]+v[1]+v[2]-v[3]) > 0.021 || v[3] != cells(t, table, 0, 4, 5)[0] {
			t.Errorf("%v: the steps come to %.2f, together %.2f", table.Rows[i][0], v[0]+v[1]+v[2], v[3])
		}
		seen[v[0]] = true
	}
	if len(seen) < 3 {
		t.Errorf("ball speed adds only %v", seen)
	}
}

// The parts add up to the gain, by flights and by regression.
func TestPartsTable(t *testing.T) {
	f := flown(t)
	table, err := f.PartsTable(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	gain := 0.0
	for _, s := range f.After {
		gain += s.Carry / flight.Yard / float64(len(f.After))
	}
	for _, s := range f.Before {
		gain -= s.Carry / flight.Yard / float64(len(f.Before))
	}
	byFlights, byRegression := 0.0, 0.0
	for i := range table.Rows {
		byFlights += cells(t, table, i, 1, 2)[0]
		byRegression += cells(t, table, i, 4, 5)[0]
	}
	for _, sum := range []float64{byFlights, byRegression} {
		if math.Abs(sum-gain) > 0.26 { // five numbers rounded to tenths
			t.Errorf("the parts come to %.1f of %.2f", sum, gain)
		}
	}
}

// Thin air carries farther: warm, high, and damp too.
//
// Source: A. Picard, R. S. Davis, M. Gläser, K. Fujii, "Revised formula for the
// density of moist air (CIPM-2007)", Metrologia 45, 2008: damp air is lighter.
func TestAirTable(t *testing.T) {
	table, err := flown(t).AirTable([]Weather{{5, 0, .5}, {15, 0, .5}, {30, 0, 0}, {30, 0, 1}, {30, 2000, 1}})
	if err != nil {
		t.Fatal(err)
	}
	last := cells(t, table, 0, 3, 5)
	for i := range table.Rows[1:] {
		now := cells(t, table, i+1, 3, 5)
		if now[0] >= last[0] || now[1] <= last[1] {
			t.Errorf("%v after %v", table.Rows[i+1], table.Rows[i])
		}
		last = now
	}
}

// The truth of the demo lesson: the new swing strikes better and swings no faster.
func TestStrikeTable(t *testing.T) {
	table, err := flown(t).StrikeTable()
	if err != nil {
		t.Fatal(err)
	}
	first, gained, last := cells(t, table, 0, 2, 5), cells(t, table, 2, 2, 5), cells(t, table, 3, 2, 5)
	if gained[2] < first[2]+0.05 || math.Abs(last[2]-first[2]) > 0.03 || math.Abs(gained[0]-first[0]) > 2 {
		t.Errorf("%v, %v, %v", first, gained, last)
	}
	shapes, err := flown(t).ShapesTable(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for i, row := range shapes.Rows {
		v := cells(t, shapes, i, 1, 10)
		if math.Abs(v[2]+v[5]-100) > 1 || v[6]+v[7]+v[8] != v[0] {
			t.Errorf("%v: shares or words that don't add up", row)
		}
	}
}

// By hand: 0.6 - 0.5, and roots of 0.03² + 0.04² and 0.08² + 0.06².
func TestShareMoved(t *testing.T) {
	share := func(low, p, high float64) flight.Share {
		return flight.Share{Estimate: p, Interval: dispersion.Interval{Low: low, High: high}}
	}
	d, low, high := shareMoved(share(0.44, 0.50, 0.54), share(0.57, 0.60, 0.68))
	if math.Abs(d-0.1) > 1e-12 || math.Abs(low-0.05) > 1e-12 || math.Abs(high-0.2) > 1e-12 {
		t.Errorf("%g, %g to %g; want 0.1, 0.05 to 0.2", d, low, high)
	}
}

// The sentences agree with the means and shares of the tables beside them.
func TestStrikeAndMixSentences(t *testing.T) {
	f, ctx := flown(t), context.Background()
	table, err := f.StrikeTable()
	if err != nil {
		t.Fatal(err)
	}
	says, err := f.StrikeSentences(ctx)
	if err != nil || len(says) != 2 {
		t.Fatalf("%v, %v", says, err)
	}
	first, last := cells(t, table, 0, 2, 5), cells(t, table, 2, 2, 5)
	mix, err := f.MixSentence(ctx)
	if err != nil {
		t.Fatal(err)
	}
	shapes, err := f.ShapesTable(ctx)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		sentence   string
		want, band float64 // the tables round
	}{
		{says[0], last[0] - first[0], 0.11}, {says[1], last[1] - first[1], 0.11},
		{mix, cells(t, shapes, 2, 1, 10)[2] - cells(t, shapes, 0, 1, 10)[2], 1},
	} {
		n := regexp.MustCompile(`[+-]\d+(\.\d)?`).FindAllString(c.sentence, -1)
		var v [3]float64
		for i := range v {
			if len(n) != 3 {
				t.Fatalf("%q", c.sentence)
			}
			if v[i], err = strconv.ParseFloat(n[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		if math.Abs(v[0]-c.want) > c.band || !(v[1] < v[0] && v[0] < v[2]) {
			t.Errorf("%q, want %.1f inside its interval", c.sentence, c.want)
		}
	}
}
