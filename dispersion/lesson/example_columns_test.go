package lesson_test

import (
	"bytes"
	"fmt"
	"log"
	"os"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

const otherWords = `Schläger;Flugweite;Abweichung
;m;m
Eisen 7;130,2;3,5 R
Eisen 7;131,2;4,5 L
Eisen 7;129,0;0
`

// A proposal is for its reader to correct; then the file is read by it.
func ExamplePropose() {
	p, err := lesson.Propose(strings.NewReader(otherWords))
	if err != nil {
		log.Fatal(err)
	}
	for _, f := range p.Mapping.Fields {
		fmt.Printf("%s: %s, unit %q, doubt %q\n", f.Name, f.Measure, f.Unit, f.Doubt)
	}
	l, err := lesson.Read(strings.NewReader(otherWords), lesson.ReadOptions{Columns: p.Mapping})
	if err != nil {
		log.Fatal(err)
	}
	for _, s := range l.Shots {
		fmt.Println(s.Club, s.Carry, s.Side, l.Unit)
	}
	// Output:
	// Schläger: club, unit "", doubt ""
	// Flugweite: carry, unit "m", doubt ""
	// Abweichung: side, unit "m", doubt ""
	// Eisen 7 130.2 3.5 m
	// Eisen 7 131.2 -4.5 m
	// Eisen 7 129 0 m
}

func ExampleReadMapping() {
	m, err := lesson.ReadMapping(strings.NewReader(`{"fields": [
		{"name": "long", "measure": "carry", "unit": "yd"},
		{"name": "wide", "measure": "side", "unit": "yd", "positive": "left"}]}`))
	if err != nil {
		log.Fatal(err)
	}
	l, err := lesson.Read(strings.NewReader("long,wide\n150,4\n"), lesson.ReadOptions{Columns: m})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(l.Shots[0].Point())
	// Output:
	// {-4 150}
}

func ExampleLesson_WriteCSV() {
	l, err := lesson.Read(strings.NewReader("Note;Side (ft);Carry (yd)\n=1+1;4,5;150,25\n"), lesson.ReadOptions{})
	if err != nil {
		log.Fatal(err)
	}
	if err := l.WriteCSV(os.Stdout); err != nil {
		log.Fatal(err)
	}
	// Output:
	// stage,intent,note,carry_yd,side_yd
	// all shots,full,'=1+1,150.25,1.5
}

func ExampleLesson_Anonymise() {
	l, err := lesson.Read(strings.NewReader("pupil,session,note,carry_yd,side_yd\nMira,2024-05-13,tired,150,1\n"), lesson.ReadOptions{})
	if err != nil {
		log.Fatal(err)
	}
	key := bytes.Repeat([]byte{1}, 32) // take crypto/rand
	a, err := l.Anonymise(key)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(a.Pupil != l.Pupil, a.Session != l.Session, a.Shots[0].Point() == l.Shots[0].Point())
	for _, w := range a.Warnings {
		fmt.Println(w)
	}
	// Output:
	// true true true
	// left out: the columns "note"
	// to look through: the names of stages, clubs, surfaces and balls are still there: "all shots"
}
