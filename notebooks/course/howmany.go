package course

import (
	"context"
	"fmt"
	"math/rand/v2"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// The power and the level of the plans here: a true gain shows in four of five
// lessons, and none is seen where there is none in nineteen of twenty.
const (
	planPower = 0.80
	planLevel = 0.95
)

// drawCarries returns n normal carries in yards.
func drawCarries(r *rand.Rand, n int, mean, sd float64) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = mean + sd*r.NormFloat64()
	}
	return x
}

// quick are the options of a comparison whose p nobody looks at.
func quick(level float64) compare.Options { return compare.Options{Level: level, Resamples: 1} }

// BallsTable says how many balls a stage it takes for a gain in carry to show.
func BallsTable(sds, gains []float64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("Balls before, and as many after, for a true gain to show in %.0f of 100 lessons, by the spread of single carries (σ, yd). A rule of thumb: 16·(σ/gain)², and one more.", 100*planPower),
		Header:  []string{"True gain, yd"},
	}
	for _, sd := range sds {
		t.Header = append(t.Header, fmt.Sprintf("σ = %g", sd))
	}
	for _, gain := range gains {
		row := []string{fmt.Sprintf("%g", gain)}
		for _, sd := range sds {
			n, err := compare.BallsForCarry(sd, gain, planPower, planLevel)
			if err != nil {
				return t, err
			}
			row = append(row, fmt.Sprint(n))
		}
		t.Rows = append(t.Rows, row)
	}
	return t, nil
}

// SameLessons draws the intervals of lessons that differ in luck alone: the same
// true gain, the same numbers of balls.
func SameLessons(ctx context.Context, lessons, balls int, sd, gain float64, seed uint64) (chart.Figure, error) {
	r := random(seed, 1)
	var rows []chart.Effect
	clear := 0
	for i := range lessons {
		before, after := drawCarries(r, balls, 140, sd), drawCarries(r, balls, 140+gain, sd)
		wide, err1 := compare.MeanGain(ctx, compare.NameCarryGain, "yd", before, after, quick(planLevel))
		narrow, err2 := compare.MeanGain(ctx, compare.NameCarryGain, "yd", before, after, quick(0.80))
		if err1 != nil || err2 != nil {
			return chart.Figure{}, fmt.Errorf("course: lesson %d: %w, %w", i+1, err1, err2)
		}
		says := ""
		if wide.Interval.Low > 0 {
			says, clear = "shows", clear+1
		}
		rows = append(rows, chart.Effect{Name: fmt.Sprintf("lesson %d", i+1), Says: says, Unit: "yd", Estimate: wide.Estimate,
			Narrow: narrow.Interval, Wide: wide.Interval, Smallest: 5, N1: balls, N2: balls})
	}
	return chart.Effects(chart.EffectsInput{
		Title: fmt.Sprintf("A true gain of %g yd, %d balls each: it shows in %d of %d lessons", gain, balls, clear, lessons), Rows: rows,
	})
}

// PowerTable draws lessons of as many balls as a plan asks for, and counts in how
// many the gain shows.
func PowerTable(ctx context.Context, sd, gain float64, powers []float64, lessons int, seed uint64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("A true gain of %g yd at σ = %g yd: how often it shows by formula, and in %d simulated lessons.", gain, sd, lessons),
		Header:  []string{"To show in so many of 100", "Balls each", "Showed, of 100"},
	}
	for i, power := range powers {
		n, err := compare.BallsForCarry(sd, gain, power, planLevel)
		if err != nil {
			return t, err
		}
		r := random(seed, 10+uint64(i))
		shows := 0
		for range lessons {
			e, err := compare.MeanGain(ctx, compare.NameCarryGain, "yd", drawCarries(r, n, 140, sd), drawCarries(r, n, 140+gain, sd), quick(planLevel))
			if err != nil {
				return t, err
			}
			if e.Interval.Low > 0 || e.Interval.High < 0 {
				shows++
			}
		}
		t.Rows = append(t.Rows, []string{fmt.Sprintf("%.0f", 100*power), fmt.Sprint(n), fmt.Sprintf("%.1f", 100*float64(shows)/float64(lessons))})
	}
	return t, nil
}

// DialTable turns the plan round: what so many balls can show.
func DialTable(sd float64, sizes []int) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("What shows in %.0f of 100 lessons with so many balls before and as many after, at σ = %g yd.", 100*planPower, sd),
		Header:  []string{"Balls each", "Smallest gain, yd", "Radius must shrink by, %"},
	}
	for _, n := range sizes {
		gain, err := compare.SmallestCarryShown(sd, n, planPower, planLevel)
		if err != nil {
			return t, err
		}
		ratio, err := compare.SmallestSpreadShown(n, planPower, planLevel)
		if err != nil {
			return t, err
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(n), fmt.Sprintf("%.1f", gain), fmt.Sprintf("%.0f", 100*(1-ratio))})
	}
	return t, nil
}

// OwnPlan words the plan for a gain from the demo lesson's own balls: from its
// first stage, and from all that were no drill.
func OwnPlan(gain float64) ([]string, error) {
	l, err := datasets.DemoLesson()
	if err != nil {
		return nil, err
	}
	var stages [][]float64
	for _, g := range l.Groups() {
		if g.Stage.Intent != lesson.Drill {
			stages = append(stages, g.Values("carry"))
		}
	}
	first, err := compare.PlanCarry(stages[:1], gain, planPower, planLevel)
	if err != nil {
		return nil, err
	}
	all, err := compare.PlanCarry(stages, gain, planPower, planLevel)
	if err != nil {
		return nil, err
	}
	return []string{
		fmt.Sprintf("From the first stage, σ = %.1f yd: %s", first.SD, first.Sentence("yd")),
		fmt.Sprintf("From the %d stages that were no drill, σ = %.1f yd: %s", len(stages), all.SD, all.Sentence("yd")),
	}, nil
}

// RarerTable says how many balls a tighter pattern and rarer mishits take.
func RarerTable(shrinks []float64, mishits [][2]float64) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("Balls before, and as many after, for other changes to show in %.0f of 100 lessons.", 100*planPower),
		Header:  []string{"True change", "Balls each"},
	}
	for _, s := range shrinks {
		n, err := compare.BallsForSpread(1-s, planPower, planLevel)
		if err != nil {
			return t, err
		}
		t.Rows = append(t.Rows, []string{fmt.Sprintf("radius %.0f %% smaller", 100*s), fmt.Sprint(n)})
	}
	for _, m := range mishits {
		n, err := compare.BallsForMishits(m[0], m[1], planPower, planLevel)
		if err != nil {
			return t, err
		}
		t.Rows = append(t.Rows, []string{fmt.Sprintf("mishits from %.0f to %.0f of 100", 100*m[0], 100*m[1]), fmt.Sprint(n)})
	}
	return t, nil
}
