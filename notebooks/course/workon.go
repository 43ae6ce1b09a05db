package course

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// A Habit is an invented pupil of whom everything is known, as shares of the
// distance that is meant: how far beside the target line the shots are centred,
// how wide they are, and how many are mishit and carry 55 to 75 % of the way.
type Habit struct {
	Bias, Across, Along float64
	Mishits             float64
}

// FormerHabit is what the first stage of the demo lesson was drawn from.
var FormerHabit = Habit{Bias: 5.0 / 117, Across: 8.0 / 117, Along: 6.0 / 117, Mishits: 0.1}

// WorkTable says what one thing at a time is worth to a pupil who aims at the
// flag from a distance in yards: the mean over drawn balls, the same for all
// rows, so that luck hardly enters the differences.
func (r Round) WorkTable(h Habit, yards float64, balls int, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("An approach from %.0f yd, aimed at the flag: strokes until the ball is in the hole, and what one change alone saves, give or take two standard errors of %d drawn balls.", yards, balls),
		Header:  []string{"The pupil", "Strokes", "Saves a shot", "Give or take"},
	}
	struck, straight, tight := h, h, h
	struck.Mishits, straight.Bias = 0, 0
	tight.Across, tight.Along = 0.8*h.Across, 0.8*h.Along
	now, err := r.strokesOf(h, yards, balls, seed)
	if err != nil {
		return t, err
	}
	t.Rows = append(t.Rows, []string{"as she came", twoPlaces(meanOf(now)), "0", "0"})
	for _, c := range []struct {
		name  string
		habit Habit
		yards float64
	}{
		{"without the mishits", struck, yards},
		{"without the bias", straight, yards},
		{"with a fifth less spread", tight, yards},
		{"10 yd nearer, by a longer drive", h, yards - 10},
	} {
		then, err := r.strokesOf(c.habit, c.yards, balls, seed)
		if err != nil {
			return t, err
		}
		saved, squares := 0.0, 0.0
		for i := range now {
			d := now[i] - then[i]
			saved += d
			squares += d * d
		}
		n := float64(balls)
		saved /= n
		se := math.Sqrt((squares/n - saved*saved) / n)
		t.Rows = append(t.Rows, []string{c.name, twoPlaces(meanOf(then)), twoPlaces(saved), fmt.Sprintf("%.3f", 2*se)})
	}
	return t, nil
}

// strokesOf draws balls and says what each costs, all aimed at the flag.
func (r Round) strokesOf(h Habit, yards float64, balls int, seed uint64) ([]float64, error) {
	view, err := r.Hole.Approach(metres(yards), r.Baseline)
	if err != nil {
		return nil, err
	}
	costs := make([]float64, balls)
	for i, p := range h.draw(balls, view.Distance(), seed) {
		if costs[i], err = view.Strokes(p); err != nil {
			return nil, fmt.Errorf("course: ball %d: %w", i+1, err)
		}
	}
	return costs, nil
}

// draw returns balls meant to go so far along the target line. Every ball takes
// four numbers of the seed, so that two habits differ only in what they are.
func (h Habit) draw(n int, distance float64, seed uint64) []dispersion.Point {
	source := random(seed, 100)
	shots := make([]dispersion.Point, n)
	for i := range shots {
		across, along, lot, left := source.NormFloat64(), source.NormFloat64(), source.Float64(), source.Float64()
		p := dispersion.Point{X: distance * (h.Bias + h.Across*across), Y: distance * (1 + h.Along*along)}
		if lot < h.Mishits {
			share := 0.55 + 0.2*left
			p.X, p.Y = p.X*share, p.Y*share
		}
		shots[i] = p
	}
	return shots
}

func meanOf(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}
