package practice_test

import (
	"fmt"

	"github.com/landfall-golf/landfall/dispersion/practice"
)

// Half of each teacher's pupils get either drill first, half either schedule, and
// each four all four combinations.
func ExampleStudyPlan_Assign() {
	plan, _, _, err := practice.DemoStudy(1)
	check(err)
	drawn, err := plan.Assign([]practice.Enrolment{{Pupil: "A", Teacher: "T"}, {Pupil: "B", Teacher: "T"}, {Pupil: "C", Teacher: "T"}, {Pupil: "D", Teacher: "T"}})
	check(err)
	for _, a := range drawn {
		fmt.Printf("%s: first %s, %s\n", a.Pupil, a.Drills[0], a.Schedule)
	}
	// Output:
	// A: first slow swings, random
	// B: first step and swing, blocked
	// C: first step and swing, random
	// D: first slow swings, blocked
}

// How close the answer will be with the pupils planned, and with four times as many:
// about half as wide.
func ExampleStudyPlan_HalfWidth() {
	plan, _, _, err := practice.DemoStudy(1)
	check(err)
	for _, pupils := range []int{16, 64} {
		plan.Pupils = pupils
		half, err := plan.HalfWidth(0.95)
		check(err)
		fmt.Printf("%d pupils: ±%.1f yd\n", pupils, half)
	}
	// Output:
	// 16 pupils: ±3.5 yd
	// 64 pupils: ±1.6 yd
}

// The demo study was drawn with 4 yd for the second drill and 2 for the random
// order.
func ExampleCrossover() {
	plan, trials, truth, err := practice.DemoStudy(1)
	check(err)
	r, err := practice.Crossover(plan, trials, practice.FitOptions{})
	check(err)
	fmt.Printf("drill %.1f to %.1f yd, drawn with %g\n", r.Drill.Interval.Low, r.Drill.Interval.High, truth.Drill)
	fmt.Printf("random order %.1f to %.1f yd, drawn with %g\n", r.Schedule.Interval.Low, r.Schedule.Interval.High, truth.Schedule)
	// Output:
	// drill 2.0 to 5.9 yd, drawn with 4
	// random order 1.7 to 6.7 yd, drawn with 2
}

// The same name and key give the same pseudonym, another key another one.
func ExamplePseudonym() {
	a, err := practice.Pseudonym([]byte("sixteen bytes or more"), "pupil", "Ann")
	check(err)
	b, err := practice.Pseudonym([]byte("sixteen bytes or more"), "pupil", " Ann ")
	check(err)
	c, err := practice.Pseudonym([]byte("another key of one's own"), "pupil", "Ann")
	check(err)
	fmt.Println(len(a), a == b, a == c)
	// Output: 16 true false
}
