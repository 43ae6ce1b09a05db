package lesson

import (
	"cmp"
	"errors"
	"fmt"
	"strings"
)

// A label is what is said of the stage of a ball, by mark-up or by the columns
// of its row.
type label struct {
	stage       string
	intent      Intent // "" where nothing is said
	cue, expect string
}

// unnamed is the stage of rows that leave the column of stages empty.
const unnamed = "unnamed"

// allShots is the stage of a file that says nothing of stages.
const allShots = "all shots"

// labelRows returns the label of every row, and why a row is void. Mark-up goes
// before the columns of the file.
func labelRows(rows []row, h *header, o ReadOptions) (labels []label, void []string, warnings []error, err error) {
	var marks []mark
	switch {
	case o.Stages != "" && o.StagesFile != nil:
		return nil, nil, nil, errors.New("both a spec of stages and a stages file: give one of them")
	case o.Stages != "":
		marks, err = readSpec(o.Stages)
	case o.StagesFile != nil:
		marks, warnings, err = readSideFile(o.StagesFile)
	}
	if err != nil {
		return nil, nil, nil, err
	}
	if labels, void, err = applyMarks(marks, rows); err != nil {
		return nil, nil, nil, err
	}
	voidByColumn(void, rows, h)
	if labels == nil {
		labels, more, err := labelByColumns(rows, h, void)
		return labels, void, append(warnings, more...), err
	}
	if h.stage >= 0 || h.intent >= 0 {
		warnings = append(warnings, warning(ErrStage, "the mark-up was used, and the file's own columns of stage and intent were set aside"))
	}
	return labels, void, warnings, nil
}

// labelByColumns reads the columns stage, intent, cue and expect. Where there is an
// intent but no stage, the intent names the stage.
func labelByColumns(rows []row, h *header, void []string) (labels []label, warnings []error, err error) {
	labels = make([]label, len(rows))
	cell := func(r row, at int) string {
		if at < 0 || r.cells == nil {
			return ""
		}
		return r.cells[at]
	}
	var blank, firstBlank int
	for i, r := range rows {
		intent, ok := readIntent(cell(r, h.intent))
		if !ok && r.rejected == nil {
			return nil, nil, &MarkupError{File: "lesson file", At: r.line,
				Reason: fmt.Sprintf("%q under %q is no intent: write %s", clip(r.cells[h.intent]), clip(h.written[h.intent]), intentWords)}
		}
		l := label{stage: cell(r, h.stage), intent: intent, cue: cell(r, h.cue), expect: cell(r, h.expect)}
		switch {
		case l.stage != "" || r.rejected != nil:
		case h.stage >= 0 && void[i] != "": // outside all stages
		case h.stage >= 0:
			l.stage = unnamed
			if blank++; blank == 1 {
				firstBlank = r.line
			}
		case h.intent >= 0:
			l.stage = string(cmp.Or(intent, Full))
		default:
			l.stage = allShots
		}
		labels[i] = l
	}
	if blank > 0 {
		warnings = append(warnings, warning(ErrStage, "%s without a stage, the first on line %d: put into one called %q, which is compared with nothing; fill in the column", count(blank, "row"), firstBlank, unnamed))
	}
	return labels, warnings, nil
}

// voidByColumn takes what the column void says: the reason why a shot does not
// count. Mark-up goes before it.
func voidByColumn(void []string, rows []row, h *header) {
	for i, r := range rows {
		if h.void < 0 || r.cells == nil || void[i] != "" {
			continue
		}
		switch why := r.cells[h.void]; strings.ToLower(why) {
		case "", "no", "n", "false", "0":
		default:
			void[i] = why
		}
	}
}

// speller returns a function that gives names that differ only in case the
// spelling that came first.
func speller() func(name string) string {
	known, first := map[string]string{}, map[string]string{}
	return func(name string) string {
		if s, ok := known[name]; ok {
			return s
		}
		lower := strings.ToLower(name)
		s, ok := first[lower]
		if !ok {
			s = name
			first[lower] = s
		}
		known[name] = s
		return s
	}
}
