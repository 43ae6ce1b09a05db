package datasets

import (
	"bytes"
	_ "embed"
	"encoding/json"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

//go:embed demo-lesson/shots.csv
var demoShots []byte

//go:embed demo-lesson/truth.json
var demoTruth []byte

// DemoFile returns the demo lesson as a coach's file: a copy of its CSV.
func DemoFile() []byte { return bytes.Clone(demoShots) }

// DemoLesson reads the demo lesson: 48 balls with the 7 iron in five stages, as
// drawn by the command datasets/internal/demolesson from [DemoTruth].
func DemoLesson() (*lesson.Lesson, error) {
	return lesson.Read(bytes.NewReader(demoShots), lesson.ReadOptions{})
}

// A StageTruth is what the shots of one stage of the demo lesson were drawn
// from: means and standard deviations in yards, of the clean shots.
type StageTruth struct {
	Stage      string  `json:"stage"`
	Intent     string  `json:"intent"`
	Shots      int     `json:"shots"`
	Carry      float64 `json:"carry"`
	CarrySD    float64 `json:"carry_sd"`
	Side       float64 `json:"side"` // right of the target line positive
	SideSD     float64 `json:"side_sd"`
	Mishits    []int   `json:"mishits"`     // balls of the stage that are mishit, from 1
	Unread     []int   `json:"unread"`      // balls of the stage that the device failed to read, from 1
	StrikeHeel float64 `json:"strike_heel"` // mean strike, mm from the middle of the face toward the heel
}

// DemoTruth returns what the demo lesson was drawn from, stage by stage.
func DemoTruth() ([]StageTruth, error) {
	var t struct{ Stages []StageTruth }
	err := json.Unmarshal(demoTruth, &t)
	return t.Stages, err
}
