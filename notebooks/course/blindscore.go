package course

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// parseGuesses reads how sure a reader is, from 0 to 100, that each pair changed.
func parseGuesses(guesses string, pairs int) ([]float64, error) {
	fields := strings.Fields(strings.ReplaceAll(guesses, ",", " "))
	if len(fields) != pairs {
		return nil, fmt.Errorf("course: there are %d guesses for %d pairs: write one number for each", len(fields), pairs)
	}
	sure := make([]float64, pairs)
	for i, f := range fields {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil || !(v >= 0 && v <= 100) {
			return nil, fmt.Errorf("course: guess %d is %q: write how sure you are that pair %d changed, from 0 to 100", i+1, f, i+1)
		}
		sure[i] = v
	}
	return sure, nil
}

// A blindScore is how a row of guesses did.
type blindScore struct {
	hits, guessed int     // pairs on the right side of 50, and off it
	brier         float64 // mean squared distance of guess and truth, as shares
}

func score(sure []float64, pairs []blindPair) blindScore {
	var s blindScore
	for i, v := range sure {
		changed := pairs[i].truth != unchanged
		if v != 50 {
			s.guessed++
			s.hits += one((v > 50) == changed)
		}
		off := v/100 - float64(one(changed))
		s.brier += off * off / float64(len(sure))
	}
	return s
}

// BlindScore says how the guesses did: the hit rate with its interval, and what
// being sure was worth.
func BlindScore(guesses string, balls int, seed uint64) ([]string, error) {
	pairs, err := blindPairs(balls, seed)
	if err != nil {
		return nil, err
	}
	sure, err := parseGuesses(guesses, len(pairs))
	if err != nil {
		return nil, err
	}
	s := score(sure, pairs)
	out := []string{"Every guess is 50: nothing was guessed, and nothing can be scored."}
	if s.guessed > 0 {
		rate, err := compare.WilsonInterval(s.hits, s.guessed, 0.95)
		if err != nil {
			return nil, err
		}
		out = []string{fmt.Sprintf("%d of %d guesses were right: %.0f %%. So many guesses fit any hit rate from %.0f to %.0f %%; a coin has 50 %%.",
			s.hits, s.guessed, 100*float64(s.hits)/float64(s.guessed), 100*rate.Low, 100*rate.High)}
		if left := len(pairs) - s.guessed; left > 0 {
			out = append(out, fmt.Sprintf("%d left at 50 and not counted.", left))
		}
	}
	than := "no better than"
	if s.brier < 0.25 {
		than = "better than"
	}
	return append(out, fmt.Sprintf("Score of the sureness (mean squared error; 0 is perfect, always saying 50 gives 0.25): %.2f, %s always saying 50.", s.brier, than)), nil
}

// BlindCalibration holds what was said against what was so: of the pairs that a
// reader was so sure of, how many had changed?
func BlindCalibration(guesses string, balls int, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: "Calibration: of the pairs you were so sure of, how many had changed, and which shares so few pairs fit at 95 %.",
		Header:  []string{"Sure that it changed", "Pairs", "Said on average, %", "Had changed", "fits from, %", "to, %"},
	}
	pairs, err := blindPairs(balls, seed)
	if err != nil {
		return t, err
	}
	sure, err := parseGuesses(guesses, len(pairs))
	if err != nil {
		return t, err
	}
	for _, band := range []struct {
		low, high float64
		name      string
	}{{-1, 30, "0 to 30"}, {30, 69, "31 to 69"}, {69, 100, "70 to 100"}} {
		n, changed, said := 0, 0, 0.0
		for i, v := range sure {
			if v > band.low && v <= band.high {
				n++
				changed += one(pairs[i].truth != unchanged)
				said += v
			}
		}
		if n == 0 {
			t.Rows = append(t.Rows, []string{band.name, "0"})
			continue
		}
		share, err := compare.WilsonInterval(changed, n, 0.95)
		if err != nil {
			return t, err
		}
		t.Rows = append(t.Rows, []string{band.name, fmt.Sprint(n), fmt.Sprintf("%.0f", said/float64(n)), fmt.Sprint(changed),
			fmt.Sprintf("%.0f", 100*share.Low), fmt.Sprintf("%.0f", 100*share.High)})
	}
	return t, nil
}

// BlindAnswers tells the truth of each pair beside the guess, and what the two
// intervals say of the same dots.
func BlindAnswers(ctx context.Context, guesses string, balls int, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("The answers. Longer means %g yd of carry, tighter %.0f %% of the old spread radius. The intervals are at %.1f %%.", BlindGain, 100*BlindRadius, 100*blindLevel),
		Header:  []string{"Pair", "Truth", "You were sure, %", "You", "The intervals see"},
	}
	pairs, err := blindPairs(balls, seed)
	if err != nil {
		return t, err
	}
	sure, err := parseGuesses(guesses, len(pairs))
	if err != nil {
		return t, err
	}
	for i, p := range pairs {
		carry, spread, err := p.intervals(ctx, blindLevel)
		if err != nil {
			return t, err
		}
		sees := "can't tell"
		switch {
		case carry && spread:
			sees = "another carry and another spread"
		case carry:
			sees = "another carry"
		case spread:
			sees = "another spread"
		}
		you := "missed"
		switch {
		case sure[i] == 50:
			you = "no guess"
		case (sure[i] > 50) == (p.truth != unchanged):
			you = "right"
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(i + 1), p.truth.String(), fmt.Sprintf("%g", sure[i]), you, sees})
	}
	return t, nil
}
