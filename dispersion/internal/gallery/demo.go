package main

import (
	"bytes"
	"fmt"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion"
	"github.com/landfall-golf/landfall/dispersion/chart"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/strokes"
)

// A demo is what the figures are drawn from: the demo lesson, its first stage and
// the one with the new swing, and a hole and a baseline to value them by.
type demo struct {
	lesson        *lesson.Lesson
	unit          string
	stages        []chart.Stage
	before, after *dispersion.Group // clean shots
	hole          *strokes.Hole
	baseline      strokes.Baseline
}

const firstStage, newStage = 0, 3

func newDemo() (*demo, error) {
	l, err := datasets.DemoLesson()
	if err != nil {
		return nil, err
	}
	d := &demo{lesson: l, unit: string(l.Unit)}
	groups := l.Groups()
	for _, g := range groups {
		s := chart.Stage{Name: g.Stage.Name, Like: "full", Mishit: g.Mishit}
		if g.Stage.Intent == lesson.Drill {
			s.Like, s.Sentence = "drill", "A drill: pictured, not judged."
		}
		for _, shot := range g.Shots {
			s.Shots = append(s.Shots, shot.Point())
		}
		d.stages = append(d.stages, s)
	}
	if len(groups) <= newStage {
		return nil, fmt.Errorf("the demo lesson has %d stages, and the new swing is the fourth", len(groups))
	}
	if d.before, err = groups[firstStage].Clean(); err != nil {
		return nil, err
	}
	if d.after, err = groups[newStage].Clean(); err != nil {
		return nil, err
	}
	if d.hole, err = strokes.ReadHole(bytes.NewReader(datasets.DemoPondFile())); err != nil {
		return nil, err
	}
	d.baseline, err = strokes.ReadBaseline(bytes.NewReader(datasets.DemoBaselineFile()), "an invented player")
	return d, err
}
