package lesson

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// A numberShape is how the numbers of a column are written.
type numberShape struct {
	numeric     bool
	numbers     []string // without the words beside them
	unit        string   // beside the numbers
	right, left []string // words beside the numbers
	oneSided    bool     // only one of the two words occurs
	missing     []string // texts that seem to stand for nothing

	decimal, group string
	unclear        string // a number that can be read in two ways; "" for none
}

// sidePairs are words for right and left, as they stand beside numbers.
var sidePairs = [][2]string{
	{"r", "l"}, {"right", "left"}, {"rechts", "links"}, {"re", "li"}, {"droite", "gauche"}, {"d", "g"}, {"derecha", "izquierda"}, {"d", "i"},
	{"der", "izq"}, {"destra", "sinistra"}, {"dx", "sx"}, {"d", "s"}, {"höger", "vänster"}, {"h", "v"}, {"direita", "esquerda"}, {"d", "e"},
}

// absent are texts that devices and people write for nothing.
var absent = wordSet("- -- --- – — n/a na nan null none nil no_read x ? . … miss missing error")

// shapeOf looks at the values of a column. It is numeric where nearly all values
// are numbers, with the same few words beside them or none.
func shapeOf(values []string) numberShape {
	var s numberShape
	var words []string
	others := 0
	for _, v := range values {
		number, beside, ok := splitNumber(v)
		switch {
		case ok:
			s.numbers = append(s.numbers, number)
			for _, w := range beside {
				if !slices.Contains(words, w) {
					words = append(words, w)
				}
			}
		case absent[strings.ReplaceAll(fold(v), " ", "_")]:
			if !slices.Contains(s.missing, v) {
				s.missing = append(s.missing, v)
			}
		default:
			others++
		}
		if len(words) > 6 {
			return numberShape{}
		}
	}
	if len(s.numbers) == 0 || 10*others > len(values) {
		return numberShape{}
	}
	var sides []string
	for _, w := range words {
		switch u := readUnit(w); {
		case isSideWord(w): // before the unit: s and h can be both
			sides = append(sides, w)
		case u != "" && (s.unit == "" || s.unit == u):
			s.unit = u
		default:
			return numberShape{}
		}
	}
	if len(sides) > 0 && !s.takeSides(sides) {
		return numberShape{}
	}
	s.numeric = true
	return s
}

func isSideWord(word string) bool {
	return slices.ContainsFunc(sidePairs, func(p [2]string) bool { return p[0] == word || p[1] == word })
}

// takeSides finds the pairs that explain the words: one pair, or an abbreviated
// and a full one.
func (s *numberShape) takeSides(words []string) bool {
	if len(words) == 1 && readUnit(words[0]) != "" && s.unit == "" { // "s" alone is seconds
		s.unit = readUnit(words[0])
		return true
	}
	found := 0
	for _, p := range sidePairs {
		both := slices.Contains(words, p[0]) && slices.Contains(words, p[1])
		if both {
			s.right, s.left = append(s.right, p[0]), append(s.left, p[1])
			found += 2
		}
	}
	if found == len(words) {
		return true
	}
	for _, p := range sidePairs {
		if len(words) == 1 && (p[0] == words[0] || p[1] == words[0]) {
			s.right, s.left, s.oneSided = []string{p[0]}, []string{p[1]}, true
			return true
		}
	}
	return false
}

// splitNumber takes the words before and after a number off, in lower case.
func splitNumber(text string) (number string, beside []string, ok bool) {
	text = strings.Replace(text, "−", "-", 1)
	from := strings.IndexFunc(text, func(r rune) bool { return unicode.IsDigit(r) || strings.ContainsRune("+-.,", r) })
	to := strings.LastIndexAny(text, "0123456789.,")
	if from < 0 || to < from || len(text) > 60 {
		return "", nil, false
	}
	number = strings.TrimSpace(text[from : to+1])
	digits := false
	for i, r := range number {
		switch {
		case r >= '0' && r <= '9':
			digits = true
		case strings.ContainsRune(".,'’ \u00A0\u202F", r), i == 0 && strings.ContainsRune("+-", r):
		default:
			return "", nil, false
		}
	}
	beside = strings.Fields(strings.ToLower(text[:from] + " " + text[to+1:]))
	return number, beside, digits && len(beside) <= 2
}

// settleNumbers decides which marks stand before the decimals and between the
// thousands. A number with both, or with a comma that can't end thousands, is
// clear; one like 6,500 is read as the clear ones of the file are, and in doubt
// where there are none.
func settleNumbers(columns []*lookedAt, sep byte) {
	clear := map[string]bool{}
	for _, c := range columns {
		c.shape = shapeOf(c.values)
		for _, number := range c.shape.numbers {
			if d := clearDecimal(number); d != "" {
				clear[d] = true
			}
		}
	}
	for _, c := range columns {
		s := &c.shape
		if !s.numeric {
			continue
		}
		own := map[string]bool{}
		for _, number := range s.numbers {
			if d := clearDecimal(number); d != "" {
				own[d] = true
			}
			if g := groupMark(number); g != "" {
				s.group = g
			}
		}
		switch {
		case len(own) == 2:
			c.doubt("some numbers have a decimal comma and others a decimal point")
			s.decimal = "."
		case len(own) == 1:
			s.decimal = onlyKey(own)
		case len(clear) == 1:
			s.decimal = onlyKey(clear)
		}
		for _, number := range s.numbers {
			mark := lastMark(number)
			switch {
			case mark == "" || clearDecimal(number) != "" || mark == s.decimal && s.decimal == ".":
			case s.decimal == "":
				// 1,234,567 has told what ends thousands. A point in a file that commas
				// separate is no such doubt: its writer has no decimal comma.
				if s.unclear == "" && s.group != mark && (mark == "," || sep != ',') {
					s.unclear = number
				}
			case mark != s.decimal:
				s.group = mark
			}
		}
		switch {
		case s.decimal == "" && s.group == ".":
			s.decimal = ","
		case s.decimal == "":
			s.decimal = "."
		}
		if s.group == s.decimal {
			s.group = ""
		}
		if s.unclear != "" { // nothing in the file tells
			if sep == ',' { // it had to be quoted, as thousands are
				s.group = ","
			} else {
				s.decimal = lastMark(s.unclear)
			}
		}
	}
}

func onlyKey(m map[string]bool) string {
	for k := range m {
		return k
	}
	return ""
}

// lastMark returns the last comma or point of a number.
func lastMark(number string) string {
	if i := strings.LastIndexAny(number, ",."); i >= 0 {
		return number[i : i+1]
	}
	return ""
}

// clearDecimal returns the decimal mark of a number that can be read in one way
// only, "" for one that can't or has none.
func clearDecimal(number string) string {
	mark := lastMark(number)
	if mark == "" || strings.Count(number, mark) > 1 {
		return ""
	}
	i := strings.LastIndex(number, mark)
	whole := strings.TrimLeft(number[:i], "+-")
	other := map[string]string{",": ".", ".": ","}[mark]
	thousands := len(number)-i-1 == 3 && len(whole) >= 1 && len(whole) <= 3 && whole[0] != '0'
	if thousands && !strings.Contains(whole, other) {
		return ""
	}
	return mark
}

// groupMark returns the mark between thousands that can be nothing else.
func groupMark(number string) string {
	for _, g := range groupChars {
		switch n := strings.Count(number, g); {
		case n == 0:
		case g != "," && g != ".", n > 1, lastMark(number) != g:
			return g
		}
	}
	return ""
}

// value reads a number of the column, false where it can't be read so.
func (s numberShape) value(number string) (float64, bool) {
	f := Field{DecimalChar: s.decimal, GroupChar: s.group}
	plain, fault := f.plainNumber(number, number)
	if fault != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(plain, 64)
	return v, err == nil
}
