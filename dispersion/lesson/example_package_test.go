package lesson_test

import (
	"bytes"
	"fmt"
	"log"
	"strings"
	"testing/fstest"

	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A lesson is given away as two files, the table and what it holds, and read again.
func ExampleReadPackage() {
	l, err := lesson.Read(strings.NewReader("Side (ft);Carry (yd);Ball Speed (mph)\n4,5;150,25;108,1\n-3;148;107,4\n"), lesson.ReadOptions{})
	if err != nil {
		log.Fatal(err)
	}
	var table, descriptor bytes.Buffer
	if err := l.WriteCSV(&table); err != nil {
		log.Fatal(err)
	}
	if err := l.WriteDescriptor(&descriptor, "lesson.csv"); err != nil {
		log.Fatal(err)
	}
	folder := fstest.MapFS{"lesson.csv": {Data: table.Bytes()}, "datapackage.json": {Data: descriptor.Bytes()}}
	back, err := lesson.ReadPackage(folder, "datapackage.json", lesson.ReadOptions{})
	if err != nil {
		log.Fatal(err)
	}
	speed, _ := back.Shots[0].Value("ball_speed_mph")
	fmt.Println(back.Shots[0].Point(), back.Unit, speed)
	// Output: {1.5 150.25} yd 108.1
}

// The mishit is marked, and the clean shots answer how good the ball is when
// struck.
func ExampleGroup_Clean() {
	l, err := lesson.Read(strings.NewReader("carry_yd,side_yd\n150,1\n152,-2\n149,0\n151,3\n95,-8\n148,1\n"), lesson.ReadOptions{})
	if err != nil {
		log.Fatal(err)
	}
	g := l.Groups()[0]
	all, err := g.All()
	if err != nil {
		log.Fatal(err)
	}
	clean, err := g.Clean()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%d of %d mishit; mean carry %.1f yd, of the clean shots %.1f\n", g.Mishits(), all.N(), all.Mean().Y, clean.Mean().Y)
	// Output: 1 of 6 mishit; mean carry 140.8 yd, of the clean shots 150.0
}
