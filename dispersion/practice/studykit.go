package practice

import (
	"fmt"
	"math"

	"github.com/landfall-golf/landfall/dispersion/internal/resample"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"gonum.org/v1/gonum/stat/distuv"
)

// schedules are the two orders in which the balls of a drill are hit: the tasks one
// after the other, each to its end, or mixed at random from ball to ball.
var schedules = [2]string{"blocked", "random"}

// A StudyPlan is all that must be settled before the first ball of a study of many:
// a randomised crossover of two drills. Each pupil practises with both, in an order
// that is drawn, and with one schedule, drawn too.
type StudyPlan struct {
	Title   string // of the study, on every page that is written for it
	Measure Measure
	Unit    lesson.Unit // of carry and side
	Drills  [2]string   // the first is what the second is held against

	Pupils        int // to be enrolled
	TestBalls     int // of each test; 10 is what the first balls of a lesson are
	PracticeBalls int // of each drill, in all
	PracticeDays  int // from the test before a drill to the test after it
	WashoutDays   int // from there to the test before the other drill

	// ShotSD and DaySD are how much balls of one day and the means of days are
	// thought to differ, in Unit, or for [MeasureRadius] in DaySD as a share of the
	// radius, where ShotSD matters to Simulate alone; they only say how wide the
	// answer will be.
	ShotSD, DaySD float64

	// Smallest is the smallest difference between the drills worth having: in Unit,
	// or for [MeasureRadius] a share of the radius.
	Smallest float64

	Seed uint64 // of the lists of orders and schedules
}

func (p StudyPlan) check() error {
	var faults []string
	fault := func(bad bool, text string) {
		if bad {
			faults = append(faults, text)
		}
	}
	fault(p.Title == "", "it has no title")
	fault(p.Measure != MeasureCarry && p.Measure != MeasureRadius, `the measure must be "carry" or "radius"`)
	fault(p.Unit.Metres() == 0, "the unit must be yd, m or ft")
	fault(p.Drills[0] == "" || p.Drills[1] == "" || p.Drills[0] == p.Drills[1], "two drills with different names are needed")
	fault(p.Pupils < 6, "it takes six pupils or more")
	fault(p.TestBalls < 4, "a test needs four balls or more")
	fault(p.PracticeBalls < 1, "the drills need balls")
	fault(p.PracticeDays < 1, "the test after a drill comes a day later or more: sooner it shows the performance of the day and not what stays")
	fault(p.WashoutDays < 1, "some days are needed between the drills")
	fault(!(p.ShotSD > 0 && p.ShotSD < 1e6) || !(p.DaySD >= 0 && p.DaySD < 1e6), "how much balls and days differ must be said, above 0 and not below 0")
	fault(!(p.Smallest > 0 && p.Smallest < 1e6) || p.Measure == MeasureRadius && p.Smallest >= 1, "the smallest difference worth having must be above 0, and a share below 1 for the radius")
	return errorsOf(faults)
}

// unit is that of gains.
func (p StudyPlan) unit() string {
	if p.Measure == MeasureRadius {
		return ""
	}
	return string(p.Unit)
}

// HalfWidth returns about how far the interval of the drills' difference will reach
// to either side with the planned pupils, n, all of whom finish,
//
//	t(n-2)·√(2/n)·σ,  σ² = 2·(DaySD² + ShotSD²/TestBalls)
//
// for the radius with the variance of a [LogRadius] of TestBalls normal shots in
// place of ShotSD²/TestBalls, on the logarithmic scale.
//
// Errors: [ErrStudy]; [dispersion.ErrLevel].
func (p StudyPlan) HalfWidth(level float64) (float64, error) {
	if err := p.check(); err != nil {
		return 0, err
	}
	o, err := FitOptions{Level: level}.resolved()
	if err != nil {
		return 0, err
	}
	ball := p.ShotSD * p.ShotSD / float64(p.TestBalls)
	if p.Measure == MeasureRadius {
		ball = logRadiusVariance(p.TestBalls)
	}
	n := float64(p.Pupils)
	t := distuv.StudentsT{Sigma: 1, Nu: n - 2}.Quantile((1 + o.Level) / 2)
	return t * math.Sqrt(2/n) * math.Sqrt(2*(p.DaySD*p.DaySD+ball)), nil
}

// An Enrolment is a pupil with the teacher who will teach.
type Enrolment struct{ Pupil, Teacher string }

// An Assignment is what was drawn for a pupil.
type Assignment struct {
	Enrolment
	Drills   [2]string // in order of the periods
	Schedule string    // "blocked" or "random"
}

// Assign draws for each pupil which drill comes first and with which schedule. Of
// each two pupils of a teacher, in the order enrolled, one gets each order and each
// schedule, and of each four one gets each of the four combinations: so a teacher
// who leaves early has had all alike. Whoever has seen the first of two draws knows
// the second, so keep the list, which follows from the plan's seed and the
// enrolments alone, from whoever enrols, and enrol two before opening their draws.
//
// Errors: [ErrStudy]; *[RowError] for an enrolment without names or a pupil twice.
func (p StudyPlan) Assign(enrolled []Enrolment) ([]Assignment, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	seen := map[string]bool{}
	place := map[string]int{}
	order := map[string][]int{}
	streams := map[string]*resample.Stream{}
	assigned := make([]Assignment, len(enrolled))
	for i, e := range enrolled {
		if e.Pupil == "" || e.Teacher == "" || seen[e.Pupil] {
			return nil, fmt.Errorf("practice: assignment: %w", &RowError{i + 1, "pupil", "each pupil is enrolled once, with a teacher"})
		}
		seen[e.Pupil] = true
		if streams[e.Teacher] == nil {
			streams[e.Teacher] = resample.NewStream(p.Seed, "crossover", len(streams))
		}
		at := place[e.Teacher]
		place[e.Teacher]++
		if at%4 == 0 {
			order[e.Teacher] = shuffledFour(streams[e.Teacher])
		}
		kind := order[e.Teacher][at%4]
		assigned[i] = Assignment{Enrolment: e, Drills: p.Drills, Schedule: schedules[kind/2]}
		if kind%2 == 1 {
			assigned[i].Drills = [2]string{p.Drills[1], p.Drills[0]}
		}
	}
	return assigned, nil
}

// shuffledFour returns the four combinations of schedule (kind/2) and order
// (kind%2), opposites side by side.
func shuffledFour(s *resample.Stream) []int {
	k := s.Below(4)
	other := k ^ (1 + s.Below(2))
	return []int{k, 3 - k, other, 3 - other}
}
