package lesson_test

import (
	"fmt"
	"log"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

const file = `Carry (yd),Side (yd),Club,Ball Speed (mph)
148,-6,7i,108.1
151,4,7i,109.0
150,-2,7i,108.7
no read,,7i,
155,3,7i,111.9
118,9,7i,96.2
157,-1,7i,112.4
156,2,7i,
`

func ExampleRead() {
	l, err := lesson.Read(strings.NewReader(file), lesson.ReadOptions{Stages: "1-4:old/baseline,5-8:new"})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%d rows, %d shots in %s\n", l.Rows, len(l.Shots), l.Unit)
	for _, r := range l.Rejected {
		fmt.Printf("line %d, %s: %s\n", r.Line, r.Column, r.Reason)
	}
	speed, ok := l.Shots[0].Value("ball_speed_mph")
	fmt.Println(l.Shots[0].Stage, l.Shots[0].Carry, speed, ok)
	_, ok = l.Shots[6].Value("ball_speed_mph")
	fmt.Println(l.Shots[6].Stage, l.Shots[6].Carry, ok)
	// Output:
	// 8 rows, 7 shots in yd
	// line 5, Carry (yd): "no read" is not a number: write digits only, the unit belongs in the header
	// old 148 108.1 true
	// new 156 false
}

// A stages file says what the file of the device can't.
func ExampleRead_stagesFile() {
	stages := `from,to,stage,intent,cue,void,why
1,4,old,baseline,,,
5,8,new,full,turn first,,
2,2,,,,yes,a door slammed
`
	l, err := lesson.Read(strings.NewReader(file), lesson.ReadOptions{StagesFile: strings.NewReader(stages)})
	if err != nil {
		log.Fatal(err)
	}
	for _, s := range l.Stages {
		fmt.Printf("%s (%s) %q\n", s.Name, s.Intent, s.Cue)
	}
	fmt.Println(l.Shots[1].Ball, l.Shots[1].Void)
	// Output:
	// old (baseline) ""
	// new (full) "turn first"
	// 2 a door slammed
}

func ExampleLesson_Groups() {
	l, err := lesson.Read(strings.NewReader(file), lesson.ReadOptions{Stages: "1-4:old/baseline,5-8:new"})
	if err != nil {
		log.Fatal(err)
	}
	for _, g := range l.Groups() {
		clean, err := g.Clean()
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%s, %s: %d shots, %d mishit, mean clean carry %.1f %s\n",
			g.Stage.Name, g.Club, len(g.Shots), g.Mishits(), clean.Mean().Y, l.Unit)
	}
	// Output:
	// old, 7i: 3 shots, 0 mishit, mean clean carry 149.7 yd
	// new, 7i: 4 shots, 1 mishit, mean clean carry 156.0 yd
}

func ExampleLesson_Pairs() {
	const file = `stage,intent,club,carry_m,side_m
old,baseline,7i,140,2
swish,drill,7i,120,5
new,full,7i,146,1
newer,full,7i,147,0
old,baseline,7i,141,3
`
	l, err := lesson.Read(strings.NewReader(file), lesson.ReadOptions{})
	if err != nil {
		log.Fatal(err)
	}
	for _, p := range l.Pairs() {
		fmt.Println(p.Before.Stage.Name, "→", p.After.Stage.Name, p.Headline)
	}
	// Output:
	// old → newer true
	// old → new false
	// new → newer false
	// newer → old again false
}
