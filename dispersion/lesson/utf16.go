package lesson

import (
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// utf16Order tells whether a text is in UTF-16, and whether with the high byte
// first. It is told from the mark at the start, or, where there is none,
// from the zero bytes between the first letters: a header has a letter, a digit
// or a separator of ASCII at its start, in any language.
func utf16Order(raw string) (is, bigEndian bool) {
	switch {
	case strings.HasPrefix(raw, "\xFF\xFE"):
		return true, false
	case strings.HasPrefix(raw, "\xFE\xFF"):
		return true, true
	case len(raw) < 4 || len(raw)%2 != 0:
		return false, false
	case raw[0] != 0 && raw[1] == 0 && raw[2] != 0 && raw[3] == 0:
		return true, false
	case raw[0] == 0 && raw[1] != 0 && raw[2] == 0 && raw[3] != 0:
		return true, true
	}
	return false, false
}

// decodeUTF16 returns the text in UTF-8 without its byte order mark, and the
// first line with half a character, 0 for none.
func decodeUTF16(raw string, bigEndian bool) (text string, damaged int) {
	var b strings.Builder
	b.Grow(len(raw) / 2)
	line := 1
	unit := func(i int) rune {
		if i+1 >= len(raw) {
			return utf8.RuneError
		}
		if bigEndian {
			return rune(raw[i])<<8 | rune(raw[i+1])
		}
		return rune(raw[i+1])<<8 | rune(raw[i])
	}
	for i := 0; i < len(raw); i += 2 {
		r := unit(i)
		if utf16.IsSurrogate(r) {
			if pair := utf16.DecodeRune(r, unit(i+2)); pair != utf8.RuneError {
				r = pair
				i += 2
			} else {
				r = utf8.RuneError
			}
		}
		switch {
		case r == '\uFEFF' && i == 0:
			continue
		case r == utf8.RuneError && damaged == 0:
			damaged = line
		case r == '\n' || r == '\r' && unit(i+2) != '\n':
			line++
		}
		b.WriteRune(r)
	}
	return b.String(), damaged
}
