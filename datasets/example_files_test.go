package datasets_test

import (
	"bytes"
	"fmt"
	"log"
	"strings"

	"github.com/landfall-golf/landfall/datasets"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/dispersion/practice"
	"github.com/landfall-golf/landfall/dispersion/strokes"
)

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}

// The same lesson as a coach's file.
func ExampleDemoFile() {
	l, err := lesson.Read(bytes.NewReader(datasets.DemoFile()), lesson.ReadOptions{})
	check(err)
	fmt.Printf("%d rows: %d shots and %d that could not be read\n", l.Rows, len(l.Shots), len(l.Rejected))
	// Output: 48 rows: 47 shots and 1 that could not be read
}

// What the stages were drawn from: no analysis should say more than that.
func ExampleDemoTruth() {
	stages, err := datasets.DemoTruth()
	check(err)
	first, last := stages[0], stages[3]
	fmt.Printf("%s: %g yd, %s: %g yd\n", first.Stage, first.Carry, last.Stage, last.Carry)
	// Output: as she came: 117 yd, room for the arms: 133 yd
}

func ExampleDemoFlightTruth() {
	f, err := datasets.DemoFlightTruth()
	check(err)
	fmt.Printf("drag %g, lift %g; the device errs by %g yd of carry\n", f.Drag, f.Lift, f.CarryError)
	// Output: drag 0.24, lift 0.54; the device errs by 0.7 yd of carry
}

func ExampleDemoSeasonFile() {
	s, err := practice.ReadSeason(bytes.NewReader(datasets.DemoSeasonFile()), practice.SeasonOptions{})
	check(err)
	first, last := s.Sessions[0], s.Sessions[len(s.Sessions)-1]
	fmt.Printf("%d sessions in %.0f days\n", len(s.Sessions), last.Start.Sub(first.Start).Hours()/24)
	// Output: 12 sessions in 69 days
}

func ExampleDemoSeasonTruth() {
	t, err := datasets.DemoSeasonTruth()
	check(err)
	fmt.Printf("%d stages; a day differs by %g yd by itself\n", len(t.Stages), t.CarryDaySD)
	// Output: 35 stages; a day differs by 1.5 yd by itself
}

func ExampleDemoBaselineFile() {
	b, err := strokes.ReadBaseline(bytes.NewReader(datasets.DemoBaselineFile()), "the invented player of the demo")
	check(err)
	e, err := b.Expected(strokes.Fairway, 140)
	check(err)
	fmt.Printf("from 140 m on the fairway: %.2f strokes\n", e)
	// Output: from 140 m on the fairway: 3.97 strokes
}

func ExampleDemoIslandFile() {
	hole, err := strokes.ReadHole(bytes.NewReader(datasets.DemoIslandFile()))
	check(err)
	fmt.Printf("%s: %.0f m\n", hole.Name(), hole.Length())
	// Output: The island: 148 m
}

func ExampleDemoPondFile() {
	hole, err := strokes.ReadHole(bytes.NewReader(datasets.DemoPondFile()))
	check(err)
	fmt.Printf("%s: %.0f m\n", hole.Name(), hole.Length())
	// Output: The pond: 352 m
}

// As printed by Berry and by Gelman and Nolan.
func ExamplePutts1996File() {
	fmt.Println(strings.Join(strings.Split(string(datasets.Putts1996File()), "\n")[:2], "\n"))
	// Output:
	// distance_ft,tried,holed
	// 2,1443,1346
}

func ExamplePutts2018File() {
	rows, err := strokes.ReadPutts(bytes.NewReader(datasets.Putts2018File()))
	check(err)
	tried := 0
	for _, r := range rows {
		tried += r.Tried
	}
	fmt.Println(len(rows), "bands,", tried, "putts")
	// Output: 31 bands, 1253196 putts
}
