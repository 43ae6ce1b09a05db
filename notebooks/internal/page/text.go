package page

import (
	"fmt"
	"html"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/landfall-golf/landfall/notebooks/internal/plaintext"
)

// longestLine is the number of characters up to which a line of aligned
// columns is kept whole, to be scrolled. A longer one belongs to no table.
const longestLine = 160

// columns matches what aligns columns: more than one space, or a tab.
var columns = regexp.MustCompile(`\S {2,}\S|\t`)

// terminal matches the codes that colour text in a terminal or set its title.
var terminal = regexp.MustCompile(`\x1b\[[0-?]*[ -/]*[@-~]|\x1b\][^\x07\x1b]*(?:\x07|\x1b\\)`)

// text writes s as a block of text.
func (p *pageWriter) text(s, label string) { p.body.WriteString(textBlock(s, label)) }

// textBlock returns s as a block of text. Aligned columns would fall apart if
// wrapped; everything else is easier to read so.
func textBlock(s, label string) string {
	start := s[:min(len(s), longestText)]
	class := "wrap"
	if columns.MatchString(start) {
		class = ""
	}
	for line := range strings.Lines(start) {
		if utf8.RuneCountInString(line) > longestLine {
			class = "wrap"
			break
		}
	}
	return pre(textMarkup(s), label, class)
}

// textMarkup returns s as markup that shows it as it is.
func textMarkup(s string) string {
	s = plaintext.Cut(strings.TrimRight(s, "\n"), longestText) // first: the rest takes its time
	return html.EscapeString(plaintext.Visible(terminal.ReplaceAllString(s, "")))
}

// pre returns markup as a block whose spaces and lines stay, that can be
// scrolled with the keyboard and has a name to be announced by.
func pre(markup, label, class string) string {
	if class != "" {
		class = fmt.Sprintf(" class=\"%s\"", class)
	}
	// The line feed after the tag is not content: without it the first line
	// of the content would be lost if it were empty.
	return fmt.Sprintf("<pre%s tabindex=\"0\" role=\"group\" aria-label=\"%s\">\n%s</pre>\n", class, label, markup)
}
