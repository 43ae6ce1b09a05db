package course

import (
	"errors"
	"math"
	"os"
	"strings"
	"testing"
)

const foreignStages = "1-9:as she came/baseline,10-18:room for the arms"

// The numbers stand in the table: anybody can add them up by hand.
func TestReadCorrected(t *testing.T) {
	l, err := ReadCorrected([]byte(foreignTable), "Tamsin", foreignStages, Correction{Column: "Name", Measure: "pupil"}, Correction{Column: "Drehung", Measure: "spin_rpm"})
	if err != nil {
		t.Fatal(err)
	}
	if l.Rows != 19 || len(l.Shots) != 17 || len(l.Rejected) != 2 || l.Unit != "m" || l.Pupil != "Tamsin" {
		t.Errorf("%d rows, %d shots, %d rejected, in %s, of %s", l.Rows, len(l.Shots), len(l.Rejected), l.Unit, l.Pupil)
	}
	groups := l.Groups()
	want := (118.6 + 121.9 + 115.2 + 124.3 + 117.7 + 120.4 + 113.8 + 119.5) / 8
	if got := mean(groups[1].Values("carry")); math.Abs(got-want) > 1e-9 {
		t.Errorf("the clean carries of the second stage average %g, want %g", got, want)
	}
	if spin, ok := l.Shots[0].Value("spin_rpm"); !ok || spin != 5210 {
		t.Errorf("the first ball spins with %g, %v", spin, ok)
	}
	if side := l.Shots[2].Side; side != -1.2 {
		t.Errorf("the third ball is %g to the right, want -1.2", side)
	}
	if _, err := ReadCorrected([]byte(foreignTable), "", foreignStages, Correction{Column: "Weite"}); err == nil {
		t.Error("a column that is not there can be corrected")
	}
}

// The last row of the table is what it says: the averages of the balls above it.
func TestRowOfAverages(t *testing.T) {
	l, err := ReadCorrected([]byte(foreignTable), "Tamsin", foreignStages, Correction{Column: "Name", Measure: "pupil"})
	if err != nil {
		t.Fatal(err)
	}
	carry, side, speed := 0.0, 0.0, 0.0
	for _, s := range l.Shots {
		v, ok := s.Value("ball_speed_kmh")
		if !ok {
			t.Fatalf("ball %d has no speed", s.Line)
		}
		carry, side, speed = carry+s.Carry/17, side+s.Side/17, speed+v/17
	}
	comma := func(v float64) string { return strings.Replace(tenths(v), ".", ",", 1) }
	if want := "Mittel;;;" + comma(carry) + ";;" + comma(speed) + ";;\n"; !strings.HasSuffix(foreignTable, want) {
		t.Errorf("the last row should be %q", want)
	}
	if tenths(side) != "2.2" {
		t.Errorf("the side that is copied into the row averages %g", side)
	}
}

func TestMisreadTable(t *testing.T) {
	table, err := MisreadTable([]byte(foreignTable), foreignStages)
	if err != nil {
		t.Fatal(err)
	}
	right := table.Rows[0]
	if unit := table.Rows[1]; unit[1] != right[1] || unit[2] == right[2] {
		t.Errorf("without units: %v, with them %v", unit, right)
	}
	// By hand: 0.8, 2.0 and, a mishit, 9.5 are to the left.
	if side := table.Rows[2][3]; side != tenths((0.8+3.9+1.5+5.7+2.0+0+4.4+2.9)/8) {
		t.Errorf("without words the side is %s", side)
	}
	if balls := table.Rows[3][4]; balls != "9" {
		t.Errorf("with the averages there are %s balls", balls)
	}
}

func TestGivenAwayNamesNobody(t *testing.T) {
	l, err := ReadCorrected([]byte(foreignTable), "Tamsin", foreignStages, Correction{Column: "Name", Measure: "pupil"})
	if err != nil {
		t.Fatal(err)
	}
	table, says, err := GivenAway(l, []byte(strings.Repeat("k", 32)), 30)
	if err != nil {
		t.Fatal(err)
	}
	if len(table.Rows) != 18 || len(says) == 0 {
		t.Errorf("%d lines, and %q", len(table.Rows), says)
	}
	for _, row := range table.Rows {
		if line := strings.Join(row, " "); strings.Contains(line, "Tamsin") || strings.Contains(line, "Boden") {
			t.Errorf("given away: %s", line)
		}
	}
}

func TestTableSaysWhatIsMissing(t *testing.T) {
	if _, err := Table("nowhere.csv"); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("got %v", err)
	}
}
