package lesson

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// longPart is how many bytes a part of a name must have to be looked for within
// words too, as in "Annas"; a shorter one is as like as not a piece of some
// other word.
const longPart = 4

// A pupilName is a name that must not be left in a text.
type pupilName struct {
	parts []string // its words, without accents, in lower case
	whole string   // the same in one
}

func newPupilName(name string) pupilName {
	parts := nameWords(name)
	return pupilName{parts, strings.Join(parts, "")}
}

// nameWords splits a text into words at whatever is neither letter nor digit,
// in lower case and without accents, be they part of a letter or after it.
func nameWords(text string) []string {
	text = strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return r
	}, fold(text))
	return strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// in tells whether a text holds the name or a part of it: the whole name however
// it is spaced, a part as a word with or without an s, a long part anywhere.
func (n pupilName) in(text string) bool {
	words := nameWords(text)
	if len(n.whole) >= longPart && strings.Contains(strings.Join(words, ""), n.whole) {
		return true
	}
	return slices.ContainsFunc(n.parts, func(part string) bool {
		return slices.ContainsFunc(words, func(word string) bool {
			return word == part || word == part+"s" || len(part) >= longPart && strings.Contains(word, part)
		})
	})
}

// hide returns for each text what is written in its place: the text itself, or,
// where it holds the name, one that no other text has, such as "club 2", so that
// two clubs stay two.
func (n pupilName) hide(kind string, texts []string) map[string]string {
	written, taken := map[string]string{}, map[string]bool{}
	for _, text := range texts {
		taken[strings.ToLower(text)] = true
	}
	for _, text := range texts {
		if _, done := written[text]; done {
			continue
		}
		instead := text
		if n.in(text) {
			for i := 1; taken[instead] || instead == text; i++ {
				instead = fmt.Sprintf("%s %d", kind, i)
			}
			taken[instead] = true
		}
		written[text] = instead
	}
	return written
}
