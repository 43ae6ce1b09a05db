package lesson

import (
	"bytes"
	"encoding/csv"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func allRecords(s *scanner) (records [][]string) {
	for rec, ok := s.next(); ok; rec, ok = s.next() {
		records = append(records, rec.fields)
	}
	return records
}

// Source: Y. Shafranovich, RFC 4180 (2005), section 2, rules 1, 2, 5, 6 and 7,
// whose examples these are.
func TestRecordsOfRFC4180(t *testing.T) {
	row := func(fields ...string) []string { return fields }
	tests := []struct {
		name, text string
		want       [][]string
	}{
		{"1: CRLF between records", "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", [][]string{row("aaa", "bbb", "ccc"), row("zzz", "yyy", "xxx")}},
		{"2: none after the last", "aaa,bbb,ccc\r\nzzz,yyy,xxx", [][]string{row("aaa", "bbb", "ccc"), row("zzz", "yyy", "xxx")}},
		{"5: quoted fields", "\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", [][]string{row("aaa", "bbb", "ccc"), row("zzz", "yyy", "xxx")}},
		{"6: a line break in quotes", "\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx", [][]string{row("aaa", "b\r\nbb", "ccc"), row("zzz", "yyy", "xxx")}},
		{"7: doubled quotes", "\"aaa\",\"b\"\"bb\",\"ccc\"", [][]string{row("aaa", `b"bb`, "ccc")}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := allRecords(&scanner{text: tt.text, sep: ',', line: 1, width: 3}); !reflect.DeepEqual(got, tt.want) {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

// Source: encoding/csv of Go writes the file; what it writes, the scanner must
// take apart again.
func TestRecordsWrittenByEncodingCSV(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.IntRange(1, 5).Draw(t, "width")
		cell := rapid.StringOfN(rapid.SampledFrom([]rune("ab\",;\t\n 7é")), 0, 8, -1)
		want := rapid.SliceOfN(rapid.SliceOfN(cell, width, width), 1, 8).Draw(t, "records")
		sep := rapid.SampledFrom([]rune(",;\t")).Draw(t, "sep")
		crlf := rapid.Bool().Draw(t, "crlf")
		for _, rec := range want {
			for i := range rec {
				rec[i] = strings.TrimSpace(rec[i]) // blanks around a cell are not kept
			}
			if rec[0] == "" {
				rec[0] = "x" // else a record of one cell would be a blank line
			}
		}
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		w.Comma, w.UseCRLF = sep, crlf
		if err := w.WriteAll(want); err != nil {
			t.Fatal(err)
		}
		got := allRecords(&scanner{text: b.String(), sep: byte(sep), line: 1, width: width})
		if crlf { // encoding/csv turns the line ends inside cells too
			for _, rec := range got {
				for i := range rec {
					rec[i] = strings.ReplaceAll(rec[i], "\r\n", "\n")
				}
			}
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("%q\ngot  %q\nwant %q", b.String(), got, want)
		}
	})
}
