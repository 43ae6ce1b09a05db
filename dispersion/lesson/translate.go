package lesson

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// A translator turns the cells of one column into what they would be if the
// file were written the plain way: a decimal point, a sign, an ISO time. A cell
// that it can't read comes back as it is, with what is wrong.
type translator func(cell string) (plain, fault string)

// translator returns how the cells of a mapped column are turned, nil where
// they stay as they are.
func (f Field) translator(missing []string) translator {
	m, _ := f.measure()
	read := func(cell string) (string, string) { return cell, "" }
	switch {
	case f.Format != "":
		if times, err := timeFormat(f.Format); err == nil { // check has seen to it
			read = times.translate
		}
	case f.Type == "string" && len(missing) == 0:
		return nil
	case f.Type == "string":
	case m.kind == numberMeasure || f.Type == "number" || f.Type == "integer" || f.DecimalChar+f.GroupChar != "" || f.UnitInCells:
		read = f.number
	case len(missing) == 0:
		return nil
	}
	return func(cell string) (string, string) {
		if cell == "" || slices.Contains(missing, cell) {
			return "", ""
		}
		return read(cell)
	}
}

// number translates a number with its marks.
func (f Field) number(cell string) (plain, fault string) {
	text := strings.Replace(cell, "−", "-", 1)
	side := 0
	if len(f.Right) > 0 {
		text, side = f.cutSide(text)
	}
	if f.UnitInCells {
		text = f.cutUnit(text)
		if len(f.Right) > 0 && side == 0 { // "R 4 yd", "4 R yd"
			text, side = f.cutSide(text)
		}
	}
	text, fault = f.plainNumber(text, cell)
	if fault != "" {
		return cell, fault
	}
	zero := strings.Trim(text, "+-0.") == ""
	switch {
	case len(f.Right) == 0 && !f.PositiveLeft:
		return text, ""
	case zero:
		return strings.TrimLeft(text, "+-"), ""
	case f.PositiveLeft:
		return negate(text), ""
	case side == 0:
		return cell, fmt.Sprintf("%q says neither right nor left: the mapping has %s for right and %s for left", clip(cell), quoteAll(f.Right), quoteAll(f.Left))
	case strings.HasPrefix(text, "-"):
		return cell, fmt.Sprintf("%q has a sign and a word for the side: only one of them can be meant", clip(cell))
	case side < 0:
		return negate(text), ""
	}
	return text, ""
}

// cutSide takes the word for right (1) or left (-1) off a cell, the longest
// that fits.
func (f Field) cutSide(text string) (rest string, side int) {
	type mark struct {
		word string
		side int
	}
	var marks []mark
	for _, w := range f.Right {
		marks = append(marks, mark{foldWord(w), 1})
	}
	for _, w := range f.Left {
		marks = append(marks, mark{foldWord(w), -1})
	}
	slices.SortFunc(marks, func(a, b mark) int { return cmp.Compare(len(b.word), len(a.word)) })
	lower := foldWord(text)
	for _, m := range marks {
		if rest, ok := strings.CutSuffix(lower, m.word); ok {
			return strings.TrimSpace(rest), m.side
		}
		if rest, ok := strings.CutPrefix(lower, m.word); ok {
			return strings.TrimSpace(rest), m.side
		}
	}
	return text, 0
}

// cutUnit takes the field's unit off the end of a cell. Another unit stays, so
// that metres are never read as yards.
func (f Field) cutUnit(text string) string {
	for _, end := range []int{strings.LastIndexAny(text, "0123456789.,") + 1, strings.LastIndexByte(text, ' ') + 1} { // 4 yd, and 4 R yd
		if unit := strings.TrimSpace(text[end:]); unit != "" && f.Unit != "" && readUnit(unit) == f.Unit {
			return strings.TrimSpace(text[:end])
		}
	}
	return text
}

// plainNumber takes the thousands separators out and makes the decimal mark a
// point. cell is for the message.
func (f Field) plainNumber(text, cell string) (plain, fault string) {
	whole, fraction, hasFraction := strings.Cut(text, f.decimal())
	if f.GroupChar != "" && strings.Contains(whole, f.GroupChar) {
		groups := strings.Split(strings.TrimLeft(whole, "+-"), f.GroupChar)
		for i, g := range groups {
			if len(g) != 3 && (i > 0 || len(g) == 0 || len(g) > 3) {
				return "", fmt.Sprintf("%q has %q where no thousands end: correct the cell, or groupChar in the mapping", clip(cell), f.GroupChar)
			}
		}
		whole = strings.ReplaceAll(whole, f.GroupChar, "")
	}
	plain = whole
	if hasFraction {
		plain += "." + fraction
	}
	if !strings.Contains(whole, ".") && isDecimal(plain) {
		return plain, ""
	}
	if _, fault = parseNumber(cell, false); fault == "" || strings.Contains(cell, ",") {
		fault = fmt.Sprintf("%q is not a number with %q before its decimals: correct the cell, or decimalChar and groupChar in the mapping", clip(cell), f.decimal())
	}
	return "", fault
}

func negate(text string) string {
	if rest, ok := strings.CutPrefix(text, "-"); ok {
		return rest
	}
	return "-" + strings.TrimPrefix(text, "+")
}

func quoteAll(words []string) string { return strings.Join(quoted(words), " or ") }

func quoted(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = fmt.Sprintf("%q", clip(w))
	}
	return out
}
