package review

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/landfall-golf/landfall/notebooks/internal/plaintext"
)

// plain is an error as a reader sees it, without the names of packages.
func plain(err error) string {
	s := err.Error()
	for _, p := range []string{"dispersion: ", "compare: ", "lesson: ", "strokes: ", "flight: ", "review: "} {
		s = strings.TrimPrefix(s, p)
	}
	return s
}

// Label is a name from a file as a page can show it: short, on one line, and
// with everything in it to be seen. The numbers for programs keep it whole.
func Label(name string) string { return plaintext.Cut(plaintext.OneLine(name), 60) }

func quoted(name string) string { return "“" + Label(name) + "”" }

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func wasWere(n int) string {
	if n == 1 {
		return "was"
	}
	return "were"
}

func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

func upperFirst(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[size:]
}

func lowerFirst(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[size:]
}
