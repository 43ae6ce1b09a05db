package lesson

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
	"time"
)

// mustRead reads a lesson that the test says is readable.
func mustRead(t testing.TB, text string, o ReadOptions) *Lesson {
	t.Helper()
	l, err := Read(strings.NewReader(text), o)
	if err != nil {
		t.Fatalf("Read: %v", err)
	}
	if l.Rows != len(l.Shots)+len(l.Rejected) {
		t.Fatalf("%d rows, but %d shots and %d rejected", l.Rows, len(l.Shots), len(l.Rejected))
	}
	return l
}

// lines returns a file whose header is carry_yd,side_yd and then the rows.
func lines(rows ...string) string { return "carry_yd,side_yd\n" + strings.Join(rows, "\n") + "\n" }

func points(l *Lesson) string {
	var all []string
	for _, s := range l.Shots {
		all = append(all, fmt.Sprintf("%d:%g/%g", s.Line, s.Carry, s.Side))
	}
	return strings.Join(all, " ")
}

func TestReadForms(t *testing.T) {
	const want = "2:150.5/-3.2 3:148/4"
	tests := []struct{ name, file string }{
		{"plain", "carry_yd,side_yd\n150.5,-3.2\n148,4\n"},
		{"no line end at the end", "carry_yd,side_yd\n150.5,-3.2\n148,4"},
		{"byte order mark", "\uFEFFcarry_yd,side_yd\n150.5,-3.2\n148,4\n"},
		{"CR LF", "carry_yd,side_yd\r\n150.5,-3.2\r\n148,4\r\n"},
		{"lone CR", "carry_yd,side_yd\r150.5,-3.2\r148,4\r"},
		{"semicolon, decimal comma", "carry_yd;side_yd\n150,5;-3,2\n148;4\n"},
		{"semicolon, decimal point", "carry_yd;side_yd\n150.5;-3.2\n148;4\n"},
		{"tab, decimal comma", "carry_yd\tside_yd\n150,5\t-3,2\n148\t4\n"},
		{"other order and case", "Side_YD,CARRY_yd\n-3.2,150.5\n4,148\n"},
		{"names as people write them", "Side (yards),Carry [yd]\n-3.2,150.5\n4,148\n"},
		{"blanks around", " carry_yd , side_yd \n 150.5 , -3.2\u00A0\n148,4\n"},
		{"quotes", "\"carry_yd\",\"side_yd\"\n\"150.5\", \"-3.2\" \n\"148\",\"4\"\n"},
		{"true minus sign", "carry_yd,side_yd\n150.5,−3.2\n+148,4.\n"},
		{"exponents", "carry_yd,side_yd\n1.505e2,-32E-1\n148,4\n"},
		{"separators at the end of rows", "carry_yd,side_yd\n150.5,-3.2,,\n148,4,\n"},
		{"separator at the end of the header", "carry_yd,side_yd,\n150.5,-3.2,\n148,4,\n"},
		{"another separator in a name", "note: wind, lie, feel;carry_yd;side_yd\n;150.5;-3.2\n;148;4\n"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l := mustRead(t, tt.file, ReadOptions{})
			if got := points(l); got != want {
				t.Errorf("got %s, want %s; rejected %v", got, want, l.Rejected)
			}
			if l.Unit != Yards || len(l.Warnings) != 0 {
				t.Errorf("unit %s, warnings %v", l.Unit, l.Warnings)
			}
		})
	}
}

// Blank lines are no rows but count as lines; so do lines inside quotes.
func TestReadLineNumbers(t *testing.T) {
	l := mustRead(t, "\n\ncarry_yd,side_yd,note\n150,1,\"two\r\nlines\"\n  \t\n151,2,\n\nx,3,\n152,4,\n\n", ReadOptions{})
	if got, want := points(l), "4:150/1 7:151/2 10:152/4"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if len(l.Rejected) != 1 || l.Rejected[0].Line != 9 {
		t.Errorf("rejected %v, want line 9", l.Rejected)
	}
	if got := l.Shots[2].Ball; got != 4 {
		t.Errorf("ball %d after one rejected row, want 4", got)
	}
}

func TestReadRejections(t *testing.T) {
	tests := []struct{ name, row, column, reason string }{
		{"carry missing", ",2", "Carry_YD", "missing"},
		{"side missing", "150, ", "side_yd", "missing"},
		{"both missing", ",", "Carry_YD", "missing"},
		{"text", "abc,2", "Carry_YD", `"abc" is not a number`},
		{"unit in the cell", "150 yd,2", "Carry_YD", "the unit belongs in the header"},
		{"direction in the cell", "150,2L", "side_yd", `"2L" is not a number`},
		{"NaN", "NaN,2", "Carry_YD", "not a finite number"},
		{"infinity", "150,-Inf", "side_yd", "not a finite number"},
		{"infinity as a word", "Infinity,2", "Carry_YD", "not a finite number"},
		{"infinity by size", "1e999,2", "Carry_YD", "too large"},
		{"hexadecimal", "0x96,2", "Carry_YD", "not a number"},
		{"underscore", "1_50,2", "Carry_YD", "not a number"},
		{"bare exponent", "e5,2", "Carry_YD", "not a number"},
		{"cut exponent", "1e,2", "Carry_YD", "not a number"},
		{"point alone", ".,2", "Carry_YD", "not a number"},
		{"negative carry", "-150,2", "Carry_YD", "negative"},
		{"squares that overflow", "1e200,2", "Carry_YD", "beyond a million"},
		{"side that overflows", "150,-1e300", "side_yd", "beyond a million"},
		{"too few fields", "150", "", "1 field where the header has 2"},
		{"too many fields", "150,2,3", "", "3 fields where the header has 2"},
		{"decimal comma in a comma file", "150,5,2,1", "", "4 fields"},
		{"quoted decimal comma in a comma file", `"150,5",2`, "Carry_YD", "write a decimal point"},
		{"quote never closed", `150,"2`, "side_yd", "quote"},
		{"text after a quote", `"150"0,2`, "Carry_YD", "quote"},
		{"quote in a field too many", `150,2,"x`, "", "quote"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l := mustRead(t, "Carry_YD,side_yd\n150,1\n"+tt.row+"\n151,2\n", ReadOptions{})
			if got, want := points(l), "2:150/1 4:151/2"; got != want {
				t.Errorf("the good rows: got %s, want %s", got, want)
			}
			if len(l.Rejected) != 1 {
				t.Fatalf("rejected %v, want one row", l.Rejected)
			}
			r := l.Rejected[0]
			if r.Line != 3 || r.Column != tt.column || !strings.Contains(r.Reason, tt.reason) {
				t.Errorf("got %+v, want line 3, column %q, reason %q", r, tt.column, tt.reason)
			}
		})
	}
	l := mustRead(t, "carry_yd;side_yd\n1.150,5;2\n150;2\n", ReadOptions{})
	if len(l.Rejected) != 1 || !strings.Contains(l.Rejected[0].Reason, "thousands") {
		t.Errorf("comma and point in one number: rejected %v", l.Rejected)
	}
}

// Only the line of an open quote is lost, whatever quotes come later.
func TestReadOpenQuoteSwallowsNothing(t *testing.T) {
	for _, later := range []string{"151,2,x\n", "151,2,\"good\"\n", "151,2,\"a \"\"b\"\" c\"\n", "151,2,7\" wide\n", "151,2,\"\"\n", "151,2,\",\"\n"} {
		l := mustRead(t, "carry_yd,side_yd,note\n150,1,\"open\n"+strings.Repeat(later, 3), ReadOptions{})
		if got, want := points(l), "3:151/2 4:151/2 5:151/2"; got != want || len(l.Rejected) != 1 || l.Rejected[0].Line != 2 {
			t.Errorf("with %q: shots %s, rejected %v", later, got, l.Rejected)
		}
	}
}

// Lines made to be read on from, each to the end of the file, must still take
// time in proportion: 100,000 of them a few hundredths of a second, not minutes.
func TestReadHostileQuotesInTime(t *testing.T) {
	const n = 100_000
	start := time.Now()
	l := mustRead(t, "carry_yd,side_yd\n"+strings.Repeat("a\",\"\n", n), ReadOptions{})
	if len(l.Rejected) != n {
		t.Errorf("%d rejected, want all %d", len(l.Rejected), n)
	}
	if took := time.Since(start); took > 10*time.Second {
		t.Errorf("took %v", took)
	}
}

func TestReadErrors(t *testing.T) {
	header := func(reason string) func(error) bool {
		return func(err error) bool {
			var h *HeaderError
			return errors.As(err, &h) && len(h.Found) > 0 && strings.Contains(err.Error(), reason)
		}
	}
	is := func(target error) func(error) bool {
		return func(err error) bool { return errors.Is(err, target) }
	}
	tests := []struct {
		name, file string
		o          ReadOptions
		want       func(error) bool
	}{
		{"empty", "", ReadOptions{}, is(ErrEmpty)},
		{"blank", "\uFEFF\n \r\n\t", ReadOptions{}, is(ErrEmpty)},
		{"header only", "carry_yd,side_yd\n\n", ReadOptions{}, is(ErrNoRows)},
		{"workbook", "PK\x03\x04\x14\x00", ReadOptions{}, is(ErrNotText)},
		{"workbook of the older kind", "\xD0\xCF\x11\xE0\xA1", ReadOptions{}, is(ErrNotText)},
		{"half a gzip", "\x1F\x8B\x08", ReadOptions{}, is(io.ErrUnexpectedEOF)},
		{"no carry", "total_yd,side_yd\n1,2\n", ReadOptions{}, header(`no column of carry: the header needs carry and side, with their unit as in carry_yd or side_m; where they have other names, "go run ./notebooks columns FILE" proposes what they are; columns found: "total_yd", "side_yd"`)},
		{"no side", "carry_yd,offline\n1,2\n", ReadOptions{}, header("no column of side")},
		{"carry in an unknown unit", "carry_km,side_yd\n1,2\n", ReadOptions{}, header("no column of carry")},
		{"no header", "150,2\n151,3\n", ReadOptions{}, header(`columns found: "150", "2"`)},
		{"two carries", "carry_yd,carry_m,side_yd\n1,2,3\n", ReadOptions{}, header(`two columns of carry, "carry_yd" and "carry_m": keep one`)},
		{"one carry twice", "carry_yd,Carry_yd,side_yd\n1,2,3\n", ReadOptions{}, header("two columns of carry")},
		{"two sides", "carry_yd,side,side_yd\n1,2,3\n", ReadOptions{}, header("two columns of side")},
		{"two clubs", "club,carry_yd,side_yd,Club\n1,2,3,4\n", ReadOptions{}, header("two columns of club")},
		{"quote in the header", "carry_yd,\"side_yd\n1,2\n", ReadOptions{}, header("quote")},
		{"too many columns", "carry,side" + strings.Repeat(",x", maxColumns), ReadOptions{}, header("more than 1000 columns")},
		{"unknown unit", lines("1,2"), ReadOptions{Unit: "mile"}, func(err error) bool { return strings.Contains(err.Error(), `unit "mile": write yd, m or ft`) }},
		{"spec and file", lines("1,2"), ReadOptions{Stages: "1:a", StagesFile: strings.NewReader("")}, func(err error) bool { return strings.Contains(err.Error(), "give one of them") }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l, err := Read(strings.NewReader(tt.file), tt.o)
			if err == nil || l != nil {
				t.Fatalf("got %v and error %v, want only an error", l, err)
			}
			if !tt.want(err) {
				t.Errorf("got error %q", err)
			}
		})
	}
	if _, err := Read(nil, ReadOptions{}); err == nil {
		t.Error("no error without a reader")
	}
	if _, err := Read(iotest.ErrReader(io.ErrUnexpectedEOF), ReadOptions{}); !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("got %v, want the reader's error", err)
	}
}

// The limits are tried small: at their real size they would take the memory
// that they are there to save.
func TestLimits(t *testing.T) {
	s := &scanner{text: "1,1\n2,2\n3,3\n", sep: ',', line: 1, width: 2}
	if _, err := readRows(s, &header{sep: ',', written: []string{"carry", "side"}, names: []string{"carry", "side"}, side: 1, turn: make([]translator, 2)}, 2); !errors.Is(err, ErrTooLarge) || !strings.Contains(err.Error(), "line 3: more than 2 rows") {
		t.Errorf("got %v, want ErrTooLarge", err)
	}
	if _, _, err := readText(strings.NewReader("12345"), "lesson file", 4); !errors.Is(err, ErrTooLarge) {
		t.Errorf("got %v, want ErrTooLarge", err)
	}
	if text, _, err := readText(strings.NewReader("1234"), "lesson file", 4); text != "1234" || err != nil {
		t.Errorf("got %q and %v at the limit", text, err)
	}
}

func TestReadWarnings(t *testing.T) {
	tests := []struct {
		name, file string
		o          ReadOptions
		kind       error
		text       string // part of the one warning; "" for no warning
	}{
		{"no unit", "carry,side\n1,1\n", ReadOptions{}, ErrUnit, `column "carry" does not say: read as yd`},
		{"unit from the options", "carry,side\n1,1\n", ReadOptions{Unit: Metres}, nil, ""},
		{"carry takes the unit of side", "carry,side_m\n1,1\n", ReadOptions{}, ErrUnit, `column "carry" does not say: read as m`},
		{"side takes the unit of carry", "carry_m,side\n1,1\n", ReadOptions{}, ErrUnit, `column "side" does not say: read as m`},
		{"two units", "carry_yd,side_ft\n1,1\n", ReadOptions{}, ErrUnit, "side was converted to yd"},
		{"duplicate", "carry_yd,side_yd,note,Note\n1,1,a,b\n", ReadOptions{}, ErrColumn, `two are called "Note"; the later one is kept as note_2`},
		{"a measurement as text", "carry_yd,side_yd,spin_rpm\n1,1,2500\n1,1,n/a\n", ReadOptions{}, ErrColumn, `"spin_rpm" is kept as text, since line 3 has "n/a"`},
		{"a text column", "carry_yd,side_yd,feel\n1,1,2500\n1,1,n/a\n", ReadOptions{}, nil, ""},
		{"not UTF-8", "carry_yd,side_yd,note\n1,1,a\n1,1,\xE4\n", ReadOptions{}, ErrEncoding, "line 3 "},
		{"commas and points", "carry_yd;side_yd;spin_rpm\n1.5;1;2\n1;1;6,500\n", ReadOptions{}, ErrDecimals, "line 3 has a number with a comma and line 2 one with a point"},
		{"ball that did not fly", lines("0,0"), ReadOptions{}, ErrUnlikely, "line 2: carry 0 yd, side 0 yd: the ball did not fly"},
		{"shank", lines("20,61"), ReadOptions{}, ErrUnlikely, "line 2: carry 20 yd, side 61 yd: a side of more than 3 times the carry"},
		{"shank to the left", lines("20,-61"), ReadOptions{}, ErrUnlikely, "side -61 yd: a side of more than 3 times the carry"},
		{"not quite a shank", lines("20,-60"), ReadOptions{}, nil, ""},
		{"long", lines("451,0"), ReadOptions{}, ErrUnlikely, "a carry beyond 450 yd"},
		{"long in metres", "carry_m,side_m\n412,0\n", ReadOptions{}, ErrUnlikely, "a carry beyond 450 yd"},
		{"not quite too long", "carry_m,side_m\n411.48,0\n", ReadOptions{}, nil, ""},
		{"clock backwards", "time,carry_yd,side_yd\n10:00:05,1,1\n10:00:04.5,1,1\n10:00:06,1,1\n", ReadOptions{}, ErrTimeOrder, "goes backwards in 1 place, first on line 3, 10:00:04.5 after 10:00:05"},
		{"clock forwards", "time,carry_yd,side_yd\n2024-05-01T10:00:00Z,1,1\n,1,1\n2024-05-01T10:00:00Z,1,1\n", ReadOptions{}, nil, ""},
		{"afternoon", "time,carry_yd,side_yd\n11:59 am,1,1\n12:01 pm,1,1\n", ReadOptions{}, nil, ""},
		{"unreadable clock", "time,carry_yd,side_yd\nnoon,1,1\n", ReadOptions{}, ErrTimeOrder, `line 2 has "noon", so the order of the rows was not checked`},
		{"two clocks", "time,carry_yd,side_yd\n10:00,1,1\n2024-05-01T10:00:00,1,1\n", ReadOptions{}, ErrTimeOrder, "unlike the rows above"},
		{"surfaces", "surface,carry_yd,side_yd\nmat,1,1\nmat,1,1\ngrass,1,1\n", ReadOptions{}, ErrMixed, `2 surfaces, "mat" (2 rows) and "grass" (1 row)`},
		{"nothing readable", lines("x,1", "y,1"), ReadOptions{}, ErrNoShots, `2 rows rejected, the first because of line 2: "x" is not a number`},
		{"blank stage", "stage,carry_yd,side_yd\nold,1,1\n,1,1\n", ReadOptions{}, ErrStage, `1 row without a stage, the first on line 3: put into one called "unnamed"`},
		{"a rejected row without a stage", "stage,intent,carry_yd,side_yd\nold,,1,1\n,,x,1\n", ReadOptions{}, nil, ""},
		{"a rejected row full of text", "spin_rpm,carry_yd,side_yd\n6000,1,1\nno read,no read,1\n", ReadOptions{}, nil, ""},
		{"two intents", "stage,intent,carry_yd,side_yd\nold,full,1,1\nold,drill,1,1\n", ReadOptions{}, ErrStage, `"old" has two intents from line 3 on: the second is its own stage, "old (drill)"`},
		{"a stage without a shot", "stage,carry_yd,side_yd\nold,1,1\nnew,x,1\n", ReadOptions{}, ErrStage, `no row of "new" could be read`},
		{"a marked stage without a shot", lines("1,1", "x,1", "1"), ReadOptions{Stages: "1:old,2-3:new"}, ErrStage, `no row of "new" could be read`},
		{"columns set aside", "stage,carry_yd,side_yd\nold,1,1\n", ReadOptions{Stages: "1:new"}, ErrStage, "set aside"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l := mustRead(t, tt.file, tt.o)
			if tt.text == "" {
				if len(l.Warnings) != 0 {
					t.Errorf("got warnings %v, want none", l.Warnings)
				}
				return
			}
			at := slices.IndexFunc(l.Warnings, func(w error) bool { return errors.Is(w, tt.kind) && strings.Contains(w.Error(), tt.text) })
			if at < 0 {
				t.Errorf("got warnings %v, want %q of the kind %q", l.Warnings, tt.text, tt.kind)
			}
		})
	}
}

// A shank is kept, and the warning holds its numbers.
func TestUnlikelyShotIsKept(t *testing.T) {
	l := mustRead(t, lines("150,1", "30,-95"), ReadOptions{})
	if got, want := points(l), "2:150/1 3:30/-95"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	var u *UnlikelyShot
	if len(l.Warnings) != 1 || !errors.As(l.Warnings[0], &u) || u.Line != 3 || u.Carry != 30 || u.Side != -95 {
		t.Errorf("got warnings %v, want one of line 3 with 30 and -95", l.Warnings)
	}
}

// A file in another unit makes every shot unlikely: one line each is no help.
func TestUnlikelyShotsAreCounted(t *testing.T) {
	l := mustRead(t, lines(slices.Repeat([]string{"500,0"}, 50)...), ReadOptions{})
	if got := len(l.Warnings); got != mostUnlikely+1 {
		t.Fatalf("%d warnings, want %d", got, mostUnlikely+1)
	}
	if got := l.Warnings[mostUnlikely].Error(); !strings.Contains(got, "30 shots more: is yd the unit") {
		t.Errorf("got %q", got)
	}
}

func TestReadFurtherColumns(t *testing.T) {
	l := mustRead(t, strings.Join([]string{
		"pupil,club,Ball Speed (mph),carry_yd,side_yd,note,apex_ft,empty,,surface,flight_s",
		`Mira,7i,110.5,150,1,"=1+1",,,7,mat,`,
		`Mira,7i,,151,2,,80,,,mat,5.2`,
	}, "\n"), ReadOptions{})
	want := []Column{{"ball_speed_mph", "mph", true}, {"note", "", false}, {"apex_ft", "ft", true}, {"empty", "", false},
		{"column_9", "", true}, {"surface", "", false}, {"flight_s", "s", true}}
	if !slices.Equal(l.Columns, want) {
		t.Errorf("columns\n%v, want\n%v", l.Columns, want)
	}
	if l.Pupil != "Mira" || l.Session != "" {
		t.Errorf("pupil %q, session %q", l.Pupil, l.Session)
	}
	s := l.Shots[0]
	if v, ok := s.Value("ball_speed_mph"); v != 110.5 || !ok {
		t.Errorf("ball_speed_mph: %v, %v", v, ok)
	}
	if v, ok := s.Text("note"); v != "=1+1" || !ok {
		t.Errorf("note: %q, %v", v, ok)
	}
	for _, absent := range []string{"apex_ft", "note", "carry_yd", "club", "no such"} {
		if v, ok := s.Value(absent); ok || v != 0 {
			t.Errorf("Value(%q) is %v, %v, want nothing: absent is not 0", absent, v, ok)
		}
	}
	if v, ok := s.Text("apex_ft"); ok || v != "" {
		t.Errorf("Text of an empty cell is %q, %v", v, ok)
	}
	if v, ok := (Shot{Carry: 3}).Value("apex_ft"); ok || v != 0 {
		t.Errorf("a shot made by hand has %v, %v", v, ok)
	}
	if v, ok := (Shot{Carry: 3}).Value("carry"); !ok || v != 3 {
		t.Errorf("a shot made by hand has the carry %v, %v", v, ok)
	}
}

// A stage's name may have a megabyte and stays text; beyond that its row is
// rejected.
func TestReadHostileText(t *testing.T) {
	huge := strings.Repeat("<script>\x00", maxField/9)
	l := mustRead(t, "stage,club,carry_yd,side_yd\n"+huge+",=cmd(),150,1\n\"a\n\"\"b\"\"\",\x1b[31m,150,1\n", ReadOptions{})
	if len(l.Shots) != 2 || l.Shots[0].Stage != huge || l.Shots[0].Club != "=cmd()" {
		t.Errorf("%d shots; the names did not stay as they were", len(l.Shots))
	}
	if got := l.Shots[1].Stage; got != "a\n\"b\"" {
		t.Errorf("got stage %q", got)
	}
	for _, row := range []string{huge + ",1", strings.Repeat("1", maxField+1) + ",1"} {
		l = mustRead(t, lines(row, "150,1"), ReadOptions{})
		if len(l.Shots) != 1 || len(l.Rejected[0].Reason) > 1000 {
			t.Errorf("a reason of %d bytes", len(l.Rejected[0].Reason))
		}
	}
	l = mustRead(t, "note,carry_yd,side_yd\n"+huge+huge+",150,1\nx,150,1\n", ReadOptions{})
	if len(l.Shots) != 1 || l.Rejected[0].Column != "note" || !strings.Contains(l.Rejected[0].Reason, "shorten it") {
		t.Errorf("rejected %v", l.Rejected)
	}
}

// Bytes that are no UTF-8 stay apart: two names in Latin-1 are not made one.
func TestReadInvalidUTF8KeepsNamesApart(t *testing.T) {
	l := mustRead(t, "stage,carry_yd,side_yd\nM\xE4,150,1\nM\xF6,150,1\n", ReadOptions{})
	if len(l.Stages) != 2 || l.Stages[0].Name != `M\xE4` || l.Stages[1].Name != `M\xF6` {
		t.Errorf("got stages %v", l.Stages)
	}
}

func TestChoose(t *testing.T) {
	const file = "pupil,session,carry_yd,side_yd\nMira,1,150,1\nTom,1,151,1\nMira,2,152,1\n,1,153,1\nx\nMira,1,154,1\n"
	var c *ChoiceError
	_, err := Read(strings.NewReader(file), ReadOptions{})
	if !errors.As(err, &c) || !strings.Contains(err.Error(), `the file holds pupils "Mira" (3 rows), "Tom" (1 row): pick one with -pupil NAME`) {
		t.Errorf("two pupils: %v", err)
	}
	_, err = Read(strings.NewReader(file), ReadOptions{Pupil: "Mira"})
	if !errors.As(err, &c) || !strings.Contains(err.Error(), `the file holds sessions "1" (2 rows), "2" (1 row): pick one with -session NAME`) {
		t.Errorf("two sessions: %v", err)
	}
	_, err = Read(strings.NewReader(file), ReadOptions{Pupil: "Ann"})
	if !errors.As(err, &c) || !strings.Contains(err.Error(), `no row of pupil "Ann": the file has "Mira" (3 rows)`) {
		t.Errorf("nobody of that name: %v", err)
	}
	_, err = Read(strings.NewReader(lines("1,1")), ReadOptions{Pupil: "Ann"})
	if !errors.As(err, &c) || !strings.Contains(err.Error(), "the file names no pupil: leave -pupil out") {
		t.Errorf("no column: %v", err)
	}
	l := mustRead(t, file, ReadOptions{Pupil: "Mira", Session: "1"})
	if got := points(l); got != "2:150/1 7:154/1" || l.Pupil != "Mira" || l.Session != "1" {
		t.Errorf("got %s of %q, %q", got, l.Pupil, l.Session)
	}
	if len(l.Rejected) != 1 || l.Shots[1].Ball != 3 || l.Rows != 3 {
		t.Errorf("rejected %v, last ball %d, rows %d; want the broken row counted", l.Rejected, l.Shots[1].Ball, l.Rows)
	}
	if len(l.Warnings) != 1 || !errors.Is(l.Warnings[0], ErrMixed) {
		t.Errorf("got warnings %v, want one of the row without a pupil", l.Warnings)
	}
	// One pupil, and cells left empty below the first, are one lesson.
	for _, picked := range []string{"", " Mira "} {
		l = mustRead(t, "pupil,carry_yd,side_yd\nMira,1,1\n,1,1\n", ReadOptions{Pupil: picked})
		if len(l.Shots) != 2 || l.Pupil != "Mira" || len(l.Warnings) != 0 {
			t.Errorf("picked %q: %d shots of %q, warnings %v", picked, len(l.Shots), l.Pupil, l.Warnings)
		}
	}
}

// A row that can't be read takes no good row with it: a header that comes again,
// a line of averages, an intent that is none in a row without a carry.
func TestRejectedRowsTakeNothingWithThem(t *testing.T) {
	const head, ball = "pupil,session,stage,intent,club,carry_yd,side_yd\n", "An,2024-05-01,a,full,7i,150,1\n"
	for name, c := range map[string]struct {
		file     string
		rejected int
		o        ReadOptions
	}{
		"header again":        {head + ball + head + ball, 1, ReadOptions{}},
		"averages":            {head + ball + ball + "Average,all,x,mean,7i,,\n", 1, ReadOptions{}},
		"averages, picked":    {head + ball + "Bo,2024-05-01,a,,7i,150,1\n" + ball + "Average,all,x,mean,7i,,\n", 1, ReadOptions{Pupil: "An"}},
		"another's, not read": {head + ball + "Bo,2024-05-01,a,,7i,150,1\n" + ball + "Bo,2024-05-01,a,,7i,,1\n", 0, ReadOptions{Pupil: "An"}},
	} {
		l, err := Read(strings.NewReader(c.file), c.o)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if len(l.Shots) != 2 || len(l.Rejected) != c.rejected || l.Rows != 2+c.rejected || l.Pupil != "An" || l.Session != "2024-05-01" {
			t.Errorf("%s: %d shots, %+v, of %q on %q", name, len(l.Shots), l.Rejected, l.Pupil, l.Session)
		}
	}
	var choice *ChoiceError
	if _, err := Read(strings.NewReader(head+"An,1,a,full,7i,,1\nBo,1,a,full,7i,,1\n"), ReadOptions{}); !errors.As(err, &choice) || len(choice.Names) != 2 {
		t.Errorf("rows of two pupils, none to be read: %v", err)
	}
}
