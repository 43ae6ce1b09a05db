package datasets

import (
	"bytes"
	_ "embed"
	"encoding/json"
)

//go:embed demo-season/shots.csv
var demoSeasonShots []byte

//go:embed demo-season/truth.json
var demoSeasonTruth []byte

// DemoSeasonFile returns a copy of the demo season, the twelve sessions of a
// pupil in ten weeks, as one coach's file: for practice.ReadSeason.
func DemoSeasonFile() []byte { return bytes.Clone(demoSeasonShots) }

// A SeasonTruth is what the demo season was drawn from: means and standard
// deviations of the clean shots, carry in yards, start line in degrees, right of
// the target positive.
type SeasonTruth struct {
	CarryDaySD     float64            `json:"carry_day_sd"`      // of a day's true mean about what its stage says
	StartLineDaySD float64            `json:"start_line_day_sd"` // the same of the start line
	Stages         []SeasonStageTruth `json:"stages"`            // in the order hit
}

// A SeasonStageTruth is what the shots of one stage of a session were drawn from.
type SeasonStageTruth struct {
	Session     string  `json:"session"`
	Stage       string  `json:"stage"`
	Intent      string  `json:"intent"`
	Phase       string  `json:"phase"` // as in practice.Phase
	Club        string  `json:"club"`
	Shots       int     `json:"shots"`
	Carry       float64 `json:"carry"`         // mean, yards
	CarrySD     float64 `json:"carry_sd"`      // of single balls within the stage
	StartLine   float64 `json:"start_line"`    // mean, degrees
	StartLineSD float64 `json:"start_line_sd"` // of single balls within the stage
	Mishits     []int   `json:"mishits"`       // balls of the stage that are mishit, from 1
}

// DemoSeasonTruth returns what the demo season was drawn from.
func DemoSeasonTruth() (SeasonTruth, error) {
	var t SeasonTruth
	err := json.Unmarshal(demoSeasonTruth, &t)
	return t, err
}
