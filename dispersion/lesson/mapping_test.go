package lesson

import (
	"bytes"
	"errors"
	"io"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"
)

func mustMap(t testing.TB, text string) *Mapping {
	t.Helper()
	m, err := ReadMapping(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestMappingRoundTrip(t *testing.T) {
	want := &Mapping{Missing: []string{"-", "<none>"}, Fields: []Field{
		{Name: "Weite & so", Title: "Carry", Description: "x", Measure: "carry", Unit: "m", Type: "number", DecimalChar: ",", GroupChar: ".", UnitInCells: true},
		{Name: "Seite", Measure: "side", Unit: "m", Right: []string{"R", "rechts"}, Left: []string{"L", "links"}, Doubt: "perhaps"},
		{Name: "Richtung", Measure: "start_line_deg", PositiveLeft: true},
		{Name: "Zeit", Measure: "time", Format: "%d.%m.%Y %H:%M", Type: "datetime"},
		{Name: "Schläger", Measure: "none", Type: "string"},
	}}
	var b bytes.Buffer
	if err := want.Write(&b); err != nil {
		t.Fatal(err)
	}
	got := mustMap(t, b.String())
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%+v\nwant\n%+v\nfrom\n%s", got, want, b.String())
	}
}

func TestMappingErrors(t *testing.T) {
	field := func(properties string) string { return `{"fields":[{"name":"a"},{` + properties + `}]}` }
	tests := []struct{ name, text, want string }{
		{"no JSON", "{\n\"fields\": [,]}", "line 2 is no JSON"},
		{"a list", "[]", "an object in braces"},
		{"null", "null", "an object in braces"},
		{"a package", `{"resources":[]}`, "this describes a package"},
		{"no fields", `{}`, `there are no "fields"`},
		{"fields are no list", `{"fields":{}}`, `"fields": it should be a list`},
		{"a field is no object", `{"fields":["carry"]}`, "field 1: this should be an object"},
		{"no name", field(`"measure":"carry"`), `field 2, "name": it is missing`},
		{"name is a number", field(`"name":3`), `field 2, "name": it should be a text`},
		{"two of a name", field(`"name":"a"`), `field "a", "name": two fields have it`},
		{"two carries", `{"fields":[{"name":"a","measure":"carry"},{"name":"b","measure":"carry"}]}`, `field "b", "measure": "a" is carry already`},
		{"unknown measure", field(`"name":"b","measure":"smash"`), `"smash" is none of pupil, session`},
		{"wrong type", field(`"name":"b","measure":"carry","type":"string"`), "carry is a number"},
		{"unknown type", field(`"name":"b","type":"float"`), `"float" is not one of number`},
		{"wrong unit", field(`"name":"b","measure":"carry","unit":"cm"`), "carry is in yd, m, ft, not cm"},
		{"unit of a word", field(`"name":"b","measure":"club","unit":"m"`), "club has no unit"},
		{"decimal", field(`"name":"b","decimalChar":";"`), `"decimalChar": it should be`},
		{"group", field(`"name":"b","groupChar":"x"`), `"groupChar": it should be`},
		{"both the same", field(`"name":"b","groupChar":"."`), "is the decimalChar too"},
		{"right alone", field(`"name":"b","measure":"side","right":["R"]`), "give the words for both"},
		{"right is left", field(`"name":"b","measure":"side","right":["R"],"left":["r "]`), "is right and left"},
		{"a word with digits", field(`"name":"b","measure":"side","right":["R1"],"left":["L"]`), "can't stand beside a number"},
		{"carry has no side", field(`"name":"b","measure":"carry","right":["R"],"left":["L"]`), "only a measure of side"},
		{"positive", field(`"name":"b","measure":"side","positive":"up"`), `"positive": it should be "right" or "left"`},
		{"positive and words", field(`"name":"b","measure":"side","positive":"left","right":["R"],"left":["L"]`), "so take it out"},
		{"positive carry", field(`"name":"b","measure":"carry","positive":"left"`), "only a measure of side"},
		{"format", field(`"name":"b","measure":"time","format":"%Q"`), "%Q is not read"},
		{"too many", `{"fields":[` + strings.Repeat(`{"name":"a"},`, maxColumns) + `{"name":"a"}]}`, "more than 1000"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m, err := ReadMapping(strings.NewReader(tt.text))
			var e *MappingError
			if m != nil && err != nil && len(m.Fields) == 0 {
				t.Error("a mapping with an error")
			}
			if !errors.As(err, &e) || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %q", err, tt.want)
			}
		})
	}
	for _, c := range []struct {
		r    io.Reader
		want error
	}{
		{iotest.ErrReader(io.ErrUnexpectedEOF), io.ErrUnexpectedEOF}, {strings.NewReader("PK\x03\x04"), ErrNotText},
		{strings.NewReader(strings.Repeat(" ", maxMappingBytes+1)), ErrTooLarge},
	} {
		if _, err := ReadMapping(c.r); !errors.Is(err, c.want) {
			t.Errorf("got %v, want %v", err, c.want)
		}
	}
	if _, err := ReadMapping(nil); err == nil {
		t.Error("no error without a reader")
	}
	// One put together in Go is held to the same.
	bad := &Mapping{Fields: []Field{{Name: "carry_yd", GroupChar: "x"}}}
	var e *MappingError
	if _, err := Read(strings.NewReader(lines("1,1")), ReadOptions{Columns: bad}); !errors.As(err, &e) {
		t.Errorf("got %v", err)
	}
	if err := bad.Write(io.Discard); !errors.As(err, &e) {
		t.Errorf("got %v", err)
	}
}

// A slip in a property is told, and not passed over.
func TestMappingWarnings(t *testing.T) {
	m := mustMap(t, `{"feilds":1,"fields":[{"name":"a","mesure":"carry","constraints":{}}]}`)
	if len(m.Warnings) != 2 || !strings.Contains(m.Warnings[0].Error(), `"feilds"`) || !strings.Contains(m.Warnings[1].Error(), `the mapping of "a" has "mesure"`) {
		t.Errorf("got %v", m.Warnings)
	}
	l := mustRead(t, lines("1,1"), ReadOptions{Columns: mustMap(t, `{"fields":[{"name":"spin"},{"name":"carry_yd","doubt":"really?"}]}`)})
	text := errors.Join(l.Warnings...).Error()
	if len(l.Warnings) != 2 || !strings.Contains(text, `no column "spin"`) || !strings.Contains(text, `not sure of "carry_yd": really?`) {
		t.Errorf("got %v", l.Warnings)
	}
}

func TestMappingAgainstHeader(t *testing.T) {
	for _, tt := range []struct{ name, file, mapping, want string }{
		{"a column that is not there", lines("1,1"), `{"fields":[{"name":"Club","measure":"club"}]}`, `takes club from a column "Club", which the file does not have`},
		{"carry twice", lines("1,1"), `{"fields":[{"name":"side_yd","measure":"carry"}]}`, "two columns of carry"},
		{"two columns of a field", "Weite,weite,side_yd\n1,1,1\n", `{"fields":[{"name":"weite","measure":"carry","unit":"yd"},{"name":"side_yd"}]}`, `two columns of the mapping's "weite"`},
		{"another unit in the header", "Weite (m),side_m\n1,1\n", `{"fields":[{"name":"Weite (m)","measure":"carry","unit":"yd"}]}`, `the mapping says that "Weite (m)" is in yd`},
	} {
		_, err := Read(strings.NewReader(tt.file), ReadOptions{Columns: mustMap(t, tt.mapping)})
		var h *HeaderError
		if !errors.As(err, &h) || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: got %v, want %q", tt.name, err, tt.want)
		}
	}
	// What the mapping says is none of ours is kept under a name that is not.
	l := mustRead(t, "club,carry_yd,side_yd,carry_m\n7i,150,1,2\nPW,120,1,3\n", ReadOptions{
		Columns: mustMap(t, `{"fields":[{"name":"club","measure":"none"},{"name":"carry_m","measure":"none"}]}`)})
	if l.Shots[0].Club != "" || len(l.Columns) != 2 || l.Columns[0].Name != "other_club" || l.Columns[1].Name != "other_carry_m" || len(l.Warnings) != 0 {
		t.Errorf("club %q, columns %v, warnings %v", l.Shots[0].Club, l.Columns, l.Warnings)
	}
}

// What a mapping makes of one cell of side.
func TestTranslateCells(t *testing.T) {
	words := `"right":["R","right"],"left":["L","left"]`
	for _, tt := range []struct{ field, cell, want, fault string }{
		{words, "3.5R", "3.5", ""}, {words, "R 3.5", "3.5", ""}, {words, "3.5 right", "3.5", ""}, {words, "l3.5", "-3.5", ""}, {words, "LEFT 3.5", "-3.5", ""},
		{words, "0", "0", ""}, {words, "0.0 L", "0.0", ""}, {words, "+2 L", "-2", ""},
		{words, "3.5", "", "says neither right nor left"}, {words, "-3.5 R", "", "a sign and a word"}, {words, "3.5 RL", "", "is not a number"},
		{words + `,"bareNumber":false`, "4 yd R", "4", ""}, {words + `,"bareNumber":false`, "L 4yd", "-4", ""}, {words + `,"bareNumber":false`, "4 L yards", "-4", ""},
		{words + `,"bareNumber":false`, "4 m R", "", "is not a number"},
		{`"bareNumber":false`, "-4.5 yds", "-4.5", ""}, {`"bareNumber":false`, "4", "4", ""}, {`"bareNumber":false`, "4 m", "", "not a number"},
		{`"positive":"left"`, "3", "-3", ""}, {`"positive":"left"`, "-3", "3", ""}, {`"positive":"left"`, "-0", "0", ""}, {`"positive":"left"`, "−3", "3", ""},
		{`"decimalChar":","`, "3,5", "3.5", ""}, {`"decimalChar":","`, "3.5", "", `is not a number with "," before its decimals`}, {`"decimalChar":","`, "1,2,3", "", "not a number"},
		{`"decimalChar":",","groupChar":"."`, "1.234,5", "1234.5", ""}, {`"decimalChar":",","groupChar":"."`, "-1.234.567", "-1234567", ""},
		{`"decimalChar":",","groupChar":"."`, "12.34,5", "", "where no thousands end"}, {`"groupChar":","`, "1,234", "1234", ""}, {`"groupChar":","`, "1,23", "", "where no thousands end"},
		{`"groupChar":"'"`, "1'234.5", "1234.5", ""}, {`"groupChar":","`, ",234", "", "where no thousands end"}, {`"groupChar":","`, "1.5,000", "", "not a number"},
		{``, "", "", ""}, {``, "n/a", "", ""}, {``, "x", "", `"x" is not a number`},
	} {
		sep := `,`
		if tt.field == "" {
			sep = ""
		}
		m := mustMap(t, `{"missingValues":["","n/a"],"fields":[{"name":"side","measure":"side","unit":"yd"`+sep+tt.field+`}]}`)
		got, fault := m.Fields[0].translator(m.Missing)(tt.cell)
		if fault == "" != (tt.fault == "") || !strings.Contains(fault, tt.fault) || fault == "" && got != tt.want {
			t.Errorf("%s %q: got %q, %s; want %q, %s", tt.field, tt.cell, got, fault, tt.want, tt.fault)
		}
	}
}

// Right becomes left, in every column that has them and in no other; twice is
// once too often.
func TestMirror(t *testing.T) {
	file := "path_deg,launch_deg,strike_across_mm,start_line_deg,note,carry_yd,side_yd\n2,18,-5,1.5,-1 right,150,4\n0,17,3,-2,,151,0\n"
	l, m := mustRead(t, file, ReadOptions{}), mustRead(t, file, ReadOptions{Mirror: true})
	if l.Mirrored || !m.Mirrored || !errors.Is(errors.Join(m.Warnings...), ErrMirrored) || len(l.Warnings) != 0 {
		t.Errorf("mirrored %v, %v, warnings %v", l.Mirrored, m.Mirrored, m.Warnings)
	}
	for i := range l.Shots {
		for column, sign := range map[string]float64{"carry": 1, "side": -1, "path_deg": -1, "launch_deg": 1, "strike_across_mm": 1, "start_line_deg": -1} {
			a, _ := l.Shots[i].Value(column)
			b, ok := m.Shots[i].Value(column)
			if b != sign*a || !ok {
				t.Errorf("%s of shot %d: %v, mirrored %v", column, i, a, b)
			}
		}
	}
	csv, descriptor := written(t, m)
	back := readBack(t, csv, descriptor)
	sameShots(t, back, m)
	if !back.Mirrored || !errors.Is(errors.Join(back.Warnings...), ErrMirrored) {
		t.Errorf("what was written does not say that it is mirrored: %v", back.Warnings)
	}
}

// A column that the mapping does not name is read as ever: with a decimal comma
// where fields are separated by something else, and "missing" texts hold for it.
func TestMappingLeavesOtherColumns(t *testing.T) {
	m := &Mapping{Fields: []Field{{Name: "Schläger", Measure: "club"}}, Missing: []string{"-"}}
	l := mustRead(t, "Schläger;carry_m;side_m;spin_rpm;flight_s\n7;130,5;1,5;6500;5,5\n7;131,5;-0,5;-;5,6\n", ReadOptions{Columns: m})
	if len(l.Shots) != 2 || l.Shots[0].Carry != 130.5 || l.Shots[1].Side != -0.5 {
		t.Fatalf("%+v, %+v", l.Shots, l.Rejected)
	}
	if v, ok := l.Shots[0].Value("spin_rpm"); !ok || v != 6500 {
		t.Errorf("spin %v %v: one text for nothing made a text of the column", v, ok)
	}
	if v, ok := l.Shots[1].Value("flight_s"); !ok || v != 5.6 {
		t.Errorf("flight %v %v", v, ok)
	}
}

// The unit beside a number is taken off where it is the column's, whoever says
// which that is, and no other word.
func TestUnitBesideTheNumber(t *testing.T) {
	file := "carry_yd,side_yd\n150 yd,1\n150 banana,1\n150 m,1\n150 no read,1\n150,1\n"
	l := mustRead(t, file, ReadOptions{Columns: &Mapping{Fields: []Field{{Name: "carry_yd", UnitInCells: true}}}})
	if len(l.Shots) != 2 || l.Shots[0].Line != 2 || l.Shots[1].Line != 6 || l.Shots[0].Carry != 150 {
		t.Errorf("%+v", l.Shots)
	}
	var h *HeaderError
	if _, err := Read(strings.NewReader("carry,side\n150 yd,1\n"), ReadOptions{Columns: &Mapping{Fields: []Field{{Name: "carry", UnitInCells: true}}}}); !errors.As(err, &h) {
		t.Errorf("no unit: %v", err)
	}
}

// 6.500 may be six and a half or six and a half thousand.
func TestProposeDoubtsAPoint(t *testing.T) {
	p, err := Propose(strings.NewReader("Schläger;Carry (m);Seite (m);Umsatz\n7;150;1;6.500\n7;151;2;6.700\n"))
	if err != nil {
		t.Fatal(err)
	}
	if f := p.Mapping.Fields[3]; !strings.Contains(f.Doubt, `"6.500"`) || f.decimal() != "." || f.GroupChar != "" {
		t.Errorf("%+v", f)
	}
}

// Nil is an error, or nothing, and no panic.
func TestNilReceivers(t *testing.T) {
	var m *Mapping
	var l *Lesson
	for name, err := range map[string]error{
		"Write": m.Write(&strings.Builder{}), "WriteCSV": l.WriteCSV(&strings.Builder{}), "WriteDescriptor": l.WriteDescriptor(&strings.Builder{}, "a.csv"),
		"SetCells": l.SetCells(nil),
	} {
		if err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := l.Anonymise(testKey()); err == nil {
		t.Error("Anonymise: no error")
	}
	if l.Groups() != nil || l.Pairs() != nil {
		t.Error("nothing has groups")
	}
}

// Names without a letter or digit are told apart as they are written.
func TestProposeNamesOfSigns(t *testing.T) {
	p, err := Propose(strings.NewReader("#,%,carry_yd,side_yd\n1,2,150,1\n2,3,151,2\n"))
	if err != nil || len(p.Mapping.Fields) != 4 || len(p.Doubts) != 0 {
		t.Errorf("%+v %v", p, err)
	}
}
