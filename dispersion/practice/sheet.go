package practice

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/internal/resample"
)

// A Task is one thing to practise.
type Task struct {
	Name   string // such as "room for the arms"
	Club   string
	Target string // what to aim at; "" for none in particular
	Balls  int    // how many in all
}

// SheetInput says what a practice sheet is for.
type SheetInput struct {
	Pupil string
	Tasks []Task // what to hit; their balls are dealt into one order
	Seed  uint64 // of the order

	// The test: the first balls of the next session, hit with this club before any
	// teaching, against Before, the clean first balls of the baseline.
	Club         string
	Measure      string // what is measured, such as "carry"
	Unit         string
	Before       []float64
	Smallest     float64 // the smallest change worth having
	LessIsBetter bool
}

// A Sheet is a practice for the weeks between two sessions, settled beforehand:
// what to hit and in which order, when to stop, and what the first balls of the
// next session would mean.
type Sheet struct {
	Pupil string
	Tasks []Task // what to hit
	Order []int  // for each ball, the index of its task
	Seed  uint64
	Stop  []string // when to stop

	Club, Measure, Unit string    // of the test: with which club, what is measured, in what unit
	FirstBalls          int       // to be hit in the test
	Before, SD          float64   // mean and standard deviation of the baseline's first balls
	BeforeBalls         int       // how many those were
	Smallest            float64   // the smallest change worth having
	LessIsBetter        bool      // a smaller value is the better one
	Meanings            []Meaning // from the best result to the worst
}

// A Meaning is what a mean of the first balls from Low up to High would mean. An
// open end has HasLow or HasHigh false.
type Meaning struct {
	Low, High       float64
	HasLow, HasHigh bool
	Verdict         compare.VerdictKind // of such a mean against the baseline
	Text            string              // the same in words, for the pupil
}

const (
	mostTasks = 26 // letters to name them by
	mostBalls = 300
)

// A SheetError says what a practice sheet can't be made of.
type SheetError struct {
	Where  string // such as "task 2"
	Reason string
}

func (e *SheetError) Error() string { return e.Where + ": " + e.Reason }

// NewSheet returns the practice sheet. All balls of all tasks are put into one
// random order, every order equally likely: hitting one task after the other
// looks better on the day and leaves less. The same input gives the same order.
//
// What a result would mean follows from the baseline's mean m, standard deviation
// s and n balls before a ball is hit. With 10 first balls, δ the smallest change
// worth having and e = s·√(1/n+1/10), a mean is
//
//	worth having           from m + δ + t(0.975)·e
//	probably               from m + δ + t(0.80)·e
//	no gain worth having   below m + δ - t(0.975)·e
//	worse                  up to m - δ - t(0.975)·e
//	can't tell             otherwise
//
// t on n+8 degrees of freedom, mirrored where less is better. These are the lines
// of [compare.Judge] if the first balls spread as those before and days do not
// differ by themselves; afterwards judge the balls themselves, with [Kept] and the
// same smallest change in its [Question].
//
// Errors: *[SheetError] for no tasks or more than 26, no balls, more than 300 in
// all, or a smallest change that is not above 0 and finite; *[ValueError];
// *[dispersion.TooFewError] below four balls before; [dispersion.ErrDegenerate]
// where those have no spread. Deterministic.
//
// Reference: J. B. Shea, R. L. Morgan, "Contextual Interference Effects on the
// Acquisition, Retention, and Transfer of a Motor Skill", Journal of Experimental
// Psychology: Human Learning and Memory 5(2), 1979, pp. 179-187 (from memory).
func NewSheet(in SheetInput) (Sheet, error) {
	if len(in.Tasks) == 0 || len(in.Tasks) > mostTasks {
		return Sheet{}, fmt.Errorf("practice: %w", &SheetError{fmt.Sprintf("%d tasks", len(in.Tasks)), fmt.Sprintf("give 1 to %d", mostTasks)})
	}
	total := 0
	for i, task := range in.Tasks {
		if task.Balls < 1 || task.Balls > mostBalls {
			return Sheet{}, fmt.Errorf("practice: %w", &SheetError{fmt.Sprintf("task %d, %q", i+1, task.Name), fmt.Sprintf("%d balls: give 1 to %d", task.Balls, mostBalls)})
		}
		total += task.Balls
	}
	if total > mostBalls {
		return Sheet{}, fmt.Errorf("practice: %w", &SheetError{fmt.Sprintf("%d balls in all", total), fmt.Sprintf("a practice has at most %d", mostBalls)})
	}
	if !(in.Smallest > 0 && in.Smallest <= dispersion.MaxCoordinate) {
		return Sheet{}, fmt.Errorf("practice: %w", &SheetError{"the smallest change worth having", fmt.Sprintf("%g: it must be above 0 and finite", in.Smallest)})
	}
	if err := checkSeries(in.Before, 4, "a baseline to test against"); err != nil {
		return Sheet{}, err
	}
	before := summarise(in.Before)
	if !(before.variance > 0) {
		return Sheet{}, fmt.Errorf("practice: the balls before: %w", dispersion.ErrDegenerate)
	}
	s := Sheet{
		Pupil: in.Pupil, Tasks: append([]Task(nil), in.Tasks...), Seed: in.Seed,
		Club: in.Club, Measure: in.Measure, Unit: in.Unit,
		FirstBalls: firstBalls, Before: before.mean, SD: math.Sqrt(before.variance), BeforeBalls: len(in.Before),
		Smallest: in.Smallest, LessIsBetter: in.LessIsBetter,
		Stop: []string{
			fmt.Sprintf("Stop after ball %d, however it goes. Stopping when it looks good makes any practice look good.", total),
			"Stop before if something hurts or when the swing gets slow and heavy; write down after which ball.",
			"A ball that was no swing (a noise, a slip) is hit again and noted. A bad ball is a ball.",
		},
	}
	for i, task := range in.Tasks {
		for range task.Balls {
			s.Order = append(s.Order, i)
		}
	}
	shuffle(resample.NewStream(in.Seed, "practice sheet", 0), s.Order)
	s.Meanings = s.meanings()
	return s, checkFinite("practice sheet", s.Before, s.SD, s.Meanings[0].Low, s.Meanings[0].High)
}

func (s Sheet) meanings() []Meaning {
	n := float64(s.BeforeBalls)
	e := s.SD * math.Sqrt(1/n+1/float64(s.FirstBalls))
	t := distuv.StudentsT{Sigma: 1, Nu: n + float64(s.FirstBalls) - 2}
	sure, likely := t.Quantile(0.975)*e, t.Quantile(0.80)*e
	// Gains, from the best down: where each verdict ends and the next begins.
	type line struct {
		verdict compare.VerdictKind
		from    float64
	}
	lines := []line{{compare.WorthHaving, s.Smallest + sure}, {compare.Probably, s.Smallest + likely}}
	none, worse := s.Smallest-sure, -s.Smallest-sure
	lines = append(lines, line{compare.CantTell, none}, line{compare.NoGainWorth, worse}, line{compare.Worse, math.Inf(-1)})
	all := make([]Meaning, len(lines))
	above := math.Inf(1)
	for i, l := range lines {
		m := Meaning{Verdict: l.verdict, Text: meaningText(l.verdict)}
		low, high := s.Before+l.from, s.Before+above
		if s.LessIsBetter {
			low, high = s.Before-above, s.Before-l.from
		}
		if m.HasLow = !math.IsInf(low, 0); m.HasLow {
			m.Low = low
		}
		if m.HasHigh = !math.IsInf(high, 0); m.HasHigh {
			m.High = high
		}
		all[i], above = m, l.from
	}
	return all
}

func meaningText(v compare.VerdictKind) string {
	switch v {
	case compare.WorthHaving:
		return "Kept: a gain worth having is there before any teaching. Go on to the next thing."
	case compare.Probably:
		return "Probably kept: a gain worth having is more likely than not. Practise the same again and test again."
	case compare.NoGainWorth:
		return "Not kept: what the lesson showed was performance. Change how it is practised, not only how much."
	case compare.Worse:
		return "Worse than before: stop practising this and talk about it."
	}
	return "Can't tell: these balls fit both. Test again at the next session and take both together."
}
