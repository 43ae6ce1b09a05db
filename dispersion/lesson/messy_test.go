package lesson

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/lesson/internal/messy"
)

// An outcome is what must come of a messy file.
type outcome struct {
	shots int    // read
	err   string // part of the error, where there is no lesson; shots is 0
	warn  error  // a kind of warning that must be there; nil for no warning at all
	text  string // part of a rejection's reason or of a warning
}

// What must come of each file of the corpus, read as it is and read by the
// mapping that is proposed for it, whose doubt must hold the text. Other than
// true carries, sides and clubs may come out only where wrong says why.
var messyOutcomes = map[string]struct {
	plain, mapped outcome
	doubt         string
	wrong         string
}{
	"utf8-mark":            {plain: outcome{shots: 12}, mapped: outcome{shots: 12}},
	"utf16-low":            {plain: outcome{shots: 12}, mapped: outcome{shots: 12}},
	"utf16-high":           {plain: outcome{shots: 12}, mapped: outcome{shots: 12}},
	"utf16-no-mark":        {plain: outcome{shots: 12}, mapped: outcome{shots: 12}},
	"gzip":                 {plain: outcome{shots: 12}, mapped: outcome{shots: 12}},
	"gzip-utf16":           {plain: outcome{shots: 12}, mapped: outcome{shots: 12}},
	"latin-1":              {plain: outcome{shots: 12, warn: ErrEncoding}, mapped: outcome{shots: 12, warn: ErrEncoding}, doubt: "no UTF-8"},
	"cr-alone":             {plain: outcome{shots: 12}, mapped: outcome{shots: 12}},
	"semicolon-comma":      {plain: outcome{shots: 12}, mapped: outcome{shots: 12}},
	"tab-comma":            {plain: outcome{shots: 12}, mapped: outcome{shots: 12}},
	"quoted-comma":         {plain: outcome{warn: ErrNoShots, text: "write a decimal point"}, mapped: outcome{shots: 12}},
	"thousands-comma":      {plain: outcome{shots: 12, warn: ErrColumn, text: `"6,400"`}, mapped: outcome{shots: 12}},
	"thousands-unclear":    {plain: outcome{shots: 12, warn: ErrColumn, text: `"6,400"`}, mapped: outcome{shots: 12, warn: ErrColumn, text: "not sure of \"spin_rpm\""}, doubt: "nothing in the file tells", wrong: "whole yards"},
	"thousands-point":      {plain: outcome{shots: 12, warn: ErrDecimals}, mapped: outcome{shots: 12}},
	"thousands-apostrophe": {plain: outcome{shots: 12, warn: ErrColumn, text: `"6'400"`}, mapped: outcome{shots: 12}},
	"thousands-blank":      {plain: outcome{shots: 12, warn: ErrColumn}, mapped: outcome{shots: 12}},
	"unit-in-cells":        {plain: outcome{warn: ErrNoShots, text: "the unit belongs in the header"}, mapped: outcome{shots: 12}},
	"true-minus":           {plain: outcome{shots: 12}, mapped: outcome{shots: 12}},
	"not-finite":           {plain: outcome{shots: 10, text: "not a finite number"}, mapped: outcome{shots: 10, text: "not a finite number"}},
	"far-too-large":        {plain: outcome{shots: 11, text: "beyond a million"}, mapped: outcome{shots: 11, text: "beyond a million"}},
	"side-letter-after":    {plain: outcome{shots: 2, text: `"3.5R" is not a number`}, mapped: outcome{shots: 12}},
	"side-letter-before":   {plain: outcome{shots: 2, text: `"R 3.5" is not a number`}, mapped: outcome{shots: 12}},
	"side-words":           {plain: outcome{shots: 2, text: `"3.5 right" is not a number`}, mapped: outcome{shots: 12}},
	"side-words-german":    {plain: outcome{shots: 2, warn: ErrUnit, text: "is not a number"}, mapped: outcome{shots: 12}},
	"side-column":          {plain: outcome{shots: 12}, mapped: outcome{shots: 12, warn: ErrColumn, text: "all balls lie on one side"}, doubt: "does another column say which", wrong: "no sign"},
	"side-feet":            {plain: outcome{shots: 12, warn: ErrUnit, text: "side was converted to yd"}, mapped: outcome{shots: 12, warn: ErrUnit}},
	"carry-no-unit":        {plain: outcome{err: "is in feet, which a carry seldom is"}, mapped: outcome{err: "is in feet, which a carry seldom is"}, doubt: "no unit is said"},
	"titles":               {plain: outcome{shots: 12, warn: ErrTitle, text: "the header is line 4"}, mapped: outcome{shots: 12, warn: ErrTitle}},
	"units-row":            {plain: outcome{shots: 12, warn: ErrUnit, text: "line 3 is a row of units and no ball"}, mapped: outcome{shots: 12, warn: ErrUnit}},
	"units-row-brackets":   {plain: outcome{shots: 12, warn: ErrUnit, text: "line 2 is a row of units and no ball"}, mapped: outcome{shots: 12, warn: ErrUnit}},
	"units-conflict":       {plain: outcome{err: `"carry_yd" is in yd, but in m by the row of units on line 2`}, mapped: outcome{err: "by the row of units"}},
	"units-in-header":      {plain: outcome{shots: 12}, mapped: outcome{shots: 12}},
	"german":               {plain: outcome{err: "no column of carry"}, mapped: outcome{shots: 12}},
	"french":               {plain: outcome{err: "no column of carry"}, mapped: outcome{shots: 12}},
	"spanish":              {plain: outcome{err: "no column of carry"}, mapped: outcome{shots: 12}},
	"club-other-name":      {plain: outcome{err: `"Club Type" seems to hold 2 clubs, "7i" and "PW" among them`}, mapped: outcome{shots: 12}},
	"club-no-name":         {plain: outcome{err: `"What" seems to hold 2 clubs`}, mapped: outcome{shots: 12, warn: ErrColumn, text: "look like clubs"}, doubt: "look like clubs"},
	"vague":                {plain: outcome{err: "no column of carry"}, mapped: outcome{err: "no column of carry"}, doubt: "carry or total: say which"},
	"no-units":             {plain: outcome{shots: 12, warn: ErrUnit, text: `column "Carry" does not say: read as yd`}, mapped: outcome{shots: 12, warn: ErrUnit}, doubt: "no unit is said"},
	"carry-twice":          {plain: outcome{err: `two columns of carry, "carry_m" and "carry_yd"`}, mapped: outcome{shots: 12, warn: ErrColumn, text: `"carry_yd" may be carry too`}, doubt: "may be it too", wrong: "the first of the two was taken"},
	"markup":               {plain: outcome{shots: 12}, mapped: outcome{shots: 12}, wrong: "a club is a formula"},
	"time-zone":            {plain: outcome{shots: 12}, mapped: outcome{shots: 12}},
	"time-day-first":       {plain: outcome{shots: 12, warn: ErrTimeOrder}, mapped: outcome{shots: 12}},
	"time-vague":           {plain: outcome{shots: 12, warn: ErrTimeOrder}, mapped: outcome{shots: 12, warn: ErrColumn, text: "is read as %d/%m/%Y %H:%M"}, doubt: "and may be %m/%d/%Y %H:%M"},
	"absent-words":         {plain: outcome{shots: 11, warn: ErrColumn, text: "is not a number"}, mapped: outcome{shots: 11, text: "missing"}},
	"not-read":             {plain: outcome{shots: 10, text: "missing"}, mapped: outcome{shots: 10, text: "missing"}},
	"open-quote":           {plain: outcome{shots: 11, text: "quote"}, mapped: outcome{shots: 11, text: "quote"}},
	"short-row":            {plain: outcome{shots: 11, text: "4 fields where the header has 7"}, mapped: outcome{shots: 11}},
	"long-row":             {plain: outcome{shots: 11, text: "9 fields where the header has 7"}, mapped: outcome{shots: 11}},
	"header-again":         {plain: outcome{shots: 12, text: "the header once more"}, mapped: outcome{shots: 12, text: "the header once more"}},
	"blank-lines":          {plain: outcome{shots: 12, text: "missing"}, mapped: outcome{shots: 12, text: "missing"}},
	"huge-field":           {plain: outcome{shots: 11, text: "shorten it"}, mapped: outcome{shots: 11, text: "shorten it"}},
}

func TestMessyFiles(t *testing.T) {
	files := messy.Files()
	if len(files) < 40 || len(files) != len(messyOutcomes) {
		t.Fatalf("%d files, %d outcomes, want as many and 40 at least", len(files), len(messyOutcomes))
	}
	for _, f := range files {
		t.Run(f.Name, func(t *testing.T) {
			want, ok := messyOutcomes[f.Name]
			if !ok {
				t.Fatal("nothing is said of its outcome")
			}
			l, err := Read(bytes.NewReader(f.Content), ReadOptions{})
			want.plain.check(t, "as it is", l, err, f.Rows)
			if l != nil && want.wrong == "" {
				checkTruth(t, l)
			}
			p, err := Propose(bytes.NewReader(f.Content))
			if err != nil {
				t.Fatalf("no proposal: %v", err)
			}
			checkDoubt(t, p, want.doubt)
			var written bytes.Buffer
			if err := p.Mapping.Write(&written); err != nil {
				t.Fatalf("the proposal can't be written: %v", err)
			}
			m, err := ReadMapping(&written)
			if err != nil || len(m.Warnings) > 0 {
				t.Fatalf("the proposal can't be read: %v, %v", err, m)
			}
			l, err = Read(bytes.NewReader(f.Content), ReadOptions{Columns: m})
			want.mapped.check(t, "by the proposal", l, err, f.Rows)
			if l != nil && want.wrong == "" {
				checkTruth(t, l)
			}
		})
	}
}

func (o outcome) check(t *testing.T, how string, l *Lesson, err error, rows int) {
	t.Helper()
	if o.err != "" || err != nil {
		if o.err == "" || err == nil || !strings.Contains(err.Error(), o.err) {
			t.Errorf("%s: error %v, want one with %q", how, err, o.err)
		}
		return
	}
	if l.Rows != rows || len(l.Shots) != o.shots || len(l.Shots)+len(l.Rejected) != rows {
		t.Errorf("%s: %d shots and %d rejected of %d rows, want %d of %d", how, len(l.Shots), len(l.Rejected), l.Rows, o.shots, rows)
	}
	kind, said := o.warn == nil && len(l.Warnings) == 0, ""
	for _, r := range l.Rejected {
		said += r.Reason + "\n"
	}
	for _, w := range l.Warnings {
		kind = kind || o.warn != nil && errors.Is(w, o.warn)
		said += w.Error() + "\n"
	}
	if !kind || !strings.Contains(said, o.text) {
		t.Errorf("%s: warnings and rejections\n%swant %v and %q", how, said, o.warn, o.text)
	}
}

// checkTruth holds the shots against those that the files were made from: the
// same in the same order, some of them rejected.
func checkTruth(t *testing.T, l *Lesson) {
	t.Helper()
	truth := messy.Shots()
	next := 0
	for _, s := range l.Shots {
		is := func(b messy.Shot) bool {
			return math.Abs(s.Carry-b.Carry) < 1e-9 && math.Abs(s.Side-b.Side) < 1e-9 && s.Club == b.Club
		}
		for next < len(truth) && !is(truth[next]) {
			next++
		}
		if next == len(truth) {
			t.Fatalf("line %d: carry %v, side %v with %q is none of the shots, or in the wrong place", s.Line, s.Carry, s.Side, s.Club)
		}
		next++
	}
}

// checkDoubt: a doubt of the wanted kind, or none at all.
func checkDoubt(t *testing.T, p *Proposal, want string) {
	t.Helper()
	doubts := strings.Join(p.Doubts, "\n")
	for _, f := range p.Mapping.Fields {
		doubts += f.Doubt
	}
	if want == "" && doubts != "" || !strings.Contains(doubts, want) {
		t.Errorf("doubts %q, want %q", doubts, want)
	}
}

// Further columns come out right too: the same ball speeds and spins whatever
// stands between their thousands.
func TestMessyNumbers(t *testing.T) {
	for _, f := range messy.Files() {
		if !strings.HasPrefix(f.Name, "thousands") && !strings.HasSuffix(f.Name, "comma") {
			continue
		}
		p, err := Propose(bytes.NewReader(f.Content))
		if err != nil {
			t.Fatal(err)
		}
		l, err := Read(bytes.NewReader(f.Content), ReadOptions{Columns: p.Mapping})
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range l.Shots {
			want := 6400.0 + 10*float64(i)
			if i >= 6 {
				want += 2500
			}
			if v, ok := s.Value("spin_rpm"); !ok || v != want {
				t.Errorf("%s: spin %v, %v, want %v", f.Name, v, ok, want)
			}
		}
	}
}
