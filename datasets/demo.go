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
	Carry      float64 `json:"carry"`       // mean
	CarrySD    float64 `json:"carry_sd"`    // of single balls
	Side       float64 `json:"side"`        // right of the target line positive
	SideSD     float64 `json:"side_sd"`     // of single balls
	Mishits    []int   `json:"mishits"`     // balls of the stage that are mishit, from 1
	Unread     []int   `json:"unread"`      // balls of the stage that the device failed to read, from 1
	StrikeHeel float64 `json:"strike_heel"` // mean strike, mm from the middle of the face toward the heel
	Spin       float64 `json:"spin_rpm"`    // mean, of the clean shots
}

// A FlightTruth is how the balls of the demo lesson fly, in standard air at sea
// level, and what its device gets wrong: standard deviations in the units of the
// columns. The coefficients are those of flight.Form.
type FlightTruth struct {
	Drag           float64 `json:"drag"`                 // with the next four, of flight.Form
	DragSpin       float64 `json:"drag_spin"`            // times the spin factor
	DragReynolds   float64 `json:"drag_reynolds"`        // times its term in the Reynolds number
	Lift           float64 `json:"lift"`                 // at a spin factor of 1
	LiftPower      float64 `json:"lift_power"`           // of the spin factor
	BallSpeedError float64 `json:"ball_speed_error_mph"` // mph
	SpinError      float64 `json:"spin_error_rpm"`       // rpm
	TiltError      float64 `json:"spin_tilt_error_deg"`  // degrees
	ApexError      float64 `json:"apex_error_ft"`        // feet
	DescentError   float64 `json:"descent_error_deg"`    // degrees
	CarryError     float64 `json:"carry_error_yd"`       // yards
	SideError      float64 `json:"side_error_yd"`        // yards
	SpinSD         float64 `json:"spin_sd_rpm"`          // of the balls themselves, rpm
	MishitSpin     float64 `json:"mishit_spin_rpm"`      // mean spin of the mishits
}

// DemoTruth returns what the demo lesson was drawn from, stage by stage.
func DemoTruth() ([]StageTruth, error) {
	var t struct{ Stages []StageTruth }
	err := json.Unmarshal(demoTruth, &t)
	return t.Stages, err
}

// DemoFlightTruth returns how the balls of the demo lesson fly and what its
// device gets wrong.
func DemoFlightTruth() (FlightTruth, error) {
	var t struct{ Flight FlightTruth }
	err := json.Unmarshal(demoTruth, &t)
	return t.Flight, err
}
