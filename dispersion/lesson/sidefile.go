package lesson

import (
	"fmt"
	"io"
	"strings"
)

// sideColumns are the columns of a stages file: from and to are needed.
var sideColumns = []string{"from", "to", "stage", "intent", "cue", "expect", "void", "why"}

// readSideFile reads a stages.csv. What it says was written by hand for this
// one lesson, so that any row that cannot be read is an error.
func readSideFile(r io.Reader) (marks []mark, warnings []error, err error) {
	text, warnings, err := readText(r, "stages file", maxBytes)
	if err != nil {
		return nil, nil, err
	}
	h, rows, err := splitHeader(text, nil)
	if err != nil {
		return nil, nil, fmt.Errorf("stages file: %w", err)
	}
	at, err := findSideColumns(h)
	if err != nil {
		return nil, nil, err
	}
	for rec, ok := rows.next(); ok; rec, ok = rows.next() {
		fail := func(reason string) error {
			return &MarkupError{File: "stages file", At: rec.line, Reason: reason}
		}
		if len(marks) == maxRows {
			return nil, nil, fmt.Errorf("stages file: more than %d rows: %w", maxRows, ErrTooLarge)
		}
		if rec.quote >= 0 {
			return nil, nil, fail(`a quote (") is not closed, or more text follows the closing one`)
		}
		if n := len(rec.fields) + rec.over; n != len(h.names) {
			return nil, nil, fail(fmt.Sprintf("%s where the header has %d", count(n, "field"), len(h.names)))
		}
		cell := func(name string) string {
			if i, ok := at[name]; ok {
				return rec.fields[i]
			}
			return ""
		}
		m, fault := sideMark(cell)
		if fault != "" {
			return nil, nil, fail(fault)
		}
		m.fail = fail
		marks = append(marks, m)
	}
	if len(marks) == 0 {
		return nil, nil, fmt.Errorf("stages file: %w", ErrNoRows)
	}
	return marks, warnings, nil
}

func findSideColumns(h *header) (at map[string]int, err error) {
	at = map[string]int{}
	for i, name := range h.names {
		name = strings.TrimSuffix(name, "_shot") // from_shot is the same as from
		if _, twice := at[name]; twice && name != "" {
			return nil, fmt.Errorf("stages file: %w", &HeaderError{h.written, fmt.Sprintf("two columns of %s: keep one", clip(name))})
		}
		at[name] = i
	}
	_, from := at["from"]
	_, to := at["to"]
	if !from || !to {
		return nil, fmt.Errorf("stages file: %w", &HeaderError{h.written, "the header needs from and to, and may have " + strings.Join(sideColumns[2:], ", ")})
	}
	return at, nil
}

// sideMark reads one row, given its cells by the name of the column.
func sideMark(cell func(string) string) (m mark, fault string) {
	if m.from, m.to, fault = readBalls(cell("from"), cell("to")); fault != "" {
		return mark{}, fault
	}
	var ok bool
	if m.intent, ok = readIntent(cell("intent")); !ok {
		return mark{}, fmt.Sprintf("%q is no intent: write %s", clip(cell("intent")), intentWords)
	}
	m.stage, m.cue, m.expect = cell("stage"), cell("cue"), cell("expect")
	why := cell("why")
	switch strings.ToLower(cell("void")) {
	case "yes", "y", "x", "true", "1":
		if m.void = why; why == "" {
			return mark{}, "a void shot needs its reason under why, so that nobody has to wonder"
		}
	case "", "no", "n", "false", "0":
		if why != "" {
			return mark{}, "there is a why but no void: write yes under void, or take the why out"
		}
	default:
		return mark{}, fmt.Sprintf("void is %q: write yes or leave it empty", clip(cell("void")))
	}
	switch {
	case m.stage == "" && m.void == "":
		return mark{}, "the row does nothing: give it a stage, or yes under void"
	case m.stage == "" && m.intent != "":
		return mark{}, "an intent without a stage: name the stage"
	case m.stage == "" && m.cue+m.expect != "":
		return mark{}, "a cue or expect without a stage: name the stage"
	}
	return m, ""
}
