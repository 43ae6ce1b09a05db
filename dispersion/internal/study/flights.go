package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/flight"
)

const flightLessons = 60

// flightBalls are the balls that the study flies: one of the form that is fitted,
// and two that are not.
var flightBalls = []struct {
	name string
	form flight.Form
}{
	{"of the form that is fitted", flight.Form{Drag: .22, DragSpin: .18, DragReynolds: .06, Lift: .50, LiftPower: .4}},
	{"with more drag from spin", flight.Form{Drag: .20, DragSpin: .45, Lift: .62, LiftPower: .6}},
	{"with drag that spin leaves alone", flight.Form{Drag: .26, DragReynolds: .03, Lift: .30, LiftPower: .2}},
}

// flights writes how often the split of a gain holds what is true of the swings,
// and how far a change of air is off, when the ball is another than was thought.
func flights(out string, seed uint64) error {
	var b strings.Builder
	fmt.Fprintf(&b, `# Flights: what a gain taken apart holds

Made by `+"`go run ./dispersion/internal/study flight`"+`, seed %d, %d lessons for every row. Two stages with a 7 iron: 38 m/s of ball speed, 19° of launch,
5,500 rpm and 2° of tilt before; 2.5 m/s more, 1° less, 400 rpm less and 4° less after, which carries some 11 m further. Shots vary by 1.2 m/s, 1.2°,
400 rpm, 2° of start line and 5° of tilt. The device errs by 0.2 m/s, 0.2°, 80 rpm, 1 m of carry and side, 0.4 m of apex and 0.6° of descent.

Drag and lift are fitted to both stages together, whatever the ball. The truth of the parts is that of the same 30 shots with and without the change, flown
with the ball as it is. *Held*: the share of the 95 %% intervals of the five parts of the carry that hold the truth, in per cent; lessons being few, it is off by
up to 11 by chance. *Width*: of the interval of the part of ball speed, on average. *Disagree*: how often the flights and the regression are said to.

| ball | shots a stage | held, flights | width, m | held, regression | width, m | disagree |
| --- | ---: | ---: | ---: | ---: | ---: | ---: |
`, seed, flightLessons)
	for _, ball := range flightBalls {
		for _, n := range []int{5, 10, 20} {
			fmt.Fprintf(os.Stderr, "flight: a ball %s, n = %d\n", ball.name, n)
			row, err := splitsHeld(ball.form, n, flightLessons, seed)
			if err != nil {
				return err
			}
			second, width := "–", "–"
			if row.regressed > 0 {
				second, width = fmt.Sprintf("%.1f", 100*row.regression), fmt.Sprintf("%.1f", row.regressionWidth)
			}
			fmt.Fprintf(&b, "| %s | %d | %.1f | %.1f | %s | %s | %.1f |\n", ball.name, n, 100*row.flights, row.width, second, width, 100*row.disagree)
		}
	}
	b.WriteString(`
A dash: too few shots for the regression.

## Carried to other air

Twelve shots of the same swing, measured without error in air of 2 °C, fitted, and carried to air of 30 °C. *Standard error*: what InAir says it is unsure of.

| ball | change of the mean carry, m | by InAir | standard error |
| --- | ---: | ---: | ---: |
`)
	for _, ball := range flightBalls {
		truth, c, err := carriedToHeat(ball.form, seed)
		if err != nil {
			return err
		}
		fmt.Fprintf(&b, "| %s | %.2f | %.2f | %.2f |\n", ball.name, truth, c.MeanChange, c.MeanSE)
	}
	return os.WriteFile(filepath.Join(out, "flight.md"), []byte(b.String()), 0o644)
}

// A swing hits shots about a mean launch.
type swing struct {
	mean flight.Launch
	form flight.Form
	errs float64 // of the device: 1 as described, 0 for none
	at   flight.Conditions
}

func oldSwing(form flight.Form) swing {
	return swing{form: form, errs: 1, mean: flight.Launch{
		Speed: 38, Angle: 19 * flight.Degree, Direction: 1 * flight.Degree, Spin: 5500 * flight.RPM, Tilt: 2 * flight.Degree,
	}}
}

func (s swing) changed() swing {
	s.mean.Speed += 2.5
	s.mean.Angle -= 1 * flight.Degree
	s.mean.Spin -= 400 * flight.RPM
	s.mean.Tilt -= 4 * flight.Degree
	return s
}

func (s swing) hit(r *rand.Rand, n int) ([]flight.Shot, error) {
	g := r.NormFloat64
	shots := make([]flight.Shot, n)
	for i := range shots {
		l := s.mean
		l.Speed += 1.2 * g()
		l.Angle += 1.2 * flight.Degree * g()
		l.Direction += 2 * flight.Degree * g()
		l.Spin += 400 * flight.RPM * g()
		l.Tilt += 5 * flight.Degree * g()
		f, err := flight.Model{Coefficients: s.form}.Fly(l, s.at)
		if err != nil {
			return nil, err
		}
		e := func(sd float64) float64 { return s.errs * sd * g() }
		l.Speed += e(.2)
		l.Angle += e(.2 * flight.Degree)
		l.Spin += e(80 * flight.RPM)
		shots[i] = flight.Shot{Launch: l, Carry: f.Carry + e(1), Side: f.Side + e(1), Apex: f.Apex + e(.4), Descent: f.Descent + e(.6*flight.Degree)}
	}
	return shots, nil
}

// A splitRow is what many lessons made of the parts of a carry.
type splitRow struct {
	flights, regression    float64 // shares of the intervals that held the truth
	width, regressionWidth float64 // of the part of ball speed, on average, m
	disagree               float64
	regressed              int
}

func splitsHeld(form flight.Form, n, lessons int, seed uint64) (row splitRow, err error) {
	truth, err := splitTruth(form, seed)
	if err != nil {
		return row, err
	}
	r := rand.New(rand.NewPCG(seed, uint64(n)))
	for range lessons {
		split, err := splitOne(r, oldSwing(form), n, compare.Options{Resamples: 400})
		if err != nil {
			return row, err
		}
		for k, p := range split.Parts {
			if i := p.Flight.Interval; i.Low <= truth[k] && truth[k] <= i.High {
				row.flights += 1 / float64(5*lessons)
			}
			if p.Regression == nil {
				continue
			}
			row.regressed++
			if i := p.Regression.Interval; i.Low <= truth[k] && truth[k] <= i.High {
				row.regression++
			}
			if k == 0 {
				row.regressionWidth += p.Regression.Interval.High - p.Regression.Interval.Low
			}
		}
		row.width += (split.Parts[0].Flight.Interval.High - split.Parts[0].Flight.Interval.Low) / float64(lessons)
		if split.Agreement == flight.Disagree {
			row.disagree += 1 / float64(lessons)
		}
	}
	if row.regressed > 0 {
		row.regression /= float64(row.regressed)
		row.regressionWidth /= float64(row.regressed) / 5
	}
	return row, nil
}

func splitOne(r *rand.Rand, s swing, n int, o compare.Options) (flight.Split, error) {
	before, err := s.hit(r, n)
	if err != nil {
		return flight.Split{}, err
	}
	after, err := s.changed().hit(r, n)
	if err != nil {
		return flight.Split{}, err
	}
	fit, err := flight.FitCoefficients(append(append([]flight.Shot{}, before...), after...), s.at, flight.DragAndLift)
	if err != nil {
		return flight.Split{}, err
	}
	all, err := flight.SplitGain(context.Background(), before, after, fit, o)
	return all.Carry, err
}

// splitTruth returns the parts of the same shots with and without the change: a
// fit cannot have the form of another ball, so each pair is flown here.
func splitTruth(form flight.Form, seed uint64) (truth [5]float64, err error) {
	s := oldSwing(form)
	s.errs = 0
	var hit [2][]flight.Shot
	for k, of := range []swing{s, s.changed()} {
		if hit[k], err = of.hit(rand.New(rand.NewPCG(seed, 0)), 30); err != nil {
			return truth, err
		}
	}
	model := flight.Model{Coefficients: form}
	orders := permutations()
	for i, from := range hit[0] {
		to := hit[1][(i+7)%30].Launch // another shot, as the split pairs them all
		for _, order := range orders {
			l := from.Launch
			f, err := model.Fly(l, s.at)
			if err != nil {
				return truth, err
			}
			for _, k := range order {
				switch k {
				case 0:
					l.Speed = to.Speed
				case 1:
					l.Angle = to.Angle
				case 2:
					l.Spin = to.Spin
				case 3:
					l.Direction, l.Tilt = to.Direction, to.Tilt
				}
				next, err := model.Fly(l, s.at)
				if err != nil {
					return truth, err
				}
				truth[k] += (next.Carry - f.Carry) / float64(30*len(orders))
				f = next
			}
		}
	}
	return truth, nil // nothing is left for the rest
}

// permutations returns the 24 orders of four.
func permutations() (orders [][4]int) {
	for code := range 256 {
		order := [4]int{code & 3, code >> 2 & 3, code >> 4 & 3, code >> 6 & 3}
		if 1<<order[0]|1<<order[1]|1<<order[2]|1<<order[3] == 15 {
			orders = append(orders, order)
		}
	}
	return orders
}

func carriedToHeat(form flight.Form, seed uint64) (truth float64, c flight.Carried, err error) {
	cold, err := flight.MoistAir(2, 101000, .8)
	if err != nil {
		return 0, c, err
	}
	hot, err := flight.MoistAir(30, 101000, .5)
	if err != nil {
		return 0, c, err
	}
	s := oldSwing(form)
	s.errs, s.at = 0, flight.Conditions{Air: cold.Air()}
	shots, err := s.hit(rand.New(rand.NewPCG(seed, 0)), 12)
	if err != nil {
		return 0, c, err
	}
	fit, err := flight.FitCoefficients(shots, s.at, flight.DragAndLift)
	if err != nil {
		return 0, c, err
	}
	to := flight.Conditions{Air: hot.Air()}
	for _, shot := range shots {
		f, err := flight.Model{Coefficients: form}.Fly(shot.Launch, to)
		if err != nil {
			return 0, c, err
		}
		truth += (f.Carry - shot.Carry) / float64(len(shots))
	}
	c, err = flight.InAir(shots, fit, to)
	return truth, c, err
}
