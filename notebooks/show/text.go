package show

import (
	"html"
	"strings"

	"github.com/landfall-golf/landfall/notebooks/internal/plaintext"
)

// longest is the number of characters shown of one text: several times the
// longest paragraph anybody reads, and little enough to keep a notebook small.
const longest = 2000

// Text shows each argument as a paragraph.
func Text(paragraphs ...string) {
	var markup, text []string
	for _, p := range paragraphs {
		p = clean(p, longest)
		markup = append(markup, "<p>"+html.EscapeString(p)+"</p>")
		text = append(text, p)
	}
	send(bundle{html: strings.Join(markup, "\n"), text: strings.Join(text, "\n\n")})
}

// Sentences shows a list with one item for each sentence.
func Sentences(sentences []string) {
	var markup, text []string
	for _, s := range sentences {
		s = clean(s, longest)
		markup = append(markup, "<li>"+html.EscapeString(s)+"</li>")
		text = append(text, "- "+s)
	}
	send(bundle{
		html: "<ul>\n" + strings.Join(markup, "\n") + "\n</ul>",
		text: strings.Join(text, "\n"),
	})
}

// clean returns s, at most limit characters of it, as a single line.
func clean(s string, limit int) string {
	return plaintext.OneLine(plaintext.Cut(s, limit))
}
