package lesson

import (
	"bytes"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"

	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write testdata/written.csv again, for writing.py to read")

// awkward is a lesson with everything that is hard to write.
func awkward(t testing.TB) *Lesson {
	file := "pupil;session;time;stage;intent;club;expect;spin_rpm;note;bay;carry_yd;side_ft\n" +
		"Nila;2024-02-28;10:15;old;baseline;7i;5 yd longer;6500,25;\"=cmd|' /C calc'!A0\";7;150,1;0,3\n" +
		"Nila;2024-02-28;10:16;old;baseline;7i;;;\"says \"\"hm\"\",\n\nthen -3\";8;0,1;-0,7\n" +
		"Nila;2024-02-28;10:17;towel;drill;PW;;7e3;'+apostrophe;;33,333333333333336;1e-7\n" +
		"Nila;2024-02-28;10:18;old;baseline;7i;;;@x;9;1e-300;1000000\n" +
		"Nila;2024-02-28;10:19;new;full;7i;;;-;9;no;1\n" +
		"Nila;2024-02-28;10:19;new;full;7i;;;＝wide;9;161;−1\n"
	l := mustRead(t, file, ReadOptions{})
	l.Stages[0].Cue, l.Shots[3].Void = "turn, then go", "a door slammed"
	return l
}

// A judge is a test, or one draw of a property test.
type judge interface {
	Helper()
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

func written(t testing.TB, l *Lesson) (csv, descriptor string) {
	var c, d bytes.Buffer
	if err := errors.Join(l.WriteCSV(&c), l.WriteDescriptor(&d, "data/shots.csv")); err != nil {
		t.Fatal(err)
	}
	return c.String(), d.String()
}

// readBack reads what was written, by the descriptor.
func readBack(t judge, csv, descriptor string) *Lesson {
	folder := fstest.MapFS{"datapackage.json": {Data: []byte(descriptor)}, "data/shots.csv": {Data: []byte(csv)}}
	l, err := ReadPackage(folder, "datapackage.json", ReadOptions{})
	if err != nil {
		t.Fatalf("%v\n%s", err, csv)
	}
	return l
}

// sameShots holds every number bit by bit, and every word.
func sameShots(t judge, got, want *Lesson) {
	t.Helper()
	if len(got.Shots) != len(want.Shots) || got.Pupil != want.Pupil || got.Session != want.Session || got.Unit != want.Unit || got.Mirrored != want.Mirrored {
		t.Fatalf("%d shots of %q, %q in %s; want %d of %q, %q in %s", len(got.Shots), got.Pupil, got.Session, got.Unit, len(want.Shots), want.Pupil, want.Session, want.Unit)
	}
	if len(got.Stages) != len(want.Stages) {
		t.Fatalf("stages %v, want %v", got.Stages, want.Stages)
	}
	for i := range want.Stages {
		if got.Stages[i] != want.Stages[i] {
			t.Errorf("stage %+v, want %+v", got.Stages[i], want.Stages[i])
		}
	}
	same := func(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }
	for i, w := range want.Shots {
		g := got.Shots[i]
		if !same(g.Carry, w.Carry) || !same(g.Side, w.Side) || g.Stage != w.Stage || g.Intent != w.Intent || g.Club != w.Club || g.Void != w.Void {
			t.Errorf("shot %d is %+v, want %+v", i, g, w)
		}
		for _, c := range want.Columns {
			gv, gok := g.Value(c.Name)
			wv, wok := w.Value(c.Name)
			gt, _ := g.Text(c.Name)
			wt, _ := w.Text(c.Name)
			if gok != wok || !same(gv, wv) || !c.Numeric && gt != wt {
				t.Errorf("shot %d, %s: %v %v %q, want %v %v %q", i, c.Name, gv, gok, gt, wv, wok, wt)
			}
		}
	}
}

func TestWriteRoundTrip(t *testing.T) {
	l := awkward(t)
	csv, descriptor := written(t, l)
	back := readBack(t, csv, descriptor)
	sameShots(t, back, l)
	if len(back.Warnings) != 1 { // the million feet
		t.Errorf("warnings %v", back.Warnings)
	}
	// The CSV alone says as much.
	alone := mustRead(t, csv, ReadOptions{})
	sameShots(t, alone, l)
	if again, _ := written(t, back); again != csv {
		t.Errorf("written again:\n%s\nwant\n%s", again, csv)
	}
	for _, line := range strings.Split(csv, "\n")[1:] {
		for _, start := range []string{",=", ",@", ",\"=", ",＝"} {
			if strings.Contains(line, start) {
				t.Errorf("a spreadsheet would run a cell of %s", line)
			}
		}
	}
}

// Whatever was read comes back.
func TestWriteAnything(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		rows := [][]string{{"stage", "club", "carry_yd", "side_yd", "note", "spin_rpm"}}
		text := rapid.StringOfN(rapid.SampledFrom([]rune("'=+-@a1;.é\"")), 0, 6, -1)
		for range rapid.IntRange(1, 8).Draw(rt, "n") {
			row := goodRow(rt)
			row[2] = formatNumber(rapid.Float64Range(0, 1e6).Draw(rt, "carry"))
			note := strings.TrimSpace(strings.ReplaceAll(text.Draw(rt, "note"), `"`, ""))
			rows = append(rows, append(row, note, rapid.SampledFrom([]string{"", "6500", "1e3", "-0"}).Draw(rt, "spin")))
		}
		l, err := Read(strings.NewReader(join(rows)), ReadOptions{})
		if err != nil {
			rt.Skip(err)
		}
		var c, d bytes.Buffer
		if err := errors.Join(l.WriteCSV(&c), l.WriteDescriptor(&d, "data/shots.csv")); err != nil {
			rt.Fatal(err)
		}
		back := readBack(rt, c.String(), d.String())
		sameShots(rt, back, l)
		var again bytes.Buffer
		if err := back.WriteCSV(&again); err != nil || again.String() != c.String() {
			rt.Fatalf("written again %v:\n%s\nwant\n%s", err, again.String(), c.String())
		}
	})
}

// Every text comes back from behind its apostrophe, and none starts a formula.
func TestGuard(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.SampledFrom([]rune("'\"=+-@\t\r\n;,|＝＋－＠a1.")), 0, 8, -1).Draw(t, "text")
		safe := guard(text)
		if unguard(safe) != text {
			t.Fatalf("%q became %q and then %q", text, safe, unguard(safe))
		}
		for piece := range strings.FieldsFuncSeq(safe, func(r rune) bool { return strings.ContainsRune("\t\r\n;,|", r) }) {
			for _, s := range []string{"=", "+", "-", "@", "＝", "＋", "－", "＠"} {
				if strings.HasPrefix(strings.TrimLeft(piece, `"`), s) && !isDecimal(piece) {
					t.Fatalf("%q became %q", text, safe)
				}
			}
		}
	})
}

// By hand: what stands after a separator of some spreadsheet is no formula
// either.
func TestGuardWithin(t *testing.T) {
	for text, want := range map[string]string{
		"x;=1+1": "x;'=1+1", "a\n=1+1": "a\n'=1+1", "a\t@b": "a\t'@b", "a,+b": "a,'+b", `x;"=1"`: `x;'"=1"`, "x;'=1": "x;''=1",
		"draw; -5 yd": "draw; -5 yd", "3;-5": "3;-5", "a = b": "a = b", "\t=1": "'\t'=1",
	} {
		if got := guard(text); got != want || unguard(got) != text {
			t.Errorf("%q became %q, and then %q, want %q", text, got, unguard(got), want)
		}
	}
}

// Nothing that a file or a mark-up holds reaches a terminal as a command.
func TestErrorsArePrintable(t *testing.T) {
	const esc = "\x1b]0;owned\a"
	l := strings.NewReader
	file := lines("1,0", "2,0", "3,0")
	_, overlap := Read(l(file), ReadOptions{StagesFile: l("from,to,stage\n1,2," + esc + "\n2,3,b\n")})
	_, path := findTable([]byte(`{"resources":[{"name":"a","path":"a\u001b[2Jb.csv"}]}`))
	_, format := timeFormat("%Y-%m-%d %\x1b")
	_, unit := Read(l("a (m),side_yd\n1,2\n"), ReadOptions{Columns: &Mapping{Fields: []Field{{Name: "a (m)", Measure: None, Unit: esc}}}})
	doubt, err := Read(l(file), ReadOptions{Columns: &Mapping{Fields: []Field{{Name: "carry_yd", Doubt: esc}}}})
	if err != nil {
		t.Fatal(err)
	}
	for name, err := range map[string]error{"overlap": overlap, "path": path, "format": format, "unit": unit, "doubt": errors.Join(doubt.Warnings...)} {
		if err == nil || strings.ContainsFunc(err.Error(), func(r rune) bool { return r != '\n' && unicode.IsControl(r) }) {
			t.Errorf("%s: %q", name, fmt.Sprint(err))
		}
	}
}

type pythonSays struct {
	Pseudonyms, Moved map[string]string
	Shifts            map[string]int
	Times             []struct{ Format, Text, ISO string }
	Header, Notes     []string
	Bits              [][2]string
}

func python(t *testing.T) (p pythonSays) {
	text, err := os.ReadFile("testdata/ref/writing.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &p); err != nil {
		t.Fatal(err)
	}
	return p
}

// Source: testdata/ref/writing.py under Python 3.11.7, whose csv and float read
// testdata/written.csv: the cells and the bits are ours.
func TestWrittenAsPythonReadsIt(t *testing.T) {
	l := awkward(t)
	csv, _ := written(t, l)
	if *update {
		if err := os.WriteFile("testdata/written.csv", []byte(csv), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	stored, err := os.ReadFile("testdata/written.csv")
	if err != nil || string(stored) != csv {
		t.Fatalf("testdata/written.csv is stale: %v; go test -update, then run writing.py", err)
	}
	p := python(t)
	if len(p.Bits) != len(l.Shots) {
		t.Fatalf("%d rows, want %d", len(p.Bits), len(l.Shots))
	}
	for i, s := range l.Shots {
		for j, v := range []float64{s.Carry, s.Side} {
			var raw [8]byte
			binary.BigEndian.PutUint64(raw[:], math.Float64bits(v))
			if got := hex.EncodeToString(raw[:]); got != p.Bits[i][j] {
				t.Errorf("shot %d: %s, Python reads %s", i, got, p.Bits[i][j])
			}
		}
		note, _ := s.Text("note")
		if p.Notes[i] != guard(note) {
			t.Errorf("shot %d: the note %q, Python reads %q", i, note, p.Notes[i])
		}
	}
}

// Source: testdata/ref/writing.py under Python 3.11.7: datetime.strptime.
func TestTimeFormatsAgainstStrptime(t *testing.T) {
	for _, want := range python(t).Times {
		r, err := timeFormat(want.Format)
		if err != nil {
			t.Fatal(err)
		}
		got, fault := r.translate(want.Text)
		if got != want.ISO && got+":00" != want.ISO || fault != "" {
			t.Errorf("%s %q: %q, %s; want %s", want.Format, want.Text, got, fault, want.ISO)
		}
	}
	for _, bad := range []string{"", "%Y", "%H", "%Q %H:%M", "%Y-%m-%d at %H:%M", "%I:%M", "%d.%m", "%", "2006-%m-%d"} {
		if _, err := timeFormat(bad); err == nil {
			t.Errorf("the format %q is taken", bad)
		}
	}
	r, err := timeFormat("%d.%m.%Y")
	if err != nil {
		t.Fatal(err)
	}
	if got, fault := r.translate("31.02.2024"); fault == "" {
		t.Errorf("a day that is none became %q", got)
	}
}

func TestWriteErrors(t *testing.T) {
	l := mustRead(t, lines("150,1"), ReadOptions{})
	for _, path := range []string{"../shots.csv", "/etc/passwd", `..\shots.csv`, `C:\shots.csv`, "c:shots.csv", "a/../../b", "http://example.com/a.csv", "", ".", "a//b"} {
		var p *PackageError
		if err := l.WriteDescriptor(&bytes.Buffer{}, path); !errors.As(err, &p) {
			t.Errorf("%q: error %v", path, err)
		}
	}
	if err := (&Lesson{Unit: Yards}).WriteCSV(&bytes.Buffer{}); !errors.Is(err, ErrNoRows) {
		t.Errorf("no shots: %v", err)
	}
	if err := (&Lesson{Shots: l.Shots}).WriteCSV(&bytes.Buffer{}); err == nil || !strings.Contains(err.Error(), "write yd, m or ft") {
		t.Errorf("no unit: %v", err)
	}
	full := errors.New("full")
	for _, write := range []func() error{
		func() error { return l.WriteCSV(failing{full}) }, func() error { return l.WriteDescriptor(failing{full}, "a.csv") },
		func() error { return (&Mapping{}).Write(failing{full}) },
	} {
		if err := write(); !errors.Is(err, full) {
			t.Errorf("got %v, want the writer's error", err)
		}
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }
