package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// report writes the cells as one-group.md, one-group.csv and a picture.
func report(out string, seed uint64, cells []cell) error {
	if err := os.WriteFile(filepath.Join(out, "one-group.md"), markdown(seed, cells), 0o644); err != nil {
		return err
	}
	table, err := asCSV(cells)
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(out, "one-group.csv"), table, 0o644); err != nil {
		return err
	}
	return picture(filepath.Join(out, "one-group.svg"), cells)
}

func asCSV(cells []cell) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rows := [][]string{{"method", "aims_at", "nominal", "shape", "n", "groups", "coverage", "width_yd"}}
	for _, c := range cells {
		rows = append(rows, []string{
			c.method, c.aims, strconv.FormatFloat(c.nominal, 'g', -1, 64), c.shape, strconv.Itoa(c.n), strconv.Itoa(c.groups),
			strconv.FormatFloat(c.coverage, 'f', 4, 64), strconv.FormatFloat(c.width, 'f', 3, 64),
		})
	}
	err := w.WriteAll(rows)
	return b.Bytes(), err
}

func markdown(seed uint64, cells []cell) []byte {
	var b bytes.Buffer
	groups := 0
	for _, c := range cells {
		groups = max(groups, c.groups)
	}
	fmt.Fprintf(&b, `# One group: what intervals and regions hold

Made by `+"`go run ./dispersion/internal/study one-group`"+`, seed %d, %d groups for every number (for MCD from 20 shots on a tenth of that). All shapes share one body: standard
deviations of 6 yards in side and 8 in carry, correlation -0.3, around (2, 150). t(5) and t(3) have the tails of those
distributions. With 10 %% mishits, one shot in ten carries 25 to 45 %% short.

Each cell: the share of groups whose interval or region held what it aims at, in per cent, and its width in yards (median
over the groups): the length of an interval, the radius √(area/π) of a region. With 95 %% the figure is off by up to 1.4 by
chance (four standard deviations; 4.4 where the groups are a tenth). A dash: no answer for so few shots.

![Coverage against the number of shots, for each shape](one-group.svg)
`, seed, groups)
	for _, m := range methods {
		promise := "no promise: the share of next shots that it holds"
		if m.nominal > 0 {
			promise = fmt.Sprintf("should be %g %%", 100*m.nominal)
		}
		fmt.Fprintf(&b, "\n## %s\n\nAims at the %s; %s.\n\n| shots |", m.name, m.aims, promise)
		for _, s := range shapes {
			fmt.Fprintf(&b, " %s |", s.name)
		}
		fmt.Fprintf(&b, "\n| ---: |%s\n", strings.Repeat(" ---: |", len(shapes)))
		for _, n := range countsIn(cells) {
			fmt.Fprintf(&b, "| %d |", n)
			for _, s := range shapes {
				c, ok := find(cells, m.name, s.name, n)
				if !ok {
					fmt.Fprint(&b, " – |")
					continue
				}
				fmt.Fprintf(&b, " %.1f %%, %.3g yd |", 100*c.coverage, c.width)
			}
			fmt.Fprintln(&b)
		}
	}
	return b.Bytes()
}

func find(cells []cell, method, shape string, n int) (cell, bool) {
	for _, c := range cells {
		if c.method == method && c.shape == shape && c.n == n {
			return c, true
		}
	}
	return cell{}, false
}

// countsIn returns the numbers of shots in order of appearance.
func countsIn(cells []cell) []int {
	var found []int
	seen := map[int]bool{}
	for _, c := range cells {
		if !seen[c.n] {
			seen[c.n] = true
			found = append(found, c.n)
		}
	}
	return found
}
