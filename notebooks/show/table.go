package show

import (
	"errors"
	"html"
	"strconv"
	"strings"
	"unicode/utf8"
)

// TableData is a table to be shown. A row shorter than the longest is filled
// up with empty cells.
type TableData struct {
	Caption string     // what the table tells, and the unit where all columns share it
	Header  []string   // names of the columns; nil for none
	Rows    [][]string // the first cell names its row
}

// longestCell is the number of characters shown of one cell.
const longestCell = 200

// Table shows t. A column whose cells are all numbers is aligned to the right.
// A table without any column ends the cell.
func Table(t TableData) {
	t = tidy(t)
	if len(t.Header) == 0 {
		stop(errors.New("show.Table: the table has no columns; give it a Header or Rows"))
	}
	right := t.right()
	send(bundle{html: tableHTML(t, right), text: tableText(t, right)})
}

// HTML returns what Table shows of t to a browser, for a page that is written
// without a kernel.
func (t TableData) HTML() string {
	t = tidy(t)
	return tableHTML(t, t.right())
}

// right says which columns of a tidy table are aligned to the right.
func (t TableData) right() []bool {
	right := make([]bool, len(t.Header))
	for i := range right {
		right[i] = numericColumn(t.Rows, i)
	}
	return right
}

// tidy returns a copy of t with visible, short cells and all rows equally long.
func tidy(t TableData) TableData {
	columns := len(t.Header)
	for _, row := range t.Rows {
		columns = max(columns, len(row))
	}
	fill := func(cells []string) []string {
		out := make([]string, columns)
		for i, c := range cells {
			out[i] = clean(c, longestCell)
		}
		return out
	}
	out := TableData{Caption: clean(t.Caption, longest), Header: fill(t.Header)}
	for _, row := range t.Rows {
		out.Rows = append(out.Rows, fill(row))
	}
	return out
}

// numericColumn reports whether column i holds numbers only, with at least one
// of them. An empty cell or a dash stands for a number that is missing.
func numericColumn(rows [][]string, i int) bool {
	found := false
	for _, row := range rows {
		switch row[i] {
		case "", "-", "–", "—":
			continue
		}
		if !number(row[i]) {
			return false
		}
		found = true
	}
	return found
}

// number reports whether s is a number as people write it in a table: with a
// sign of either kind, a percent sign, or a bound as in "< 0.001".
func number(s string) bool {
	s = strings.TrimSpace(strings.TrimLeft(s, "<>≤≥≈±"))
	s = strings.TrimSpace(strings.TrimSuffix(s, "%"))
	s = strings.TrimPrefix(strings.ReplaceAll(s, ",", ""), "\u2212") // the minus sign
	if strings.Trim(s, "+-.0123456789eE") != "" {
		return false // ParseFloat takes "inf", "nan" and hexadecimal too
	}
	_, err := strconv.ParseFloat(s, 64)
	return err == nil
}

func tableHTML(t TableData, right []bool) string {
	var b strings.Builder
	cell := func(tag, scope, text string, i int) {
		b.WriteString("<" + tag)
		if scope != "" {
			b.WriteString(` scope="` + scope + `"`)
		}
		// Said for both sides, since notebook programs differ in their default.
		if right[i] {
			b.WriteString(` style="text-align:right"`)
		} else {
			b.WriteString(` style="text-align:left"`)
		}
		b.WriteString(">" + html.EscapeString(text) + "</" + tag + ">")
	}
	b.WriteString("<table>\n")
	if t.Caption != "" {
		b.WriteString("<caption>" + html.EscapeString(t.Caption) + "</caption>\n")
	}
	b.WriteString("<thead><tr>")
	for i, h := range t.Header {
		cell("th", "col", h, i)
	}
	b.WriteString("</tr></thead>\n<tbody>\n")
	for _, row := range t.Rows {
		b.WriteString("<tr>")
		for i, c := range row {
			if i == 0 {
				cell("th", "row", c, i)
			} else {
				cell("td", "", c, i)
			}
		}
		b.WriteString("</tr>\n")
	}
	b.WriteString("</tbody>\n</table>")
	return b.String()
}

// tableText lines the columns up with spaces, two between columns, under the
// caption and a row of dashes under the header.
func tableText(t TableData, right []bool) string {
	width := make([]int, len(t.Header))
	for _, row := range append([][]string{t.Header}, t.Rows...) {
		for i, c := range row {
			width[i] = max(width[i], utf8.RuneCountInString(c))
		}
	}
	line := func(cells []string) string {
		var b strings.Builder
		for i, c := range cells {
			if i > 0 {
				b.WriteString("  ")
			}
			pad := strings.Repeat(" ", width[i]-utf8.RuneCountInString(c))
			if right[i] {
				b.WriteString(pad + c)
			} else {
				b.WriteString(c + pad)
			}
		}
		return strings.TrimRight(b.String(), " ")
	}
	var lines []string
	if t.Caption != "" {
		lines = append(lines, t.Caption, "")
	}
	dashes := make([]string, len(width))
	for i, w := range width {
		dashes[i] = strings.Repeat("-", w)
	}
	lines = append(lines, line(t.Header), line(dashes))
	for _, row := range t.Rows {
		lines = append(lines, line(row))
	}
	return strings.Join(lines, "\n")
}
