package course

import (
	"context"
	"strings"
	"testing"
)

func TestBlindPairsAreHalfUnchanged(t *testing.T) {
	orders := map[string]bool{}
	for seed := range uint64(5) {
		pairs, err := blindPairs(8, seed)
		if err != nil {
			t.Fatal(err)
		}
		var count [3]int
		var order strings.Builder
		for _, p := range pairs {
			count[p.truth]++
			order.WriteString(p.truth.String())
			if len(p.Before) != 8 || len(p.After) != 8 {
				t.Errorf("%d and %d balls", len(p.Before), len(p.After))
			}
		}
		if count != [3]int{10, 5, 5} {
			t.Errorf("seed %d: %v", seed, count)
		}
		orders[order.String()] = true
	}
	if len(orders) < 5 {
		t.Error("two seeds give one order")
	}
	if _, err := blindPairs(2, 1); err == nil {
		t.Error("two balls were taken")
	}
}

// By hand: twenty guesses of 50 are no guess and score 0.25; knowing all of them
// scores 0, and to be sure of the opposite 1.
func TestScore(t *testing.T) {
	pairs, err := blindPairs(8, 5)
	if err != nil {
		t.Fatal(err)
	}
	know, fool, shrug := make([]float64, 20), make([]float64, 20), make([]float64, 20)
	for i, p := range pairs {
		shrug[i] = 50
		know[i] = 100 * float64(one(p.truth != unchanged))
		fool[i] = 100 - know[i]
	}
	for _, c := range []struct {
		sure []float64
		hits int
		of   int
		mse  float64
	}{{know, 20, 20, 0}, {fool, 0, 20, 1}, {shrug, 0, 0, 0.25}} {
		s := score(c.sure, pairs)
		if s.hits != c.hits || s.guessed != c.of {
			t.Errorf("%d of %d, want %d of %d", s.hits, s.guessed, c.hits, c.of)
		}
		near(t, "mean squared error", s.brier, c.mse, 1e-12)
	}
}

func TestGuessesThatCannotBeRead(t *testing.T) {
	twenty := strings.Repeat("50 ", 20)
	for guesses, says := range map[string]string{
		"":                                      "0 guesses",
		twenty + "50":                           "21 guesses",
		strings.Replace(twenty, "50", "101", 1): "guess 1 ",
		strings.Replace(twenty, "50", "NaN", 1): "guess 1 ",
		strings.Replace(twenty, "50", "yes", 1): "guess 1 ",
	} {
		if _, err := BlindScore(guesses, 8, 5); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v", guesses, err)
		}
	}
	says, err := BlindScore(strings.ReplaceAll(twenty, " ", ", "), 8, 5) // one comma too many
	if err != nil || len(says) != 2 || !strings.Contains(says[0], "nothing was guessed") {
		t.Errorf("%q, %v", says, err)
	}
}

// Every pair falls into one band of the calibration, and every answer is told.
func TestBlindTablesAreWhole(t *testing.T) {
	guesses := "0 5 30 31 35 40 45 49 50 51 55 60 65 69 70 75 80 90 95 100"
	bands, err := BlindCalibration(guesses, 8, 5)
	if err != nil {
		t.Fatal(err)
	}
	changed := 0.0
	for row, want := range []float64{3, 11, 6} {
		near(t, bands.Rows[row][0], cell(t, bands, row, 1), want, 0)
		changed += cell(t, bands, row, 3)
	}
	near(t, "changed in all", changed, 10, 0)
	answers, err := BlindAnswers(context.Background(), guesses, 8, 5)
	if err != nil {
		t.Fatal(err)
	}
	if len(answers.Rows) != 20 || answers.Rows[8][3] != "no guess" {
		t.Errorf("%v", answers.Rows)
	}
}

// Two intervals at 97.5 % raise a false alarm in at most 5 of 100 pairs or a
// little more, since the spread's is not exact; more balls see more.
func TestBlindBalls(t *testing.T) {
	const pairs = 400
	table, err := BlindBalls(context.Background(), []int{8, 40}, pairs, 5)
	if err != nil {
		t.Fatal(err)
	}
	for row := range table.Rows {
		if alarm := cell(t, table, row, 3); alarm > 5+fourSDs(5, pairs, 1) {
			t.Errorf("%g false alarms of 100", alarm)
		}
	}
	near(t, "right by hand", seenOf{unchanged: 10, longer: 80, tighter: 60}.right(), 80, 1e-12)
	for column := 1; column <= 2; column++ {
		if few, many := cell(t, table, 0, column), cell(t, table, 1, column); !(many > few+30 && many > 90) {
			t.Errorf("%s: %g, then %g", table.Header[column], few, many)
		}
	}
}
