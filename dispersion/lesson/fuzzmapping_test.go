package lesson

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/landfall-golf/landfall/dispersion/lesson/internal/messy"
)

// FuzzMapping looks for a mapping, or one with a file, that makes anything
// panic, lose a row, or come out other than it went in.
func FuzzMapping(f *testing.F) {
	for _, seed := range [][2]string{
		{`{"fields":[{"name":"Weite","measure":"carry","unit":"m","decimalChar":",","groupChar":"."},{"name":"Seite","measure":"side","unit":"m","right":["R"],"left":["L"],"bareNumber":false}],"missingValues":["","-"]}`, "Weite;Seite\n1.234,5;3 m R\n-;0\n1e200;−1L\n"},
		{`{"fields":[{"name":"carry","unit":"yd"},{"name":"side","measure":"side","positive":"left"},{"name":"t","measure":"time","format":"%d.%m.%Y %H:%M %z"}]}`, "carry,side,t\n150,-0,31.12.9999 23:59 -1400\n1e-200,1e6,x\n"},
		{`{"fields":[{"name":"carry","measure":"none"},{"name":"side"}]}`, "carry,side\n,,\nyd,yd\n1,1\n"},
		{`{"fields":[{"name":"carry_yd","type":"string"},{"name":"side_yd","groupChar":" "}]}`, "x\ncarry_yd,side_yd\n1,1 000\n'=1,1\n"},
		{`[`, ""}, {`{"fields":[{}]}`, "carry,side\n1,1\n"}, {"\xFF\xFE{\x00}\x00", "\x1F\x8B\x08"},
	} {
		f.Add(seed[0], seed[1])
	}
	f.Fuzz(func(t *testing.T, mapping, file string) {
		m, err := ReadMapping(strings.NewReader(mapping))
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error without a text")
			}
			return
		}
		var b, again bytes.Buffer
		if err := m.Write(&b); err != nil {
			t.Fatalf("read, but can't be written: %v", err)
		}
		m2, err := ReadMapping(bytes.NewReader(b.Bytes()))
		if err != nil {
			t.Fatalf("written, but can't be read: %v\n%s", err, b.String())
		}
		if err := m2.Write(&again); err != nil || again.String() != b.String() {
			t.Fatalf("written again: %v\n%s\nwant\n%s", err, again.String(), b.String())
		}
		l, err := Read(strings.NewReader(file), ReadOptions{Columns: m, Mirror: len(file)%2 == 1})
		if err != nil {
			return
		}
		checkRows(t, l)
		checkGroups(t, l)
	})
}

// FuzzPropose looks for a file that makes a proposal panic or come out as one
// that can't be used: what it proposes can be written, read, and applied to the
// very file, or Read says why not.
func FuzzPropose(f *testing.F) {
	for _, file := range messy.Files() {
		if len(file.Content) < 10_000 {
			f.Add(file.Content)
		}
	}
	f.Add([]byte("00\n\",,00\"\n"))
	f.Add([]byte("00;x\n,,00;1\n"))
	f.Add([]byte("R,L,,1,1\n(m),[s],°,%,d\n1L,2R,1.2.3,1,,\n"))
	f.Fuzz(func(t *testing.T, file []byte) {
		p, err := Propose(bytes.NewReader(file))
		if err != nil {
			return
		}
		var b bytes.Buffer
		if err := p.Mapping.Write(&b); err != nil {
			t.Fatalf("the proposal can't be written: %v\n%+v", err, p.Mapping)
		}
		m, err := ReadMapping(&b)
		if err != nil || len(m.Warnings) > 0 {
			t.Fatalf("the proposal can't be read: %v, %v", err, m.Warnings)
		}
		l, err := Read(bytes.NewReader(file), ReadOptions{Columns: m})
		if err != nil {
			return
		}
		checkRows(t, l)
	})
}

// FuzzPackage looks for a descriptor that makes ReadPackage panic, or reach a
// file outside the descriptor's folder, and for a lesson that does not come back
// from its own package.
func FuzzPackage(f *testing.F) {
	const secret = "carry_yd,side_yd\n77,77\n"
	for _, seed := range [][2]string{
		{`{"resources":[{"name":"s","path":"shots.csv","type":"table","schema":{"fields":[{"name":"carry_yd"}]}}]}`, lines("150,1", "1e-200,-0", "1e6,1e6")},
		{`{"resources":[{"name":"s","path":"../secret.csv"}]}`, "carry_yd;side_yd;note\n1,5;2;=1\n"},
		{`{"resources":[{"path":"./shots.csv"},{"path":"sub/../../secret.csv"}]}`, ""},
		{`{"resources":[{"path":"shots.csv","mirrored":true,"format":"csv"}]}`, "pupil,session,stage,intent,void,cue,club,carry_ft,side_m\na,b,c,drill,x,y,7i,1,1\na,b,,,x,,,1,1\na,b,d,baseline,,,7i,1,1\n"},
	} {
		f.Add(seed[0], seed[1])
	}
	f.Fuzz(func(t *testing.T, descriptor, file string) {
		folder := fstest.MapFS{"p/datapackage.json": {Data: []byte(descriptor)}, "p/shots.csv": {Data: []byte(file)}, "secret.csv": {Data: []byte(secret)}}
		l, err := ReadPackage(folder, "p/datapackage.json", ReadOptions{})
		if err == nil {
			checkRows(t, l)
			if len(l.Shots) == 1 && l.Shots[0].Carry == 77 && l.Shots[0].Side == 77 && !strings.Contains(file, "77") {
				t.Fatal("the file outside the folder was read")
			}
		}
		l, err = Read(strings.NewReader(file), ReadOptions{})
		if err != nil || len(l.Shots) == 0 {
			return
		}
		checkRows(t, l)
		var c, d bytes.Buffer
		if err := l.WriteCSV(&c); err != nil {
			t.Fatal(err)
		}
		if err := l.WriteDescriptor(&d, "data/shots.csv"); err != nil {
			t.Fatal(err)
		}
		back := readBack(t, c.String(), d.String())
		if len(back.Shots) != len(l.Shots) || len(back.Rejected) > 0 {
			t.Fatalf("%d shots written, %d read, %v\n%s", len(l.Shots), len(back.Shots), back.Rejected, c.String())
		}
		for i, s := range l.Shots {
			if b := back.Shots[i]; math.Float64bits(b.Carry) != math.Float64bits(s.Carry) || math.Float64bits(b.Side) != math.Float64bits(s.Side) || b.Club != s.Club {
				t.Fatalf("%+v came back as %+v\n%s", s, b, c.String())
			}
		}
	})
}
