package practice

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
)

// A Trial is one pupil's turn with one drill: the balls of the test before it and
// of the test afterwards, at the first balls of a later day.
type Trial struct {
	Pupil, Teacher  string             // pseudonyms
	Period          int                // 1 or 2: each pupil has both drills, one after the other
	Drill, Schedule string             // names as in the plan; "blocked" or "random"
	Before, After   []dispersion.Point // landing points, in the unit of the plan
}

// A CrossoverResult is what a crossover of two drills says.
type CrossoverResult struct {
	Plan                     StudyPlan // as given
	Pupils, Teachers, Trials int       // how many were used

	// Drill is the answer that the study was made for: what the second drill of the
	// plan gains more than the first. Schedule is what the random order gains more
	// than the blocked one, and Period what the second turn gains more than the first.
	Drill, Schedule, Period compare.Effect

	// PupilGains are how much more each pupil gained, over both drills, than drill,
	// schedule, period and teacher lead to expect, the largest first; TeacherGains
	// the same of teachers, none where there is only one. They are shrunken: what is
	// left after chance has been allowed for.
	PupilGains, TeacherGains []Deviation

	Fit      MixedFit // all that was fitted
	Warnings []error
}

// Crossover analyses a randomised crossover as its plan says. With the gain g of
// each turn, after minus before,
//
//	g = mean + drill + schedule + period + teacher + pupil + rest
//
// with drill, schedule and period fixed and coded -½ and ½, teachers and pupils
// random: see [FitMixed]. Each pupil is compared with himself or herself for the
// drills, and with others for the schedules, so drills are told far more closely
// than schedules. For [MeasureRadius] the gains are of [LogRadius], and the
// effects ratios: below 1 is tighter.
//
// It assumes that what the first drill taught adds the same to whatever comes
// second (the days between, and a test before each drill, are there for that),
// and about as many balls in all tests. Pupils who come when they are bad get
// better anyway; as both drills meet that alike, the comparison of drills stands,
// while the mean gain does not show that either drill works.
//
// A turn of which one test is missing, or has too few balls for the measure, is
// left out with a warning. A pupil with one turn only is kept and counts for the
// schedules.
//
// It takes six pupils, each drill in each period and both schedules.
//
// Errors: [ErrStudy]; *[RowError], its row counting trials from 1; *[LevelsError]
// for too few pupils; those of [FitMixed]. Warnings: those of [FitMixed]; a
// *[RowError] for each turn left out and for each pupil with one turn.
//
// Reference: S. Senn, Cross-over Trials in Clinical Research, 2nd ed., Wiley 2002,
// chapter 3.
func Crossover(p StudyPlan, trials []Trial, o FitOptions) (CrossoverResult, error) {
	if err := p.check(); err != nil {
		return CrossoverResult{}, err
	}
	r := CrossoverResult{Plan: p}
	m, err := r.model(trials)
	if err != nil {
		return CrossoverResult{}, err
	}
	r.Trials = len(m.Values)
	if r.Pupils < 6 {
		return CrossoverResult{}, fmt.Errorf("practice: crossover: %w", &LevelsError{"a crossover, of pupils,", r.Pupils, 6})
	}
	if r.Fit, err = FitMixed(m, o); err != nil {
		return CrossoverResult{}, err
	}
	r.Warnings = append(r.Warnings, r.Fit.Warnings...)
	mean := r.Fit.Fixed[0].Estimate
	r.Drill = r.effect("drill", mean, r.Fit.Fixed[1], m.Fixed[0].Values)
	r.Schedule = r.effect("schedule", mean, r.Fit.Fixed[2], m.Fixed[1].Values)
	r.Period = r.effect("period", mean, r.Fit.Fixed[3], m.Fixed[2].Values)
	r.PupilGains = ordered(r.Fit.Random[0].Levels)
	if len(r.Fit.Random) > 1 {
		r.TeacherGains = ordered(r.Fit.Random[1].Levels)
	}
	return r, nil
}

// ordered returns the deviations, the largest first.
func ordered(levels []Deviation) []Deviation {
	levels = slices.Clone(levels)
	slices.SortStableFunc(levels, func(a, b Deviation) int {
		switch {
		case a.Estimate > b.Estimate:
			return -1
		case a.Estimate < b.Estimate:
			return 1
		}
		return strings.Compare(a.Of, b.Of)
	})
	return levels
}

// model turns the trials into gains and their columns.
func (r *CrossoverResult) model(trials []Trial) (Model, error) {
	p := r.Plan
	m := Model{
		Name: "gain in " + string(p.Measure), Unit: p.unit(),
		Fixed:  []FixedColumn{{Name: "drill"}, {Name: "schedule"}, {Name: "period"}},
		Random: []Term{{Name: "pupils"}},
	}
	teachers := Term{Name: "teachers"}
	seen := map[string][]Trial{}
	var pupils, teacherNames []string
	kept := map[int]bool{}
	for i, t := range trials {
		bad := func(column, reason string, values ...any) error {
			return fmt.Errorf("practice: crossover: %w", &RowError{i + 1, column, fmt.Sprintf(reason, values...)})
		}
		drill, schedule := slices.Index(p.Drills[:], t.Drill), slices.Index(schedules[:], t.Schedule)
		switch {
		case t.Pupil == "" || t.Teacher == "":
			return Model{}, bad("pupil", "whose turn it is must be said, and who taught")
		case t.Period != 1 && t.Period != 2:
			return Model{}, bad("period", "%d is neither 1 nor 2", t.Period)
		case drill < 0:
			return Model{}, bad("drill", "%q is none of the plan's drills, %q and %q", t.Drill, p.Drills[0], p.Drills[1])
		case schedule < 0:
			return Model{}, bad("schedule", "%q is neither %q nor %q", t.Schedule, schedules[0], schedules[1])
		}
		for _, other := range seen[t.Pupil] {
			if other.Period == t.Period || other.Drill == t.Drill || other.Schedule != t.Schedule || other.Teacher != t.Teacher {
				return Model{}, bad("pupil", "%s has another turn that doesn't fit: each pupil has each drill once, in period 1 or 2, with one schedule and one teacher", t.Pupil)
			}
		}
		before, err1 := p.Measure.of(t.Before)
		after, err2 := p.Measure.of(t.After)
		var few *dispersion.TooFewError
		for column, err := range map[string]error{"before": err1, "after": err2} {
			if err != nil && !errors.As(err, &few) {
				return Model{}, bad(column, "%v", err)
			}
		}
		if err1 != nil || err2 != nil {
			r.Warnings = append(r.Warnings, &RowError{i + 1, "pupil", fmt.Sprintf("%s has no whole turn there, with %d balls before and %d after: it is left out", t.Pupil, len(t.Before), len(t.After))})
			continue
		}
		kept[i] = true
		if len(seen[t.Pupil]) == 0 {
			pupils = append(pupils, t.Pupil)
		}
		if !slices.Contains(teacherNames, t.Teacher) {
			teacherNames = append(teacherNames, t.Teacher)
		}
		seen[t.Pupil] = append(seen[t.Pupil], t)
		m.Values = append(m.Values, after-before)
		m.Fixed[0].Values = append(m.Fixed[0].Values, float64(drill)-0.5)
		m.Fixed[1].Values = append(m.Fixed[1].Values, float64(schedule)-0.5)
		m.Fixed[2].Values = append(m.Fixed[2].Values, float64(t.Period)-1.5)
		m.Random[0].Of = append(m.Random[0].Of, t.Pupil)
		teachers.Of = append(teachers.Of, t.Teacher)
	}
	r.Pupils, r.Teachers = len(pupils), len(teacherNames)
	if r.Teachers > 1 {
		m.Random = append(m.Random, teachers)
	}
	for i, t := range trials {
		if kept[i] && len(seen[t.Pupil]) == 1 {
			r.Warnings = append(r.Warnings, &RowError{i + 1, "pupil", t.Pupil + " has one turn only: kept, but it says nothing of the drills"})
		}
	}
	return m, nil
}

// effect turns a coefficient coded -½ and ½ into an effect, a ratio for radii.
func (r *CrossoverResult) effect(name string, mean float64, c Coefficient, codes []float64) compare.Effect {
	e := compare.Effect{
		Name: name + "_" + string(r.Plan.Measure), Unit: r.Plan.unit(),
		Method: "mixed model of gains, pupils and teachers random; " + r.Fit.Method + ", Satterthwaite's t",
		Before: mean - c.Estimate/2, After: mean + c.Estimate/2,
		Estimate: c.Estimate, Interval: c.Interval, DF: c.DF, P: c.P, HasP: true,
	}
	for _, v := range codes {
		if v < 0 {
			e.N1++
		} else {
			e.N2++
		}
	}
	if r.Plan.Measure == MeasureRadius {
		e.Null, e.Unit = 1, ""
		for _, v := range []*float64{&e.Before, &e.After, &e.Estimate, &e.Interval.Low, &e.Interval.High} {
			*v = math.Exp(*v)
		}
	}
	return e
}

// A Measure is what the drills are to improve.
type Measure string

const (
	MeasureCarry  Measure = "carry"  // mean carry of a test
	MeasureRadius Measure = "radius" // spread of a test, as the logarithm of the radius √(area/π)
)

// of returns the measure of the balls of a test.
func (m Measure) of(balls []dispersion.Point) (float64, error) {
	g, err := dispersion.NewGroup(balls)
	if err != nil {
		return 0, err
	}
	if m == MeasureRadius {
		return LogRadius(g)
	}
	return g.Mean().Y, nil
}

// errorsOf joins what is wrong with a plan.
func errorsOf(faults []string) error {
	if len(faults) == 0 {
		return nil
	}
	return fmt.Errorf("practice: %w: %w", ErrStudy, errors.New(strings.Join(faults, "; ")))
}
