// Study simulates groups of shots from known distributions and writes what the
// methods of the library make of them, as tables and pictures for the docs:
//
//	go run ./dispersion/internal/study             every study
//	go run ./dispersion/internal/study one-group   the named ones
//
// Run it from the top of the repository. A seed fixes every number.
package main

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
)

// A study writes its results into the folder out.
type study struct {
	name, asks string
	run        func(out string, seed uint64) error
}

var studies = []study{
	{"one-group", "how often intervals and regions of one group hold what they say, and how wide they are", oneGroup},
	{"two-groups", "how often intervals, p-values and verdicts on two groups are right, and what else was tried", twoGroups},
	{"aims", "how the best aim moves as the grid of aims is refined", aimGrid},
	{"flight", "how often a gain taken apart holds, and how far a change of air is off, whatever the ball", flights},
	{"largest", "how far apart the two farthest of n shots are", largest},
	{"mixed", "how often the intervals of a mixed model of sessions hold, and whether a crossover of two drills finds their difference", mixedModels},
	{"practice", "how long control charts run, and whether a kept gain is found", practiceStudy},
}

func main() {
	out := flag.String("out", "docs/methods", "folder for tables and pictures")
	seed := flag.Uint64("seed", 1, "seed of the random numbers")
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "usage: study [flags] [name ...]")
		for _, s := range studies {
			fmt.Fprintf(flag.CommandLine.Output(), "  %-10s %s\n", s.name, s.asks)
		}
		flag.PrintDefaults()
	}
	flag.Parse()
	if err := run(flag.Args(), *out, *seed); err != nil {
		fmt.Fprintln(os.Stderr, "study:", err)
		os.Exit(1)
	}
}

func run(names []string, out string, seed uint64) error {
	known := make([]string, len(studies))
	for i, s := range studies {
		known[i] = s.name
	}
	for _, name := range names {
		if !slices.Contains(known, name) {
			return fmt.Errorf("no study %q: there are %s", name, strings.Join(known, ", "))
		}
	}
	if err := os.MkdirAll(out, 0o755); err != nil {
		return err
	}
	for _, s := range studies {
		if len(names) > 0 && !slices.Contains(names, s.name) {
			continue
		}
		if err := s.run(out, seed); err != nil {
			return fmt.Errorf("%s: %w", s.name, err)
		}
	}
	return nil
}
