// Package messy makes lesson files as they come, each with one fault that has a
// name: another language, another way to write a number, a row that is broken.
// They are invented; no program's or device's files were copied.
package messy

import (
	"fmt"
	"strings"
)

// A Shot is one ball of the lesson that all files tell of, in yards.
type Shot struct {
	Time        string // ISO
	Club        string
	BallSpeed   string // mph
	Spin        string // rpm
	Carry, Side float64
	Note        string
}

// Shots are the balls, in the order hit: two clubs, both sides, more than 12 days
// of a month, spins above a thousand.
func Shots() []Shot {
	shots := make([]Shot, 12)
	for i := range shots {
		club, carry, spin := "7i", 148.5, 6400
		if i >= 6 {
			club, carry, spin = "PW", 112.5, 8900
		}
		step := []float64{0, 3.2, -1.8, 2.6, -4.4, 1.1}[i%6]
		side := []float64{3.5, -2.4, 0, -6.2, 4.8, 1.6}[i%6]
		shots[i] = Shot{
			Time: fmt.Sprintf("2024-05-%02dT10:%02d:00", 13+i, 15+i), Club: club,
			BallSpeed: fmt.Sprintf("%.1f", 110+step), Spin: fmt.Sprint(spin + 10*i),
			Carry: round(carry + step), Side: side, Note: fmt.Sprintf("ball %d", i+1),
		}
	}
	return shots
}

func round(v float64) float64 { return float64(int(v*10+.5)) / 10 }

// A sheet is a table before it is written to a file.
type sheet struct {
	above  []string // lines above the header
	header []string
	below  []string // a row of units; nil for none
	rows   [][]string
	sep    string
	end    string // of lines
}

// plain is the table without a fault. Its columns are found by their place:
// time, club, ball speed, spin, carry, side, note.
func plain() *sheet {
	s := &sheet{header: []string{"time", "club", "ball_speed_mph", "spin_rpm", "carry_yd", "side_yd", "note"}, sep: ",", end: "\n"}
	for _, b := range Shots() {
		s.rows = append(s.rows, []string{b.Time, b.Club, b.BallSpeed, b.Spin, number(b.Carry), number(b.Side), b.Note})
	}
	return s
}

const (
	timeAt = iota
	clubAt
	speedAt
	spinAt
	carryAt
	sideAt
	noteAt
)

func number(v float64) string { return fmt.Sprintf("%.1f", v) }

// text joins the sheet, quoting where a cell needs it.
func (s *sheet) text() string {
	var b strings.Builder
	for _, line := range s.above {
		b.WriteString(line + s.end)
	}
	write := func(row []string) {
		for i, cell := range row {
			if i > 0 {
				b.WriteString(s.sep)
			}
			if strings.Contains(cell, s.sep) || strings.ContainsAny(cell, "\"\r\n") && !strings.HasPrefix(cell, "\x00raw") {
				cell = `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
			}
			b.WriteString(strings.TrimPrefix(cell, "\x00raw"))
		}
		b.WriteString(s.end)
	}
	write(s.header)
	if s.below != nil {
		write(s.below)
	}
	for _, row := range s.rows {
		write(row)
	}
	return b.String()
}

// raw is a cell that is written without quotes, whatever it holds.
func raw(cell string) string { return "\x00raw" + cell }

// head gives the columns other names, those of the plain sheet where "".
func (s *sheet) head(names ...string) *sheet {
	for i, name := range names {
		if name != "" {
			s.header[i] = name
		}
	}
	return s
}

// each changes the cells of a column.
func (s *sheet) each(at int, change func(string) string) *sheet {
	for _, row := range s.rows {
		row[at] = change(row[at])
	}
	return s
}

// set changes one cell; the ball is counted from 1.
func (s *sheet) set(ball, at int, cell string) *sheet {
	s.rows[ball-1][at] = cell
	return s
}

// by separates fields by something else.
func (s *sheet) by(sep string) *sheet {
	s.sep = sep
	return s
}
