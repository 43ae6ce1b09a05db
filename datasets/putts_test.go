package datasets

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"testing"
)

// Source: the tables of D. A. Berry 1996 and M. Broadie 2018 as published beside
// the Stan case study on golf putting, added up by another program.
func TestPuttTotals(t *testing.T) {
	for name, c := range map[string]struct {
		file               func() []byte
		rows, tried, holed int
	}{
		"1996": {Putts1996File, 19, 5988, 3390},
		"2018": {Putts2018File, 31, 1253196, 766741},
	} {
		rows, err := csv.NewReader(bytes.NewReader(c.file())).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		tried, holed := 0, 0
		for _, row := range rows[1:] {
			n, err1 := strconv.Atoi(row[1])
			y, err2 := strconv.Atoi(row[2])
			if err1 != nil || err2 != nil {
				t.Fatalf("%s: row %v", name, row)
			}
			tried, holed = tried+n, holed+y
		}
		if len(rows)-1 != c.rows || tried != c.tried || holed != c.holed {
			t.Errorf("%s: %d rows, %d holed of %d", name, len(rows)-1, holed, tried)
		}
	}
}

// What a caller does to a file stays with the caller.
func TestFilesAreCopies(t *testing.T) {
	for name, file := range map[string]func() []byte{"lesson": DemoFile, "baseline": DemoBaselineFile, "1996": Putts1996File, "2018": Putts2018File} {
		first := file()[0]
		file()[0] = first + 1
		if file()[0] != first {
			t.Errorf("%s: a caller changed it", name)
		}
	}
}
