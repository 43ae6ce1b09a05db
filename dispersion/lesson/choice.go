package lesson

import (
	"slices"
	"strings"
)

// choose keeps the rows of one pupil or session and returns the name. A row that does not split up into cells names nobody: it
// stays, so that it is reported whichever is picked.
func choose(rows []row, column string, at int, picked string) (kept []row, name string, warnings []error, err error) {
	picked = strings.TrimSpace(picked)
	names, counts := tally(rows, at)
	switch {
	case picked == "" && len(names) > 1:
		return nil, "", nil, &ChoiceError{Column: column, Names: names, Counts: counts}
	case picked == "" && len(names) == 1:
		return rows, names[0], nil, nil // an empty cell means the only one there is
	case picked == "":
		return rows, "", nil, nil
	case !slices.Contains(names, picked):
		return nil, "", nil, &ChoiceError{Column: column, Picked: picked, Names: names, Counts: counts}
	case len(names) == 1:
		return rows, picked, nil, nil
	}
	unnamed := 0
	for _, r := range rows {
		switch {
		case r.cells == nil || r.cells[at] == picked:
			kept = append(kept, r)
		case r.cells[at] == "":
			unnamed++
		}
	}
	if unnamed > 0 {
		warnings = append(warnings, warning(ErrMixed, "%s without a %s left out, in a file of several: fill in the column", count(unnamed, "row"), column))
	}
	return kept, picked, warnings, nil
}

// tally returns the names in a column in the order they first appear, and in
// how many rows each does; nothing where there is no such column (-1).
func tally(rows []row, at int) (names []string, counts []int) {
	if at < 0 {
		return nil, nil
	}
	place := map[string]int{}
	for _, r := range rows {
		if r.cells == nil || r.cells[at] == "" {
			continue
		}
		name := r.cells[at]
		i, ok := place[name]
		if !ok {
			i = len(names)
			place[name] = i
			names, counts = append(names, name), append(counts, 0)
		}
		counts[i]++
	}
	return names, counts
}
