package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
	"github.com/landfall-golf/landfall/dispersion/practice"
)

// A seasonPlan is a kind of season: how many sessions, with how many balls, and how
// much the days differ, in yards beside 8 from shot to shot.
type seasonPlan struct {
	sessions int
	balls    string
	between  float64
}

const seasonShot, seasonGain, seasonDrill = 8, 5, 3

// ballCounts are the balls of one session after the other, over and over.
var ballCounts = map[string][]int{"even": {10}, "uneven": {4, 22, 7, 13, 4, 10}, "heavy": {10}}

var ballKinds = []string{"even", "uneven", "heavy"}

// seasonAims are what the intervals of a mixed model aim at, in the order of the
// tables.
var seasonAims = []string{"gain between days", "gain within days", "mean", "spread between days", "spread within a day", "one day's deviation"}

// A mixedCell is one line of the result.
type mixedCell struct {
	aim      string
	plan     seasonPlan
	seasons  int
	coverage float64
	width    float64 // median, in yards
}

// mixedModels writes how often the intervals of mixed models hold, and whether
// the analysis of a crossover finds what is there.
func mixedModels(out string, seed uint64) error {
	seasons, err := simulateSeasons(seed, seasonPlans([]int{4, 8, 20}), 2000)
	if err != nil {
		return err
	}
	crossovers, err := simulateCrossovers(seed, []int{8, 16, 32, 64}, 2000)
	if err != nil {
		return err
	}
	return mixedReport(out, seed, seasons, crossovers)
}

func seasonPlans(sessions []int) (plans []seasonPlan) {
	for _, balls := range ballKinds {
		for _, between := range []float64{0, 3, 8} {
			for _, n := range sessions {
				plans = append(plans, seasonPlan{n, balls, between})
			}
		}
	}
	return plans
}

// ball draws a shot with mean 0 and standard deviation 1, from t(5) where tails are
// heavy.
func (p seasonPlan) ball(r *rand.Rand) float64 {
	z := r.NormFloat64()
	if p.balls == "heavy" {
		z *= tails(r, 5) * math.Sqrt(3.0/5)
	}
	return z
}

func simulateSeasons(seed uint64, plans []seasonPlan, seasons int) (cells []mixedCell, err error) {
	for i, p := range plans {
		fmt.Fprintf(os.Stderr, "mixed: %d sessions, %s, %g yd\n", p.sessions, p.balls, p.between)
		r := rand.New(resample.NewStream(seed, "study of mixed models", i))
		row := make([]tally, len(seasonAims))
		for range seasons {
			if err := trySeason(r, p, row); err != nil {
				return nil, err
			}
		}
		for j, aim := range seasonAims {
			cells = append(cells, mixedCell{aim, p, row[j].tries(), float64(row[j].held) / float64(row[j].tries()), row[j].width()})
		}
	}
	return cells, nil
}

// trySeason draws a season, old swing in the first half of the days and new in
// the second, every other ball after a drill, and fits it.
func trySeason(r *rand.Rand, p seasonPlan, row []tally) error {
	var m practice.Model
	late, drill := practice.FixedColumn{Name: "new"}, practice.FixedColumn{Name: "drill"}
	days := practice.Term{Name: "sessions"}
	deviations := make([]float64, p.sessions)
	counts := ballCounts[p.balls]
	for s := range p.sessions {
		deviations[s] = p.between * r.NormFloat64()
		isNew := 0.0
		if s >= p.sessions/2 {
			isNew = 1
		}
		for ball := range counts[s%len(counts)] {
			drilled := float64(ball % 2)
			m.Values = append(m.Values, 150+seasonGain*isNew+seasonDrill*drilled+deviations[s]+seasonShot*p.ball(r))
			late.Values, drill.Values = append(late.Values, isNew), append(drill.Values, drilled)
			days.Of = append(days.Of, strconv.Itoa(s))
		}
	}
	m.Fixed, m.Random = []practice.FixedColumn{late, drill}, []practice.Term{days}
	f, err := practice.FitMixed(m, practice.FitOptions{Level: level})
	if err != nil {
		return err
	}
	spreads, err := f.SpreadIntervals()
	if err != nil {
		return err
	}
	day := r.IntN(p.sessions)
	for i, c := range []struct {
		in    dispersion.Interval
		truth float64
	}{
		{f.Fixed[1].Interval, seasonGain}, {f.Fixed[2].Interval, seasonDrill}, {f.Fixed[0].Interval, 150},
		{spreads[0].Interval, p.between}, {spreads[1].Interval, seasonShot},
		{f.Random[0].Levels[day].Interval, deviations[day]},
	} {
		if err := row[i].add(c.in.Low <= c.truth && c.truth <= c.in.High, c.in.High-c.in.Low, nil); err != nil {
			return err
		}
	}
	return nil
}
