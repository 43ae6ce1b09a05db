package lesson

import (
	"slices"
	"strings"
)

// choose keeps the rows of one pupil or session and returns the name. Only rows
// that could be read say who is there, as long as there are any: a line of
// averages is nobody's. A rejected row of none of them, or one that does not
// split up into cells, stays, so that it is reported whichever is picked.
func choose(rows []row, column string, at int, picked string) (kept []row, name string, warnings []error, err error) {
	picked = strings.TrimSpace(picked)
	names, counts := tally(rows, at, false)
	if len(names) == 0 || picked != "" && !slices.Contains(names, picked) {
		names, counts = tally(rows, at, true)
	}
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
	known := make(map[string]bool, len(names))
	for _, name := range names {
		known[name] = true
	}
	unnamed := 0
	for _, r := range rows {
		switch {
		case r.cells == nil || r.cells[at] == picked:
			kept = append(kept, r)
		case r.cells[at] == "":
			unnamed++
		case r.rejected != nil && !known[r.cells[at]]:
			kept = append(kept, r)
		}
	}
	if unnamed > 0 {
		warnings = append(warnings, leftOut(unnamed, column))
	}
	return kept, picked, warnings, nil
}

// leftOut warns of rows of nobody, in a file of several.
func leftOut(rows int, column string) error {
	return warning(ErrMixed, "%s without a %s left out, in a file of several: fill in the column", count(rows, "row"), column)
}

// tally returns the names in a column in the order they first appear, and in
// how many rows each does; nothing where there is no such column (-1). Rejected
// rows count only if asked for.
func tally(rows []row, at int, rejected bool) (names []string, counts []int) {
	if at < 0 {
		return nil, nil
	}
	place := map[string]int{}
	for _, r := range rows {
		if r.cells == nil || r.cells[at] == "" || r.rejected != nil && !rejected {
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
