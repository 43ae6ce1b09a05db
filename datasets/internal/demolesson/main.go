// Command demolesson draws the demo lesson from a stated truth and a seed. Run
// it from the module's top folder:
//
//	go run ./datasets/internal/demolesson
//
// It writes datasets/demo-lesson/shots.csv and truth.json. Nila, her teacher
// and every number are invented.
package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/flight"
)

// A lesson on striking the middle of the face with the 7 iron. The first full
// stage, with a slower takeaway, changes nothing; the second, with the ball a
// little further from the feet, is worth 16 yards.
var stages = []datasets.StageTruth{
	{Stage: "as she came", Intent: "baseline", Shots: 10, Carry: 117, CarrySD: 6, Side: 5, SideSD: 8, Mishits: []int{4}, StrikeHeel: 14, Spin: 5600},
	{Stage: "feet together", Intent: "drill", Shots: 8, Carry: 96, CarrySD: 6, Side: 2, SideSD: 6, Mishits: []int{2}, StrikeHeel: 9, Spin: 5400},
	{Stage: "slow takeaway", Intent: "full", Shots: 10, Carry: 117, CarrySD: 6, Side: 5, SideSD: 8, Unread: []int{6}, StrikeHeel: 13, Spin: 5600},
	{Stage: "room for the arms", Intent: "full", Shots: 12, Carry: 133, CarrySD: 6, Side: 1, SideSD: 7, Mishits: []int{9}, StrikeHeel: 3, Spin: 5900},
	{Stage: "old swing again", Intent: "check", Shots: 8, Carry: 117, CarrySD: 6, Side: 5, SideSD: 8, StrikeHeel: 13, Spin: 5600},
}

const seed = 6

const note = "What the shots of the demo lesson are drawn from. Mishits carry 55 to 75 % of what they would have. " +
	"Carry, side, launch angle and start line are drawn first, then the spin; ball speed and tilt are those with which a ball flown with the coefficients below, " +
	"in standard air at sea level, lands where the device says, within its errors."

// nila is how Nila's balls fly, in standard air, and what the device gets wrong:
// standard deviations, in the units of the columns.
var nila = datasets.FlightTruth{
	Drag: .24, DragSpin: .18, DragReynolds: .06, Lift: .54, LiftPower: .4,
	BallSpeedError: .5, SpinError: 60, TiltError: 1, ApexError: 1.5, DescentError: .6, CarryError: .7, SideError: .5,
	SpinSD: 350, MishitSpin: 4200,
}

var header = []string{"pupil", "session", "time", "place", "ball", "stage", "intent", "club",
	"club_speed_mph", "strike_across_mm", "ball_speed_mph", "start_line_deg", "launch_deg",
	"spin_rpm", "spin_tilt_deg", "apex_ft", "descent_deg", "carry_yd", "side_yd"}

func main() {
	log.SetFlags(0)
	files, err := files()
	if err != nil {
		log.Fatal(err)
	}
	for name, content := range files {
		if err := os.WriteFile(filepath.Join("datasets", "demo-lesson", name), content, 0o644); err != nil {
			log.Fatalf("%v (run this from the module's top folder)", err)
		}
	}
}

// files returns what belongs into datasets/demo-lesson.
func files() (map[string][]byte, error) {
	shots, err := draw()
	if err != nil {
		return nil, err
	}
	text, err := json.MarshalIndent(struct {
		Note   string                `json:"note"`
		Seed   uint64                `json:"seed"`
		Flight datasets.FlightTruth  `json:"flight"`
		Stages []datasets.StageTruth `json:"stages"`
	}{note, seed, nila, stages}, "", " ")
	return map[string][]byte{"shots.csv": shots, "truth.json": append(text, '\n')}, err
}

// draw returns the lesson as CSV.
func draw() ([]byte, error) {
	rng, air := rand.New(rand.NewPCG(seed, 0)), rand.New(rand.NewPCG(seed, 1))
	clock := time.Date(2026, 3, 14, 10, 4, 0, 0, time.UTC)
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	if err := w.Write(header); err != nil {
		return nil, err
	}
	for _, s := range stages {
		for ball := 1; ball <= s.Shots; ball++ {
			row, err := drawShot(rng, air, s, ball)
			if err != nil {
				return nil, err
			}
			clock = clock.Add(time.Duration(30+rng.IntN(30)) * time.Second)
			record := append([]string{"Nila", "2026-03-14", clock.Format("15:04:05"), "bay 2", "range", s.Stage, s.Intent, "7 iron"}, row...)
			if err := w.Write(record); err != nil {
				return nil, err
			}
		}
		clock = clock.Add(4 * time.Minute)
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

// drawShot draws the measured columns of one ball. Landing comes first, from the
// truth; what was measured on the way there is made to fit it. The flight has a
// stream of its own, so that nothing else depends on it.
func drawShot(rng, air *rand.Rand, s datasets.StageTruth, ball int) ([]string, error) {
	carry := s.Carry + s.CarrySD*rng.NormFloat64()
	side := s.Side + s.SideSD*rng.NormFloat64()
	strike := -s.StrikeHeel + 4*rng.NormFloat64()
	clubSpeed := 70.5 + .9*rng.NormFloat64()
	launch := 19 + 1.2*rng.NormFloat64()
	startLine := .55*side/carry*57.3 + .8*rng.NormFloat64()
	short := .55 + .2*rng.Float64()
	spin := s.Spin
	for _, m := range s.Mishits {
		if m == ball {
			carry *= short
			side *= short
			launch = 7 + 2*rng.NormFloat64()
			spin = nila.MishitSpin
		}
	}
	speedError := rng.NormFloat64()
	f, err := flown(air, flight.Launch{Angle: launch * flight.Degree, Direction: startLine * flight.Degree}, spin, carry, side)
	if err != nil {
		return nil, err
	}
	one := func(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }
	row := []string{
		one(clubSpeed), strconv.Itoa(int(math.Round(strike))), one(f.speed + nila.BallSpeedError*speedError), one(startLine), one(launch),
		strconv.Itoa(int(math.Round(f.spin))), one(f.tilt), one(f.apex), one(f.descent), one(carry), one(side),
	}
	for _, u := range s.Unread {
		if u == ball { // the ball left the field of view: no flight, no landing
			for i := 3; i < len(row); i++ {
				row[i] = ""
			}
		}
	}
	return row, nil
}
