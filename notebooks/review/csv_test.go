package review

import (
	"encoding/csv"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/dispersion/compare"
	"github.com/landfall-golf/landfall/dispersion/lesson"
)

// The table has a row for every effect, and no name in it is a formula to a
// spreadsheet.
func TestCSV(t *testing.T) {
	l, err := lesson.Read(strings.NewReader("stage,intent,club,carry_yd,side_yd\n"+
		"=cmd(),baseline,7i,150,1\n=cmd(),baseline,7i,152,2\n=cmd(),baseline,7i,149,-3\n=cmd(),baseline,7i,151,0\n"+
		"＋1,full,7i,160,1\n＋1,full,7i,158,2\n＋1,full,7i,161,-2\n＋1,full,7i,157,1\n"), lesson.ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	r, err := New(l, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	text, err := r.CSV(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 1+len(Names) {
		t.Fatalf("%d rows, want a header and %d effects", len(rows), len(Names))
	}
	for _, row := range rows[1:] {
		if row[3] != "'=cmd()" || row[4] != "'＋1" {
			t.Errorf("before %q, after %q", row[3], row[4])
		}
	}
}
