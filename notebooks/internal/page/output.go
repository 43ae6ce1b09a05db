package page

import (
	"fmt"
	"html"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
	"github.com/landfall-golf/landfall/notebooks/internal/plaintext"
)

// output writes one result of the current code cell. Where the cell failed,
// what it wrote to standard error is open: it mostly says why.
func (p *pageWriter) output(out nbformat.Output, failed bool) {
	switch out.Type {
	case nbformat.Stream:
		switch {
		case strings.TrimSpace(out.Text) == "":
		case out.Name == "stderr":
			p.folded("messages", "Messages while it ran", textBlock(out.Text, p.label("Messages")), failed)
		default:
			p.text(out.Text, p.label("Output"))
		}
	case nbformat.DisplayData, nbformat.ExecuteResult:
		p.bundle(out.Data)
	case nbformat.Error:
		p.failure(out)
	}
}

// bundle writes the richest form of data that can be shown. It never leaves an
// output out in silence.
func (p *pageWriter) bundle(data map[string]any) {
	content := func(mime string) string { s, _ := data[mime].(string); return s }
	if source := content("text/html"); source != "" {
		if markup, ok := p.fragment(source, false); ok && strings.TrimSpace(markup) != "" {
			p.shown(markup)
			return
		}
	}
	if address := dataURI(data); address != "" {
		alt := plaintext.OneLine(plaintext.Cut(content("text/plain"), longestAlt))
		if alt == "" {
			alt = noAlt
		}
		p.shown(fmt.Sprintf("<figure><img alt=\"%s\" src=\"%s\"></figure>\n", html.EscapeString(alt), address))
		return
	}
	if source := content("text/markdown"); source != "" {
		p.shown(p.markdown(source, nil, false))
		return
	}
	for _, mime := range []string{"text/plain", "text/html", "text/latex"} {
		if text := content(mime); strings.TrimSpace(text) != "" {
			p.text(text, p.label("Output"))
			return
		}
	}
	if len(data) == 0 {
		p.body.WriteString("<p class=\"note\">An output without content.</p>\n")
		return
	}
	types := strings.Join(slices.Sorted(maps.Keys(data)), ", ")
	fmt.Fprintf(&p.body, "<p class=\"note\">An output of type %s cannot be shown on this page.</p>\n",
		html.EscapeString(plaintext.OneLine(plaintext.Cut(types, longestTitle))))
}

// shown writes the markup of one output: on the front, or into the body. A table
// right after a figure is folded: the numbers behind it, or what goes with it.
func (p *pageWriter) shown(markup string) {
	to := &p.body
	if p.onFront {
		to = &p.front
	}
	figure := strings.HasPrefix(markup, "<figure>")
	if p.afterFigure && strings.HasPrefix(markup, "<div class=\"scroll\"") {
		markup = "<details class=\"table\"><summary>In numbers<span class=\"spoken\">, cell " + strconv.Itoa(p.code) + "</span></summary>\n" + markup + "</details>\n"
	}
	p.afterFigure = figure
	fmt.Fprintf(to, "<div class=\"output\">\n%s</div>\n", markup)
}

// failure writes an error: in words first, and with the trace if it adds any.
func (p *pageWriter) failure(out nbformat.Output) {
	message := strings.TrimPrefix(out.ErrorName+": "+out.ErrorValue, ": ")
	fmt.Fprintf(&p.body, "<div class=\"failure\" role=\"group\" aria-label=\"%s\">\n<p><strong>This cell failed.</strong> %s</p>\n",
		p.label("Failure"), textMarkup(plaintext.Cut(message, longestAlt)))
	trace := strings.Join(out.Traceback, "\n")
	if trimmed := strings.TrimSpace(trace); trimmed != "" && trimmed != strings.TrimSpace(out.ErrorValue) {
		p.text(trace, p.label("Trace"))
	}
	p.body.WriteString("</div>\n")
}
