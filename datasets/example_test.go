package datasets_test

import (
	"fmt"

	"github.com/landfall-golf/landfall/datasets"
)

func ExampleDemoLesson() {
	l, err := datasets.DemoLesson()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, g := range l.Groups() {
		fmt.Printf("%s (%s): %d shots, %d mishits\n", g.Stage.Name, g.Stage.Intent, len(g.Shots), g.Mishits())
	}
	// Output:
	// as she came (baseline): 10 shots, 1 mishits
	// feet together (drill): 8 shots, 1 mishits
	// slow takeaway (full): 9 shots, 0 mishits
	// room for the arms (full): 12 shots, 1 mishits
	// old swing again (check): 8 shots, 0 mishits
}
