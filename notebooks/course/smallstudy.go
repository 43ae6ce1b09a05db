package course

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/practice"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// A Study is the invented study of two drills, with the truth it was drawn from.
type Study struct {
	Plan   practice.StudyPlan
	Trials []practice.Trial
	Truth  practice.StudyTruth
}

// RunStudy hits all balls of the invented study.
func RunStudy(seed uint64) (Study, error) {
	plan, trials, truth, err := practice.DemoStudy(seed)
	return Study{plan, trials, truth}, err
}

// gain is what one turn of a pupil gained: the mean carry after it less that before.
func gain(t practice.Trial) float64 { return meanCarry(t.After) - meanCarry(t.Before) }

// DrillMean is the mean gain of all turns with a drill, 0 or 1.
func (s Study) DrillMean(drill int) float64 {
	var gains []float64
	for _, t := range s.Trials {
		if t.Drill == s.Plan.Drills[drill] {
			gains = append(gains, gain(t))
		}
	}
	return mean(gains)
}

// BestTable lists the largest gains of single pupils with one drill, with what was
// true of them: the drill's own gain, the pupil's, and what is left, which is chance
// and all else that the truth holds.
func (s Study) BestTable(rows int) show.TableData {
	t := show.TableData{
		Caption: fmt.Sprintf("The largest of %d gains, in yards. True: what a pupil of this talent gains with the drill on average. The rest is the luck of two tests, the teacher, the turn and the order of practice.", len(s.Trials)),
		Header:  []string{"Pupil", "Drill", "Gain seen", "True", "Rest"},
	}
	best := slices.Clone(s.Trials)
	slices.SortFunc(best, func(a, b practice.Trial) int { return cmp.Compare(gain(b), gain(a)) })
	for _, trial := range best[:min(rows, len(best))] {
		true := s.Truth.Mean + s.Truth.Pupils[trial.Pupil] - s.Truth.Drill/2
		if trial.Drill == s.Plan.Drills[1] {
			true += s.Truth.Drill
		}
		t.Rows = append(t.Rows, []string{trial.Pupil, trial.Drill, tenths(gain(trial)), tenths(true), tenths(gain(trial) - true)})
	}
	return t
}

// enough is how many times the half-width of an interval a true difference must be,
// so that the interval leaves zero out at least four times in five.
const enough = 1.5

// WidthTable says how closely a study of so many pupils will tell the drills apart.
func (s Study) WidthTable(pupils []int) (show.TableData, error) {
	t := show.TableData{
		Caption: fmt.Sprintf("How far the 95 %% interval of the drills' difference will reach to either side, if balls of one day differ by %g yd, days by %g, and each test has %d balls. Enough: with so large a true difference the interval leaves zero out at least four times in five.", s.Plan.ShotSD, s.Plan.DaySD, s.Plan.TestBalls),
		Header:  []string{"Pupils", "Give or take, yd", "Enough for a difference of, yd"},
	}
	for _, n := range pupils {
		p := s.Plan
		p.Pupils = n
		half, err := p.HalfWidth(0.95)
		if err != nil {
			return t, err
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(n), tenths(half), tenths(enough * half)})
	}
	return t, nil
}

// SettledTable holds what the sheet of the study settles before the first ball.
func (s Study) SettledTable() (show.TableData, error) {
	t := show.TableData{Caption: "What is settled before the first ball.", Header: []string{"What", "Settled"}}
	sheet, err := s.Plan.Preregistration()
	if err != nil {
		return t, err
	}
	for _, line := range strings.Split(sheet, "\n") {
		cells := strings.Split(strings.ReplaceAll(line, "*", ""), " | ")
		if what := strings.TrimPrefix(cells[0], "| "); len(cells) == 2 && strings.Trim(what, "-| ") != "" {
			t.Rows = append(t.Rows, []string{what, strings.TrimSuffix(cells[1], " |")})
		}
	}
	return t, nil
}

// LotTable lists what was drawn for the first pupils of the study.
func (s Study) LotTable(pupils int) show.TableData {
	t := show.TableData{
		Caption: fmt.Sprintf("What the lot says for the first %d of %d pupils. Whoever enrols them doesn't know the list.", pupils, s.Plan.Pupils),
		Header:  []string{"Pupil", "Teacher", "First", "Then", "Balls in an order that is"},
	}
	for i := 0; i+1 < len(s.Trials) && len(t.Rows) < pupils; i += 2 {
		one, two := s.Trials[i], s.Trials[i+1]
		t.Rows = append(t.Rows, []string{one.Pupil, one.Teacher, one.Drill, two.Drill, one.Schedule})
	}
	return t
}

// Analyse writes the pooled file under pseudonyms, reads it back and analyses it as
// the plan says: the way of a real study, from other people's files to the answer.
func (s Study) Analyse(key []byte, level float64) (practice.CrossoverResult, error) {
	var pool bytes.Buffer
	if err := practice.WritePool(&pool, s.Plan, key, s.Trials); err != nil {
		return practice.CrossoverResult{}, err
	}
	return practice.AnalysePool(&pool, s.Plan, practice.FitOptions{Level: level})
}

// studyKey stands for the key that a study keeps under lock.
var studyKey = []byte("for show only, not a secret key!")

// AnswerFigure draws the three differences of the study.
func (s Study) AnswerFigure() (chart.Figure, error) {
	wide, err := s.Analyse(studyKey, 0.95)
	if err != nil {
		return chart.Figure{}, err
	}
	narrow, err := s.Analyse(studyKey, 0.80)
	if err != nil {
		return chart.Figure{}, err
	}
	v, err := compare.Judge(wide.Drill, s.Plan.Smallest)
	if err != nil {
		return chart.Figure{}, err
	}
	in := chart.EffectsInput{Title: fmt.Sprintf("%s against %s: %s", s.Plan.Drills[1], s.Plan.Drills[0], v.Kind)}
	for i, e := range []compare.Effect{wide.Drill, wide.Schedule, wide.Period} {
		row := chart.Effect{Name: []string{"the drill", "random order", "second turn"}[i], Unit: "yd", Estimate: e.Estimate,
			Wide: e.Interval, Narrow: []compare.Effect{narrow.Drill, narrow.Schedule, narrow.Period}[i].Interval}
		if i == 0 {
			row.Says, row.Smallest = fmt.Sprint(v.Kind), s.Plan.Smallest
		}
		in.Rows = append(in.Rows, row)
	}
	return chart.Effects(in)
}

// AnswerTable holds the three differences of the study against the truth.
func (s Study) AnswerTable() (show.TableData, error) {
	t := show.TableData{Header: []string{"Difference", "Estimate, yd", "from", "to", "The truth"}}
	r, err := s.Analyse(studyKey, 0.95)
	if err != nil {
		return t, err
	}
	t.Caption = fmt.Sprintf("%d pupils of %d teachers, %d turns: what they say at 95 %%, beside what they were drawn from.", r.Pupils, r.Teachers, r.Trials)
	for i, e := range []compare.Effect{r.Drill, r.Schedule, r.Period} {
		name := []string{s.Plan.Drills[1] + " against " + s.Plan.Drills[0], "random order against blocked", "second turn against first"}[i]
		truth := []float64{s.Truth.Drill, s.Truth.Schedule, s.Truth.Period}[i]
		t.Rows = append(t.Rows, []string{name, tenths(e.Estimate), tenths(e.Interval.Low), tenths(e.Interval.High), tenths(truth)})
	}
	return t, nil
}

// ShrinkTable holds three ways to say how much more than others a pupil gained
// against the truth: the gains as seen, nothing at all, and the shrunken ones.
func (s Study) ShrinkTable() (show.TableData, error) {
	t := show.TableData{Header: []string{"Said of each pupil", "Off from the truth by, yd", "The best pupil is said to gain more than expected by, yd", "In truth"}}
	r, err := practice.Crossover(s.Plan, s.Trials, practice.FitOptions{})
	if err != nil {
		return t, err
	}
	t.Caption = fmt.Sprintf("How much more than others each of %d pupils gained, said in three ways: how far off that is (root mean square), and what becomes of the pupil who looks best.", r.Pupils)
	raw, shrunken, all := map[string]float64{}, map[string]float64{}, 0.0
	for _, trial := range s.Trials {
		raw[trial.Pupil] += gain(trial) / 2
		all += gain(trial) / float64(len(s.Trials))
	}
	for pupil := range raw {
		raw[pupil] -= all
	}
	for _, d := range r.PupilGains {
		shrunken[d.Of] = d.Estimate
	}
	for _, way := range []struct {
		name string
		said map[string]float64
	}{{"the mean of both gains, less that of all", raw}, {"nothing: all are alike", nil}, {"shrunken, by the model", shrunken}} {
		sum, best := 0.0, ""
		for pupil, truth := range s.Truth.Pupils {
			sum += (way.said[pupil] - truth) * (way.said[pupil] - truth)
			if way.said != nil && (best == "" || way.said[pupil] > way.said[best] || way.said[pupil] == way.said[best] && pupil < best) {
				best = pupil
			}
		}
		row := []string{way.name, fmt.Sprintf("%.2f", math.Sqrt(sum/float64(len(s.Truth.Pupils)))), "–", "–"}
		if best != "" {
			row[2], row[3] = tenths(way.said[best]), tenths(s.Truth.Pupils[best])
		}
		t.Rows = append(t.Rows, row)
	}
	return t, nil
}
