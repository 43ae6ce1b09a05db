package page

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"errors"
	"fmt"
	"html"
	"io"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
	"github.com/landfall-golf/landfall/notebooks/internal/plaintext"
)

// Options says what a notebook may not say of itself.
type Options struct {
	// Title is used when the first heading of the notebook is not of level
	// one. Empty: "Untitled notebook".
	Title string

	// Around, if not nil, leads to the pages before and after this one.
	Around *Around

	// Downloads are offered at the end of the page, inside it.
	Downloads []Download
}

// An Around is where a page of several leads: up, back and on. A zero link is
// left out.
type Around struct{ Home, Previous, Next Link }

// A Link leads to a page of the same folder or one above or below it.
type Link struct{ Title, Address string }

func (a *Around) write(b *bytes.Buffer, label string) {
	if a == nil {
		return
	}
	fmt.Fprintf(b, "<nav class=\"around\" aria-label=\"%s\">\n", label)
	for _, l := range []struct {
		Link
		mark string
	}{{a.Previous, "←"}, {a.Home, "↑"}, {a.Next, "→"}} {
		if l.Address != "" {
			fmt.Fprintf(b, "<a href=\"%s\"><span aria-hidden=\"true\">%s </span>%s</a>\n", html.EscapeString(l.Address), l.mark, html.EscapeString(l.Title))
		}
	}
	b.WriteString("</nav>\n")
}

// Plain returns a page with a title and markup of ours, in the same dress.
func Plain(title, markup string) []byte {
	var b bytes.Buffer
	title = html.EscapeString(title)
	head(&b, title)
	fmt.Fprintf(&b, "<main id=\"main\" tabindex=\"-1\">\n%s</main>\n</body>\n</html>\n", markup)
	return b.Bytes()
}

// head writes all of a page up to its title, which is markup.
func head(b *bytes.Buffer, title string) {
	fmt.Fprintf(b, `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="%s">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<meta name="color-scheme" content="light dark">
<link rel="icon" href="data:,">
<title>%s</title>
<style>
%s</style>
</head>
<body>
<a class="skip" href="#main">Skip to the text</a>
<header><h1>%s</h1></header>
`, policy, title, style, title)
}

// A Download is a file that the page carries along.
type Download struct {
	Name string // of the file
	Type string // media type
	Data []byte
}

//go:embed style.css
var style string

// policy allows the style sheet below and pictures inside the page, and
// nothing else: not even a mistake in this package can reach outside.
const policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'"

// Write writes nb to w as a standalone HTML page in English. The first heading
// becomes the title if it is of level one.
//
// Where a cell is tagged "front", the page opens with what the cells with that
// tag show, and nothing else: the rest is folded in below it, and printed only
// where it was unfolded. A table that comes right after a figure says the same
// as the figure, and is folded in too. So is all code but that of cells tagged
// "open".
//
// What cells tagged "key" show, the answer to a riddle above, is out of sight
// below it, and on a sheet of its own in print.
//
// The page depends on nb and o alone: the same notebook gives the same bytes.
// Write does not modify nb. Errors: a nil notebook, and those of w.
func Write(w io.Writer, nb *nbformat.Notebook, o Options) error {
	if nb == nil {
		return errors.New("page: there is no notebook to write")
	}
	p := pageWriter{language: language(nb)}
	front := false
	for _, cell := range nb.Cells {
		front = front || cell.HasTag(frontTag)
	}
	for _, cell := range nb.Cells {
		p.onFront = cell.HasTag(frontTag)
		p.cell(cell)
	}
	if p.outline.title == "" {
		p.outline.title = plaintext.OneLine(plaintext.Cut(o.Title, longestTitle))
	}
	if p.outline.title == "" {
		p.outline.title = "Untitled notebook"
	}
	title := html.EscapeString(p.outline.title)

	var b bytes.Buffer
	head(&b, title)
	o.Around.write(&b, "The course")
	if !front {
		p.outline.contents(&b)
	}
	b.WriteString("<main id=\"main\" tabindex=\"-1\">\n")
	if front {
		fmt.Fprintf(&b, "<div class=\"front\">\n%s</div>\n<details class=\"behind\">\n<summary>%s</summary>\n", p.front.Bytes(), behind)
		p.outline.contents(&b)
	}
	b.Write(p.body.Bytes())
	downloads(&b, o.Downloads)
	if front {
		b.WriteString("</details>\n")
	}
	b.WriteString("</main>\n")
	o.Around.write(&b, "On from here")
	b.WriteString("</body>\n</html>\n")
	_, err := w.Write(b.Bytes())
	return err
}

// frontTag marks the cells whose outputs the page opens with.
const frontTag = "front"

// openTag marks the cells whose code is what they are there for.
const openTag = "open"

// keyTag marks the cells that give an answer away.
const keyTag = "key"

// behind is the line that unfolds the rest of a page with a front.
const behind = "What is behind it: every stage, how sure, all numbers, and the code"

// largestDownload keeps the page a file that can be sent, in bytes: ten lessons.
const largestDownload = 256 << 10

// downloads writes a link to each file, or says why there is none.
func downloads(b *bytes.Buffer, files []Download) {
	if len(files) == 0 {
		return
	}
	b.WriteString("<p class=\"downloads\">The numbers of this page:")
	for _, f := range files {
		if len(f.Data) > largestDownload {
			fmt.Fprintf(b, " %s is too large to travel with it.", html.EscapeString(f.Name))
			continue
		}
		fmt.Fprintf(b, " <a download=\"%s\" href=\"data:%s;base64,%s\">%[1]s</a>",
			html.EscapeString(f.Name), html.EscapeString(f.Type), base64.StdEncoding.EncodeToString(f.Data))
	}
	b.WriteString("</p>\n")
}

// language returns the name of the notebook's programming language, as its
// metadata has it, for colouring the code.
func language(nb *nbformat.Notebook) string {
	for _, at := range [][2]string{{"language_info", "name"}, {"kernelspec", "language"}} {
		section, _ := nb.Metadata[at[0]].(map[string]any)
		if name, _ := section[at[1]].(string); name != "" {
			return name
		}
	}
	return "go"
}

// A pageWriter collects the page's main part, cell by cell.
type pageWriter struct {
	language string
	outline  outline
	front    bytes.Buffer // what cells tagged so show
	body     bytes.Buffer
	onFront  bool // the current cell is tagged so
	code     int  // code cells so far; labels count them from 1

	afterFigure bool // the output before this one was a figure
}

func (p *pageWriter) cell(c nbformat.Cell) {
	if c.HasTag(keyTag) {
		p.body.WriteString("<div class=\"key\">\n")
		defer p.body.WriteString("</div>\n")
	}
	switch c.Type {
	case nbformat.Markdown:
		p.body.WriteString(p.markdown(c.Source, c.Attachments, true))
	case nbformat.Raw:
		p.text(c.Source, "Text")
	case nbformat.Code:
		p.code++
		if c.Source != "" {
			p.folded("code", "Show the code", pre(highlight(c.Source, p.language), p.label("Code"), ""), c.HasTag(openTag))
		}
		p.afterFigure = false
		failed := false
		for _, out := range c.Outputs {
			failed = failed || out.Type == nbformat.Error
		}
		for _, out := range c.Outputs {
			p.output(out, failed)
		}
	}
}

// label names a part of the current code cell for a screen reader, which meets
// the same words in every cell.
func (p *pageWriter) label(part string) string {
	return fmt.Sprintf("%s, cell %d", part, p.code)
}

// folded writes block, which is markup, so that it opens on demand.
func (p *pageWriter) folded(class, summary, block string, open bool) {
	attribute := ""
	if open {
		attribute = " open"
	}
	fmt.Fprintf(&p.body, "<details class=\"%s\"%s><summary>%s<span class=\"spoken\">, cell %d</span></summary>\n%s</details>\n",
		class, attribute, summary, p.code, block)
}
