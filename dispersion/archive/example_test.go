package archive_test

import (
	"context"
	"fmt"
	"log"
	"os"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/archive"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// A session is added once, however often it comes, and read back group by group.
func ExampleArchive_Groups() {
	dir, err := os.MkdirTemp("", "archive")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(dir)
	a, err := archive.Create(dir)
	if err != nil {
		log.Fatal(err)
	}
	text := "pupil,session,stage,club,carry_yd,side_yd\n" +
		"Ann,2024-05-01,old swing,7i,148,-6\nAnn,2024-05-01,old swing,7i,151,4\n" +
		"Ann,2024-05-01,new swing,7i,155,3\nAnn,2024-05-01,new swing,7i,157,-1\n"
	ctx := context.Background()
	for range 2 {
		l, err := lesson.Read(strings.NewReader(text), lesson.ReadOptions{})
		if err != nil {
			log.Fatal(err)
		}
		added, err := a.Add(ctx, l)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Println("new:", added.New)
	}
	for g, err := range a.Groups(ctx, archive.Query{Pupil: "Ann", From: "2024-01-01", To: "2024-12-31"}) {
		if err != nil {
			log.Fatal(err) // it names the file; a loop may also go on to the next
		}
		all, err := g.All()
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%s, %s, %s: %d shots, mean carry %.1f %s\n", g.Day, g.Stage.Name, g.Club, all.N(), all.Mean().Y, g.Unit)
	}
	// Output:
	// new: true
	// new: false
	// 2024-05-01, old swing, 7i: 2 shots, mean carry 149.5 yd
	// 2024-05-01, new swing, 7i: 2 shots, mean carry 156.0 yd
}

// What pupils gained on average: one number for each pupil, however many shots
// are behind it.
func ExamplePool() {
	gains := []archive.PupilValue{
		{Pupil: "a", Value: 4.1}, {Pupil: "b", Value: -0.8}, {Pupil: "c", Value: 6.0}, {Pupil: "d", Value: 2.2},
		{Pupil: "e", Value: 3.3}, {Pupil: "f", Value: 0.4}, {Pupil: "g", Value: 7.9}, {Pupil: "h", Value: 1.5},
		{Pupil: "i", Value: 2.7}, {Pupil: "j", Value: 5.2}, {Pupil: "k", Value: -1.9}, {Pupil: "l", Value: 3.8},
	}
	p, err := archive.Pool(context.Background(), gains, compare.Options{Seed: 1})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%d pupils gained %.1f yd on average, %.0f %% interval from %.0f to %.0f\n", p.Pupils, p.Estimate, 100*p.Interval.Level, p.Interval.Low, p.Interval.High)
	// Output:
	// 12 pupils gained 2.9 yd on average, 95 % interval from 1 to 5
}

// Sums that a database made: docs/sql.md.
func ExampleSums_Moments() {
	s := archive.Sums{N: 2, Side: 3, Carry: 3120, SideSide: 5, SideCarry: 4690, CarryCarry: 4867400}
	m, err := s.Moments()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(m.N, m.Mean.X, m.Mean.Y, m.SXX, m.SXY, m.SYY)
	// Output:
	// 2 0.15 156 0.005 0.1 2
}
