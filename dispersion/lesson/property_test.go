package lesson

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// goodRow draws a readable row of the columns stage, club, carry_yd, side_yd.
func goodRow(t *rapid.T) []string {
	return []string{
		rapid.SampledFrom([]string{"old", "new", "swish", "Old", "a, b"}).Draw(t, "stage"),
		rapid.SampledFrom([]string{"7i", "pw", ""}).Draw(t, "club"),
		strconv.FormatFloat(rapid.Float64Range(0, 300).Draw(t, "carry"), 'g', -1, 64),
		strconv.FormatFloat(rapid.Float64Range(-80, 80).Draw(t, "side"), 'g', -1, 64),
	}
}

func join(rows [][]string) string {
	var b strings.Builder
	for _, row := range rows {
		for i, cell := range row {
			if i > 0 {
				b.WriteByte(',')
			}
			if strings.Contains(cell, ",") {
				cell = `"` + cell + `"`
			}
			b.WriteString(cell)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

var plainHeader = []string{"stage", "club", "carry_yd", "side_yd"}

// Numbers come back bit by bit, in the order of the file.
func TestReadGivesBackWhatWasWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 20).Draw(t, "n")
		rows := [][]string{plainHeader}
		for range n {
			rows = append(rows, goodRow(t))
		}
		l, err := Read(strings.NewReader(join(rows)), ReadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if len(l.Shots) != n {
			t.Fatalf("%d shots of %d; rejected %v", len(l.Shots), n, l.Rejected)
		}
		for i, s := range l.Shots {
			row := rows[i+1]
			carry, _ := strconv.ParseFloat(row[2], 64)
			side, _ := strconv.ParseFloat(row[3], 64)
			if s.Carry != carry || s.Side != side || s.Line != i+2 || s.Ball != i+1 || s.Club != row[1] || !strings.EqualFold(s.Stage, row[0]) {
				t.Fatalf("row %q became %+v", row, s)
			}
		}
	})
}

// The order of the columns changes nothing.
func TestReadAnyColumnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := [][]string{plainHeader}
		for range rapid.IntRange(1, 8).Draw(t, "n") {
			rows = append(rows, goodRow(t))
		}
		order := rapid.Permutation([]int{0, 1, 2, 3}).Draw(t, "order")
		var turned [][]string
		for _, row := range rows {
			turned = append(turned, []string{row[order[0]], row[order[1]], row[order[2]], row[order[3]]})
		}
		if a, b := describe(t, join(rows)), describe(t, join(turned)); a != b {
			t.Fatalf("%s\nturned\n%s", a, b)
		}
	})
}

// A bad row anywhere takes no good row with it and moves no value.
func TestReadBadRowHarmsNoOther(t *testing.T) {
	bad := []string{"x", ",,,", ",,x,1", "old,7i,-1,0", `"old,7i,150,1`, `old,"7i,150,1`, `old,7i,150,"1`, "old,7i,150,1,5", `"old"x,7i,150,1`, `old,7i,150,"1,`}
	rapid.Check(t, func(t *rapid.T) {
		var rows []string
		for range rapid.IntRange(1, 8).Draw(t, "n") {
			rows = append(rows, strings.TrimSuffix(join([][]string{goodRow(t)}), "\n"))
		}
		at := rapid.IntRange(0, len(rows)).Draw(t, "at")
		row := rapid.SampledFrom(bad).Draw(t, "bad")
		read := func(rows []string) *Lesson {
			l, err := Read(strings.NewReader(strings.Join(plainHeader, ",")+"\n"+strings.Join(rows, "\n")), ReadOptions{})
			if err != nil {
				t.Fatal(err)
			}
			return l
		}
		without, with := read(rows), read(slices.Insert(slices.Clone(rows), at, row))
		if len(with.Rejected) != 1 || with.Rejected[0].Line != at+2 {
			t.Fatalf("rejected %v, want line %d", with.Rejected, at+2)
		}
		if len(with.Shots) != len(without.Shots) {
			t.Fatalf("%d shots, without the bad row %d", len(with.Shots), len(without.Shots))
		}
		for i, s := range with.Shots {
			if s.Point() != without.Shots[i].Point() || s.Club != without.Shots[i].Club {
				t.Fatalf("shot %d changed: %+v", i, s)
			}
		}
	})
}

func describe(t *rapid.T, file string) string {
	l, err := Read(strings.NewReader(file), ReadOptions{})
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, s := range l.Shots {
		fmt.Fprintln(&b, s.Line, s.Ball, s.Stage, s.Intent, s.Club, s.Carry, s.Side)
	}
	fmt.Fprintln(&b, l.Stages, l.Unit, l.Columns)
	return b.String()
}
