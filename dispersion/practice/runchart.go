package practice

import (
	"fmt"

	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A RunPoint is one ball of a run chart.
type RunPoint struct {
	Ball   int     // its number in the lesson
	Value  float64 // in the unit of the chart
	Mishit bool    // drawn crossed, and left out of trends
}

// A Stretch is an unbroken run of balls of one stage. A stage that is come back
// to has several.
type Stretch struct {
	Stage    lesson.Stage
	From, To int     // of RunChart.Points, [From, To)
	Median   float64 // of its clean balls, of all where none is clean
}

// A RunChart is one measure of one club in the order hit.
type RunChart struct {
	Column, Unit string // the measure, such as "carry"
	Club         string
	Points       []RunPoint // in the order hit
	Stretches    []Stretch  // in the order hit; together they are all points
	Missing      int        // balls that count but have no value in this column
}

// RunChartOf returns the run chart of a numeric column, by the name that
// [lesson.Shot.Value] takes, for the shots with one club ("" where the file
// names none). Void shots are left out; mishits stay and are marked.
//
// Errors: [ErrMissing] for no lesson; [ErrColumn] where no shot with that club
// has a value in the column; *[ValueError] for a value too large to be squared.
func RunChartOf(l *lesson.Lesson, club, column string) (RunChart, error) {
	if l == nil {
		return RunChart{}, fmt.Errorf("practice: %w", ErrMissing)
	}
	c := RunChart{Column: column, Unit: unitOf(l, column), Club: club}
	mishit, stage := map[int]bool{}, map[int]lesson.Stage{}
	for _, g := range l.Groups() {
		for i, s := range g.Shots {
			mishit[s.Ball], stage[s.Ball] = g.Mishit[i], g.Stage
		}
	}
	var values []float64
	for _, s := range l.Shots {
		if s.Void != "" || s.Club != club {
			continue
		}
		v, ok := s.Value(column)
		if !ok {
			c.Missing++
			continue
		}
		at := len(c.Points)
		if n := len(c.Stretches); n == 0 || c.Stretches[n-1].Stage != stage[s.Ball] {
			c.Stretches = append(c.Stretches, Stretch{Stage: stage[s.Ball], From: at})
		}
		c.Stretches[len(c.Stretches)-1].To = at + 1
		c.Points = append(c.Points, RunPoint{s.Ball, v, mishit[s.Ball]})
		values = append(values, v)
	}
	if len(c.Points) == 0 {
		return RunChart{}, fmt.Errorf("practice: column %q, club %q: %w", column, club, ErrColumn)
	}
	if err := checkValues(values); err != nil {
		return RunChart{}, err
	}
	for i := range c.Stretches {
		s := &c.Stretches[i]
		clean := c.run(s.From, s.To).Values
		if len(clean) == 0 {
			clean = values[s.From:s.To]
		}
		m, err := dispersion.Median(clean)
		if err != nil {
			return RunChart{}, err
		}
		s.Median = m
	}
	return c, nil
}

// unitOf returns the unit of a column, that of the lesson for carry and side.
func unitOf(l *lesson.Lesson, column string) string {
	if column == "carry" || column == "side" {
		return string(l.Unit)
	}
	for _, c := range l.Columns {
		if c.Name == column {
			return c.Unit
		}
	}
	return ""
}

// run returns the clean balls of the points [from, to).
func (c RunChart) run(from, to int) compare.Run {
	var r compare.Run
	for _, p := range c.Points[from:to] {
		if !p.Mishit {
			r.At, r.Values = append(r.At, float64(p.Ball)), append(r.Values, p.Value)
		}
	}
	return r
}

// Clean returns the values of the clean balls in the order hit, with their
// numbers in the lesson.
func (c RunChart) Clean() compare.Run { return c.run(0, len(c.Points)) }

// DriftOrStages compares two stories of the lesson, one long drift and the
// stages, by [compare.DriftOrStages] on the clean balls. Drills are left out, and
// stretches of one stage are one stage again. Where the line does as well, no
// stage boundary may be credited with what a drift would have done by itself.
//
// Errors: those of [compare.DriftOrStages].
func (c RunChart) DriftOrStages(level float64) (compare.DriftCheck, error) {
	var runs []compare.Run
	place := map[lesson.Stage]int{}
	for _, s := range c.Stretches {
		r := c.run(s.From, s.To)
		if s.Stage.Intent == lesson.Drill || len(r.At) == 0 {
			continue
		}
		i, ok := place[s.Stage]
		if !ok {
			place[s.Stage] = len(runs)
			runs = append(runs, r)
			continue
		}
		runs[i].At, runs[i].Values = append(runs[i].At, r.At...), append(runs[i].Values, r.Values...)
	}
	return compare.DriftOrStages(c.Column, c.Unit, runs, level)
}
