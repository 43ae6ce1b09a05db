package lesson

import (
	"fmt"
	"strings"
)

// doubtNames refuses a file without a column of club or pupil where another one
// holds several of them: they would be taken for one, and a gain would be that
// of a longer club or a stronger player. A column that holds one name mixes
// nothing, and a mapping that names a column has the last word on it.
func doubtNames(rows []row, h *header) (warnings []error, err error) {
	for _, missing := range []struct {
		what string
		at   int
		are  func(names []string) bool
	}{
		{"club", h.club, areClubs},
		{"pupil", h.pupil, func([]string) bool { return false }}, // any word may be somebody's name
	} {
		if missing.at >= 0 {
			continue
		}
		for i, name := range h.names {
			if _, known := measureOf(name); known || h.fields[i] != nil && h.fields[i].Measure != "" {
				continue
			}
			names, _ := tally(rows, i, false)
			if len(names) == 0 || headerWords[headerPhrase(h.written[i])] != missing.what && !missing.are(names) {
				continue
			}
			if len(names) == 1 {
				warnings = append(warnings, warning(ErrColumn, "no column is called %s; %q seems to be it, and holds only %q", missing.what, clip(h.written[i]), clip(names[0])))
				continue
			}
			return nil, &HeaderError{h.written, fmt.Sprintf("no column is called %s, and %q seems to hold %s, %q and %q among them, which would all be taken for one: call it %s, or say what it is in a mapping (-columns), which \"go run ./notebooks columns FILE\" proposes",
				missing.what, clip(h.written[i]), count(len(names), missing.what), clip(names[0]), clip(names[1]), missing.what)}
		}
	}
	return warnings, nil
}

// areClubs tells whether a column's values look like clubs: nearly all of them
// do, and they are few.
func areClubs(values []string) bool {
	const most = 30 // fourteen may be carried; a bag may change, and be spelled in two ways
	yes := 0
	for _, v := range values {
		if isClub(v) {
			yes++
		}
	}
	return len(values) <= most && 5*yes >= 4*len(values)
}

// isClub tells whether a text looks like the name of a club: a number beside a
// kind of club, a letter pair of a wedge, a word that can be nothing else.
// Common practice, no source.
func isClub(text string) bool {
	words := strings.FieldsFunc(fold(text), func(r rune) bool { return strings.ContainsRune(" -_.", r) })
	switch len(words) {
	case 1:
		w := words[0]
		kind := strings.Trim(w, "0123456789")
		return clubWords[w] || len(kind) < len(w) && clubKinds[kind]
	case 2:
		isNumber := func(w string) bool { return strings.Trim(w, "0123456789") == "" && len(w) <= 2 }
		return isNumber(words[0]) && clubKinds[words[1]] || isNumber(words[1]) && clubKinds[words[0]] || clubWords[words[1]]
	}
	return false
}

var (
	// clubKinds stand beside a number.
	clubKinds = wordSet("i iron irons w wood h hy hyb hybrid eisen holz fer bois hierro madera hibrido ferro legno jarn tra ijzer hout madeira °")
	clubWords = wordSet("driver putter wedge pw gw aw sw lw uw dr")
)

func wordSet(words string) map[string]bool {
	set := map[string]bool{}
	for w := range strings.FieldsSeq(words) {
		set[w] = true
	}
	return set
}
