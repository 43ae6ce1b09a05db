package practice

import (
	"fmt"
	"math/rand/v2"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A StudyTruth is what the demo study was drawn from, in yards.
type StudyTruth struct {
	Mean, Drill, Schedule, Period float64            // gains: of all, of the second drill over the first, of random over blocked, of the second turn over the first
	PupilSD, TeacherSD            float64            // of gains beyond these
	Pupils                        map[string]float64 // each pupil's own gain beyond them
}

const demoTeachers = 4

// DemoStudy returns an invented study: 48 pupils of four teachers, a drill that
// gains 4 yards more than the other and a random order that gains 2 more than a
// blocked one. The seed draws the balls; the truth says what they were drawn from.
func DemoStudy(seed uint64) (StudyPlan, []Trial, StudyTruth, error) {
	p := StudyPlan{
		Title: "Two drills for more carry (invented)", Measure: MeasureCarry, Unit: lesson.Yards,
		Drills: [2]string{"slow swings", "step and swing"}, Pupils: 48,
		TestBalls: 10, PracticeBalls: 120, PracticeDays: 14, WashoutDays: 14,
		ShotSD: 8, DaySD: 2, Smallest: 3, Seed: 1,
	}
	truth := StudyTruth{Mean: 5, Drill: 4, Schedule: 2, Period: -1, PupilSD: 3, TeacherSD: 2}
	trials, truth, err := p.Simulate(truth, demoTeachers, seed)
	return p, trials, truth, err
}

// Simulate draws the trials that a plan might bring if the truth were so, for
// trying the plan and its analysis before a ball is hit: pupils are dealt to the
// teachers in turn and balls drawn with the plan's ShotSD and DaySD. The truth
// comes back with what each pupil got. It is for [MeasureCarry].
//
// Errors: [ErrStudy], also for another measure or no teacher.
func (p StudyPlan) Simulate(truth StudyTruth, teachers int, seed uint64) ([]Trial, StudyTruth, error) {
	if p.Measure != MeasureCarry || teachers < 1 {
		return nil, truth, errorsOf([]string{"to be simulated it needs carry as its measure, and a teacher"})
	}
	r := rand.New(resample.NewStream(seed, "study of many", 0))
	var enrolled []Enrolment
	for i := range p.Pupils {
		enrolled = append(enrolled, Enrolment{fmt.Sprintf("pupil %02d", i+1), fmt.Sprintf("teacher %02d", i%teachers+1)})
	}
	assigned, err := p.Assign(enrolled)
	if err != nil {
		return nil, truth, err
	}
	truth.Pupils = map[string]float64{}
	taught := map[string]float64{}
	var trials []Trial
	for _, a := range assigned {
		if _, ok := taught[a.Teacher]; !ok {
			taught[a.Teacher] = truth.TeacherSD * r.NormFloat64()
		}
		own := truth.PupilSD * r.NormFloat64()
		truth.Pupils[a.Pupil] = own
		skill := 140 + 12*r.NormFloat64()
		for period, drill := range a.Drills {
			gain := truth.Mean + taught[a.Teacher] + own + truth.Period*(float64(period)-0.5)
			gain += half(truth.Drill, drill == p.Drills[1]) + half(truth.Schedule, a.Schedule == schedules[1])
			before := p.test(r, skill)
			skill += gain
			trials = append(trials, Trial{
				Pupil: a.Pupil, Teacher: a.Teacher, Period: period + 1, Drill: drill, Schedule: a.Schedule,
				Before: before, After: p.test(r, skill),
			})
		}
	}
	return trials, truth, nil
}

func half(v float64, plus bool) float64 {
	if plus {
		return v / 2
	}
	return -v / 2
}

// test draws the balls of a test.
func (p StudyPlan) test(r *rand.Rand, skill float64) []dispersion.Point {
	day := skill + p.DaySD*r.NormFloat64()
	balls := make([]dispersion.Point, p.TestBalls)
	for i := range balls {
		balls[i] = dispersion.Point{X: 0.75 * p.ShotSD * r.NormFloat64(), Y: day + p.ShotSD*r.NormFloat64()}
	}
	return balls
}
