package lesson

import "strings"

// A Pair is two groups of one club to be compared.
type Pair struct {
	Before, After Group // the earlier and the later of the two
	Headline      bool  // the one comparison of its club that was chosen beforehand

	// Bookend is the old swing hit again at the end with this club. Without
	// it, warm-up, practice and tiredness ride along with every comparison. It
	// is nil where there is none, and where After itself is the bookend, since
	// nothing was hit after it.
	Bookend *Group
}

// Pairs returns which groups to compare: like with like, so one club at a time
// and no drills.
//
// The headline of a club is its last such group against its first, the bookend
// left aside. It is followed by each group against the one before it, the
// bookend as the last, and no pair comes twice. All headlines come first, club
// by club in the order first hit. Rows that leave the column of stages empty
// are compared with nothing: the last of an export is often a row of averages.
// A club with a single group to compare has no pair.
func (l *Lesson) Pairs() []Pair {
	if l == nil {
		return nil
	}
	var clubs []string
	byClub := map[string][]Group{}
	seen := map[string]bool{}
	for _, s := range l.Shots {
		if s.Void == "" && !seen[s.Club] {
			seen[s.Club] = true
			clubs = append(clubs, s.Club)
		}
	}
	for _, g := range l.Groups() {
		if g.Stage.Intent != Drill && !isUnnamed(g.Stage.Name) {
			byClub[g.Club] = append(byClub[g.Club], g)
		}
	}
	var headlines, others []Pair
	for _, club := range clubs {
		groups := byClub[club]
		if len(groups) < 2 {
			continue
		}
		last := len(groups) - 1 // of the groups before the bookend
		var bookend *Group
		if last >= 2 && groups[last].Stage.Bookend {
			bookend = &groups[last]
			last--
		}
		headlines = append(headlines, Pair{groups[0], groups[last], true, bookend})
		for i := 1; i <= last; i++ {
			if i == 1 && last == 1 {
				continue // the headline
			}
			others = append(others, Pair{groups[i-1], groups[i], false, bookend})
		}
		if bookend != nil {
			others = append(others, Pair{groups[last], *bookend, false, nil})
		}
	}
	return append(headlines, others...)
}

// isUnnamed tells whether a stage is made of rows that leave the column of stages
// empty; with two intents they are two stages, the second with an ending.
func isUnnamed(stage string) bool {
	return stage == unnamed || strings.HasPrefix(stage, unnamed+" (")
}
