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

// demoTeachers teach six pupils each.
const demoTeachers, demoPupilsEach = 4, 6

// DemoStudy returns an invented study: 24 pupils of four teachers, a drill that
// gains 4 yards more than the other and a random order that gains 2 more than a
// blocked one. The seed draws the balls; the truth says what they were drawn from.
func DemoStudy(seed uint64) (StudyPlan, []Trial, StudyTruth) {
	p := StudyPlan{
		Title: "Two drills for more carry (invented)", Measure: MeasureCarry, Unit: lesson.Yards,
		Drills: [2]string{"slow swings", "step and swing"}, Pupils: demoTeachers * demoPupilsEach,
		TestBalls: 10, PracticeBalls: 120, PracticeDays: 14, WashoutDays: 14,
		ShotSD: 8, DaySD: 2, Smallest: 3, Seed: 1,
	}
	truth := StudyTruth{Mean: 5, Drill: 4, Schedule: 2, Period: -1, PupilSD: 3, TeacherSD: 2, Pupils: map[string]float64{}}
	trials := p.simulate(truth, demoTeachers, seed)
	return p, trials, truth
}

// simulate draws the trials of a study from its truth, and notes in it what each
// pupil got.
func (p StudyPlan) simulate(truth StudyTruth, teachers int, seed uint64) []Trial {
	r := rand.New(resample.NewStream(seed, "demo study", 0))
	var enrolled []Enrolment
	for i := range p.Pupils {
		enrolled = append(enrolled, Enrolment{fmt.Sprintf("pupil %02d", i+1), "teacher " + string(rune('A'+i%teachers))})
	}
	assigned, err := p.Assign(enrolled)
	if err != nil {
		return nil
	}
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
	return trials
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
