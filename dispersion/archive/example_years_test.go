package archive_test

import (
	"context"
	"errors"
	"fmt"
	"log"
	"os"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/archive"
	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}

// sixPupils returns an archive of six pupils with two balls each on two days, and its
// folder: the first carries 140 and 142 yd, the second 143 and 145, and so on.
func sixPupils() (*archive.Archive, string) {
	dir, err := os.MkdirTemp("", "archive")
	check(err)
	a, err := archive.Create(dir)
	check(err)
	for pupil := range 6 {
		for day := range 2 {
			carry := 140 + 3*pupil
			l, err := lesson.Read(strings.NewReader(fmt.Sprintf("pupil,session,club,carry_yd,side_yd\nP%d,2024-05-%02d,7i,%d,-2\nP%d,2024-05-%02d,7i,%d,2\n", pupil, day+1, carry, pupil, day+1, carry+2)), lesson.ReadOptions{})
			check(err)
			_, err = a.Add(context.Background(), l)
			check(err)
		}
	}
	return a, dir
}

func ExampleOpen() {
	_, dir := sixPupils()
	defer os.RemoveAll(dir)
	_, err := archive.Open(dir)
	fmt.Println(err)
	_, err = archive.Open(dir + "/elsewhere")
	fmt.Println(errors.Is(err, archive.ErrNoArchive))
	// Output:
	// <nil>
	// true
}

// What was added comes back to the last bit.
func ExampleArchive_Load() {
	a, dir := sixPupils()
	defer os.RemoveAll(dir)
	l, err := lesson.Read(strings.NewReader("pupil,session,club,carry_yd,side_yd\nAnn,2024-06-01,7i,151.3,-0.7\n"), lesson.ReadOptions{})
	check(err)
	added, err := a.Add(context.Background(), l)
	check(err)
	back, err := a.Load(added.File)
	check(err)
	fmt.Println(back.Pupil, back.Shots[0].Point())
	// Output: Ann {-0.7 151.3}
}

// Counts and moments of each group, without its shots.
func ExampleArchive_Summaries() {
	a, dir := sixPupils()
	defer os.RemoveAll(dir)
	for s, err := range a.Summaries(context.Background(), archive.Query{Pupil: "P0"}) {
		check(err)
		fmt.Printf("%s: %d shots, mean carry %g %s\n", s.Day, s.All.Moments.N, s.All.Moments.Mean.Y, s.Unit)
	}
	// Output:
	// 2024-05-01: 2 shots, mean carry 141 yd
	// 2024-05-02: 2 shots, mean carry 141 yd
}

func ExampleArchive_Totals() {
	a, dir := sixPupils()
	defer os.RemoveAll(dir)
	for t, err := range a.Totals(context.Background(), archive.Query{Pupil: "P5"}) {
		check(err)
		fmt.Printf("%s: %d groups, %d shots, mean carry %g %s\n", t.Club, t.Groups, t.All.Moments.N, t.All.Moments.Mean.Y, t.Unit)
	}
	// Output: 7i: 2 groups, 4 shots, mean carry 156 yd
}

// Pupils count once each: six means from 141 to 156 yd.
func ExampleArchive_Pool() {
	a, dir := sixPupils()
	defer os.RemoveAll(dir)
	p, err := a.Pool(context.Background(), archive.Query{Club: "7i", Unit: lesson.Yards}, archive.MeanCarry, compare.Options{})
	check(err)
	fmt.Printf("%d pupils, %d shots, mean carry %.1f yd\n", p.Pupils, p.Shots, p.Estimate)
	// Output: 6 pupils, 24 shots, mean carry 148.5 yd
}

// Any statistic of the library for every group, on all cores. Two parts share the
// pupils.
func ExampleArchive_ForEachGroup() {
	a, dir := sixPupils()
	defer os.RemoveAll(dir)
	seen := make(chan int, 12)
	for part := range 2 {
		check(a.ForEachGroup(context.Background(), archive.Query{Part: archive.Part{Index: part, Of: 2}}, func(g archive.Group) error {
			seen <- len(g.Shots)
			return nil
		}))
	}
	close(seen)
	groups, shots := 0, 0
	for n := range seen {
		groups, shots = groups+1, shots+n
	}
	fmt.Println(groups, "groups,", shots, "shots")
	// Output: 12 groups, 24 shots
}
