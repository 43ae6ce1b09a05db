package page

import (
	"fmt"
	"html"
	"io"

	"github.com/landfall-golf/landfall/notebooks/internal/plaintext"
)

// longestTitle is the number of characters shown of a title, in the heading
// and in the contents.
const longestTitle = 200

// An outline keeps the headings in order: one title, and no level skipped on
// the way down, whatever the cells say. Readers who listen move by headings.
type outline struct {
	title    string
	last     int // level of the heading before; 0: none yet
	sections []string
}

// place returns the level at which a heading belongs, 1 for the title, and its
// id, "" for headings that are not in the contents. Only the first heading of
// the page can be the title, and only if it is the author's own.
func (o *outline) place(level int, text string, author bool) (int, string) {
	text = plaintext.OneLine(plaintext.Cut(text, longestTitle))
	if level == 1 && o.last == 0 && author && text != "" {
		o.title, o.last = text, 1
		return 1, ""
	}
	o.last = min(max(level, 2), max(o.last, 1)+1)
	if o.last > 2 || !author || text == "" {
		return o.last, ""
	}
	o.sections = append(o.sections, text)
	return o.last, sectionID(len(o.sections))
}

func sectionID(n int) string { return fmt.Sprintf("section-%d", n) }

// contents writes links to the sections, if there are enough to get lost in.
func (o *outline) contents(w io.Writer) {
	if len(o.sections) < 3 {
		return
	}
	fmt.Fprint(w, "<nav aria-label=\"Contents\">\n<ol>\n")
	for i, s := range o.sections {
		fmt.Fprintf(w, "<li><a href=\"#%s\">%s</a></li>\n", sectionID(i+1), html.EscapeString(s))
	}
	fmt.Fprint(w, "</ol>\n</nav>\n")
}
