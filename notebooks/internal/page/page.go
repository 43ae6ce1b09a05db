package page

import (
	"bytes"
	_ "embed"
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
}

//go:embed style.css
var style string

// policy allows the style sheet below and pictures inside the page, and
// nothing else: not even a mistake in this package can reach outside.
const policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'"

// Write writes nb to w as a standalone HTML page in English. The first heading
// becomes the title if it is of level one.
//
// The page depends on nb and o alone: the same notebook gives the same bytes.
// Write does not modify nb. Errors: a nil notebook, and those of w.
func Write(w io.Writer, nb *nbformat.Notebook, o Options) error {
	if nb == nil {
		return errors.New("page: there is no notebook to write")
	}
	p := pageWriter{language: language(nb)}
	for _, cell := range nb.Cells {
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
	fmt.Fprintf(&b, `<!DOCTYPE html>
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
	p.outline.contents(&b)
	b.WriteString("<main id=\"main\" tabindex=\"-1\">\n")
	b.Write(p.body.Bytes())
	b.WriteString("</main>\n</body>\n</html>\n")
	_, err := w.Write(b.Bytes())
	return err
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
	body     bytes.Buffer
	code     int // code cells so far; labels count them from 1
}

func (p *pageWriter) cell(c nbformat.Cell) {
	switch c.Type {
	case nbformat.Markdown:
		p.body.WriteString(p.markdown(c.Source, c.Attachments, true))
	case nbformat.Raw:
		p.text(c.Source, "Text")
	case nbformat.Code:
		p.code++
		if c.Source != "" {
			p.folded("code", "Show the code", pre(highlight(c.Source, p.language), p.label("Code"), ""), false)
		}
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
