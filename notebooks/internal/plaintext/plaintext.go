// Package plaintext makes text from a file safe to look at: what cannot be
// seen becomes visible, and what is too long is cut, saying by how much.
package plaintext

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Visible returns s with every character that a reader could not see, or that
// changes how its neighbours are shown, written as an escape such as \x1b or
// \u202e. Line feeds and tabs stay; a carriage return before a line feed goes;
// bytes that are not UTF-8 become U+FFFD.
//
// The result is text, not HTML: it still has to be escaped for where it goes.
func Visible(s string) string {
	s = strings.ToValidUTF8(s, "\uFFFD")
	s = strings.ReplaceAll(s, "\r\n", "\n")
	if strings.IndexFunc(s, hidden) < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case !hidden(r):
			b.WriteRune(r)
		case r < 0x100:
			fmt.Fprintf(&b, `\x%02x`, r)
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	return b.String()
}

// hidden reports whether r must be written as an escape: control characters,
// the line and paragraph separators, and the marks that turn the direction of
// the text around them. Joiners stay, since some scripts need them.
func hidden(r rune) bool {
	switch {
	case r == '\n' || r == '\t':
		return false
	case unicode.IsControl(r):
		return true
	}
	return r == '\u2028' || r == '\u2029' || r == '\uFEFF' ||
		'\u202A' <= r && r <= '\u202E' || '\u2066' <= r && r <= '\u2069'
}

// OneLine is [Visible] for a place with room for a single line: every run of
// white space becomes one space.
func OneLine(s string) string {
	return Visible(strings.Join(strings.Fields(s), " "))
}

// Cut returns s when it has at most limit characters, and otherwise its first
// limit characters followed by how many were left out.
func Cut(s string, limit int) string {
	if len(s) <= limit {
		return s // never more characters than bytes
	}
	end := 0
	for range limit {
		_, size := utf8.DecodeRuneInString(s[end:])
		if end += size; end == len(s) {
			return s
		}
	}
	return fmt.Sprintf("%s… (characters left out: %d)", s[:end], utf8.RuneCountInString(s[end:]))
}
