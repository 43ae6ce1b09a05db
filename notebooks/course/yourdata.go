package course

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
	"github.com/landfall-golf/landfall/notebooks/review"
	"github.com/landfall-golf/landfall/notebooks/show"
)

// foreignTable is a lesson as some device or spreadsheet may leave it: a title, words
// of another language, semicolons and decimal commas, a row of units, a side with
// words in place of signs, a ball that was not read, and a last row that is no ball.
const foreignTable = `Übung vom 13.05.2024
Name;Uhrzeit;Schläger;Flugweite;Abweichung;Ballgeschwindigkeit;Drehung;Notiz
;;;(m);(m);(km/h);(1/min);
Tamsin;10:02:10;Eisen 7;108,2;4,1 R;136,1;5.210;
Tamsin;10:02:52;Eisen 7;104,9;7,7 R;133,9;5.480;
Tamsin;10:03:31;Eisen 7;112,4;1,2 L;139,0;5.050;
Tamsin;10:04:15;Eisen 7;kein Wert;;;;Gerät
Tamsin;10:04:58;Eisen 7;109,5;8,9 R;136,6;5.330;
Tamsin;10:05:40;Eisen 7;71,8;5,0 R;114,8;3.600;Boden
Tamsin;10:06:21;Eisen 7;110,7;3,3 R;137,2;5.120;
Tamsin;10:07:05;Eisen 7;106,6;2,4 L;134,7;5.400;
Tamsin;10:07:44;Eisen 7;107,3;6,2 R;135,3;5.290;
Tamsin;10:16:03;Eisen 7;118,6;0,8 L;144,9;5.010;
Tamsin;10:16:47;Eisen 7;121,9;3,9 R;147,2;4.930;
Tamsin;10:17:30;Eisen 7;74,0;9,5 L;118,4;3.900;dünn
Tamsin;10:18:12;Eisen 7;115,2;1,5 R;142,3;5.160;
Tamsin;10:18:55;Eisen 7;124,3;5,7 R;148,8;4.870;
Tamsin;10:19:36;Eisen 7;117,7;2,0 L;144,1;5.080;
Tamsin;10:20:20;Eisen 7;120,4;0,0;146,0;4.990;
Tamsin;10:21:01;Eisen 7;113,8;4,4 R;141,1;5.230;
Tamsin;10:21:46;Eisen 7;119,5;2,9 R;145,5;5.020;
Mittel;;;109,2;;138,0;;
`

// Table opens a table: that of the path, or the invented one for "".
func Table(path string) ([]byte, error) {
	if path == "" {
		return []byte(foreignTable), nil
	}
	return os.ReadFile(path)
}

// AsItStands shows the first lines of a table, cut at the semicolons, commas or tabs.
func AsItStands(table []byte, lines int) (show.TableData, error) {
	t := show.TableData{Caption: fmt.Sprintf("The first %d lines of the table, as they stand.", lines), Header: []string{"Line"}}
	separator := ','
	for _, s := range ";\t" {
		if bytes.ContainsRune(table, s) {
			separator = s
			break
		}
	}
	r := csv.NewReader(bytes.NewReader(table))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes = separator, -1, true
	for i := 1; i <= lines; i++ {
		fields, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return t, err
		}
		t.Rows = append(t.Rows, append([]string{fmt.Sprint(i)}, fields...))
		for len(t.Header) <= len(fields) {
			t.Header = append(t.Header, fmt.Sprintf("Field %d", len(t.Header)))
		}
	}
	return t, nil
}

// ProposalTable lists what each column seems to be, and the doubts.
func ProposalTable(table []byte) (show.TableData, error) {
	t := show.TableData{Header: []string{"Column", "Seems to be", "In", "Doubt"}}
	p, err := lesson.Propose(bytes.NewReader(table))
	if err != nil {
		return t, err
	}
	t.Caption = fmt.Sprintf("What the columns seem to be; the header is line %d.", p.Line)
	for _, f := range p.Mapping.Fields {
		measure := f.Measure
		if measure == lesson.None {
			measure = "kept under its own name"
		}
		t.Rows = append(t.Rows, []string{f.Name, measure, f.Unit, f.Doubt})
	}
	for _, d := range p.Doubts {
		t.Rows = append(t.Rows, []string{"the whole file", "", "", d})
	}
	return t, nil
}

// A Correction says of a column what somebody who has looked knows about it; an
// empty Measure or Unit leaves that of the proposal.
type Correction struct{ Column, Measure, Unit string }

// ReadCorrected reads the balls of one pupil, or of the only one for "", from a table
// with the proposal, corrected. What was corrected or confirmed is in doubt no longer.
func ReadCorrected(table []byte, pupil, stages string, corrections ...Correction) (*lesson.Lesson, error) {
	p, err := lesson.Propose(bytes.NewReader(table))
	if err != nil {
		return nil, err
	}
	for _, c := range corrections {
		at := -1
		for i, f := range p.Mapping.Fields {
			if f.Name == c.Column {
				at = i
			}
		}
		if at < 0 {
			return nil, fmt.Errorf("course: the table has no column %q", c.Column)
		}
		f := &p.Mapping.Fields[at]
		f.Doubt = ""
		if c.Measure != "" {
			f.Measure = c.Measure
		}
		if c.Unit != "" {
			f.Unit = c.Unit
		}
	}
	return lesson.Read(bytes.NewReader(table), lesson.ReadOptions{Columns: p.Mapping, Pupil: pupil, Stages: stages})
}

// ReadingSentences says what became of the rows, and what to know before trusting
// them.
func ReadingSentences(l *lesson.Lesson) []string {
	says := []string{fmt.Sprintf("%d rows: %d shots read, %d rejected. Nothing is dropped in silence.", l.Rows, len(l.Shots), len(l.Rejected))}
	for _, r := range l.Rejected {
		says = append(says, fmt.Sprintf("Line %d, %s: %s.", r.Line, r.Column, r.Reason))
	}
	for _, w := range l.Warnings {
		says = append(says, strings.TrimPrefix(w.Error(), "lesson: ")+".")
	}
	return says
}

// MisreadTable reads the same table in wrong ways that look right.
func MisreadTable(table []byte, stages string) (show.TableData, error) {
	t := show.TableData{
		Caption: "The same balls, read rightly and wrongly: means of the clean balls of the last stage, as a page would show them.",
		Header:  []string{"Read as", "Carry", "Unit", "Side, right positive", "Balls"},
	}
	replaced := func(old, new string) []byte { return bytes.ReplaceAll(table, []byte(old), []byte(new)) }
	for _, way := range []struct {
		name, stages string
		table        []byte
	}{
		{"what it says", stages, table},
		{"copied without its row of units", stages, replaced(";;;(m);(m);(km/h);(1/min);\n", "")},
		{"copied without the words for right and left", stages, []byte(strings.NewReplacer(" R;", ";", " L;", ";").Replace(string(table)))},
		{"with the row of averages as a ball", strings.Replace(stages, "-18:", "-19:", 1), replaced("Mittel;;;109,2;;", "Mittel;;Eisen 7;109,2;2,2 R;")},
	} {
		l, err := ReadCorrected(way.table, "", way.stages)
		if err != nil {
			return t, fmt.Errorf("%s: %w", way.name, err)
		}
		groups := l.Groups()
		g := groups[len(groups)-1]
		t.Rows = append(t.Rows, []string{way.name, tenths(mean(g.Values("carry"))), string(l.Unit), tenths(mean(g.Values("side"))), fmt.Sprint(len(g.Values("carry")))})
	}
	return t, nil
}

// GivenAway returns the first lines of the lesson as others may have it: plain, under
// a pseudonym, without notes, the day moved.
func GivenAway(l *lesson.Lesson, key []byte, lines int) (show.TableData, []string, error) {
	a, err := l.Anonymise(key)
	if err != nil {
		return show.TableData{}, nil, err
	}
	var out bytes.Buffer
	if err := a.WriteCSV(&out); err != nil {
		return show.TableData{}, nil, err
	}
	t, err := AsItStands(out.Bytes(), lines)
	t.Caption = fmt.Sprintf("The first %d lines as others may have them.", lines)
	var says []string
	for _, w := range a.Warnings {
		says = append(says, strings.TrimPrefix(w.Error(), "lesson: ")+".")
	}
	return t, says, err
}

// ReviewSentences is what the review says first of a lesson.
func ReviewSentences(ctx context.Context, l *lesson.Lesson) ([]string, error) {
	r, err := review.New(l, compare.Options{})
	if err != nil {
		return nil, err
	}
	headline, err := r.Headline(ctx)
	return append(r.Opening(), headline...), err
}

// StageCounts lists the stages with their balls, and the mishits among them.
func StageCounts(l *lesson.Lesson) show.TableData {
	t := show.TableData{Caption: "The stages of the table.", Header: []string{"Stage", "Club", "Balls", "Mishits"}}
	for _, g := range l.Groups() {
		t.Rows = append(t.Rows, []string{g.Stage.Name, g.Club, fmt.Sprint(len(g.Shots)), fmt.Sprint(g.Mishits())})
	}
	return t
}
