package lesson

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// A mark is what mark-up says of a range of balls.
type mark struct {
	from, to int // both included, from 1
	label
	void string                    // why they don't count; "" for balls that do
	fail func(reason string) error // an error that points at the mark
}

// readBalls reads a range of ball numbers.
func readBalls(first, last string) (from, to int, fault string) {
	for _, end := range []struct {
		text string
		n    *int
	}{{first, &from}, {last, &to}} {
		text := strings.TrimSpace(end.text)
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 {
			return 0, 0, fmt.Sprintf("%q is no ball number: balls are counted 1, 2, 3, …, one for each row", clip(text))
		}
		*end.n = n
	}
	if from > to {
		return 0, 0, fmt.Sprintf("balls %d to %d run backwards: write the smaller number first", from, to)
	}
	return from, to, ""
}

// applyMarks returns for each row its label and why it is void. labels is nil
// when no mark names a stage, so that the file's own columns count.
func applyMarks(marks []mark, rows []row) (labels []label, void []string, err error) {
	for _, m := range marks {
		if m.to > len(rows) {
			return nil, nil, m.fail(fmt.Sprintf("balls %d to %d, but the lesson has %s", m.from, m.to, count(len(rows), "row")))
		}
	}
	void = make([]string, len(rows))
	owner := make([]*mark, len(rows))
	for i := range marks {
		m := &marks[i]
		for ball := m.from; ball <= m.to; ball++ {
			if m.void != "" {
				if void[ball-1] != "" {
					return nil, nil, m.fail(fmt.Sprintf("ball %d is void twice: keep one of the rows", ball))
				}
				void[ball-1] = m.void
			}
			if m.stage == "" {
				continue
			}
			if before := owner[ball-1]; before != nil {
				return nil, nil, m.fail(fmt.Sprintf("ball %d is in %s and in %s: end one range before the other starts", ball, before, m))
			}
			owner[ball-1] = m
		}
	}
	if !slices.ContainsFunc(marks, func(m mark) bool { return m.stage != "" }) {
		return nil, void, nil
	}
	labels = make([]label, len(rows))
	for i, m := range owner {
		switch {
		case m != nil:
			labels[i] = m.label
		case rows[i].rejected == nil && void[i] == "":
			return nil, nil, marks[len(marks)-1].fail(fmt.Sprintf("%s in no range: give every ball a stage, or mark it void in a stages file", unowned(owner, rows, void)))
		}
	}
	return labels, void, nil
}

func (m *mark) String() string {
	return fmt.Sprintf("%d-%d (%s)", m.from, m.to, printable(clip(m.stage)))
}

// unowned names the balls that count but have no stage.
func unowned(owner []*mark, rows []row, void []string) string {
	var balls []string
	n := 0
	for i := range rows {
		if owner[i] != nil || rows[i].rejected != nil || void[i] != "" {
			continue
		}
		if n++; n <= 10 {
			balls = append(balls, strconv.Itoa(i+1))
		}
	}
	if n > len(balls) {
		balls = append(balls, fmt.Sprintf("and %d more", n-len(balls)))
	}
	if n == 1 {
		return "ball " + balls[0] + " is"
	}
	return "balls " + strings.Join(balls, ", ") + " are"
}
