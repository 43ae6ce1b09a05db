package page

import (
	"bytes"
	"html"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"github.com/landfall-golf/landfall/notebooks/internal/plaintext"
)

// longestMarkdown is the number of characters read of one piece of markdown:
// several chapters, and too little for nested brackets to take long.
const longestMarkdown = 50_000

var converter = goldmark.New(
	goldmark.WithExtensions(extension.NewTable(extension.WithTableCellAlignMethod(extension.TableCellAlignStyle))),
	goldmark.WithRendererOptions(renderer.WithNodeRenderers(util.Prioritized(markupAsText{}, 1))),
)

// markdown returns source as markup for the page. HTML inside it is shown as
// text, and of pictures only those that the cell carries along are shown.
func (p *pageWriter) markdown(source string, attachments map[string]map[string]any, author bool) string {
	src := []byte(plaintext.Cut(source, longestMarkdown))
	doc := converter.Parser().Parse(text.NewReader(src))
	// The walker fails only when its function does.
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if image, ok := n.(*ast.Image); ok && entering {
			if name, ok := strings.CutPrefix(string(image.Destination), "attachment:"); ok {
				image.Destination = []byte(dataURI(attachments[name]))
			}
		}
		return ast.WalkContinue, nil
	})
	var b bytes.Buffer
	if err := converter.Renderer().Render(&b, src, doc); err != nil {
		return textBlock(source, "Text")
	}
	if markup, ok := p.fragment(b.String(), author); ok {
		return markup
	}
	return textBlock(source, "Text")
}

// markupAsText renders the HTML inside markdown as the text it is written in.
type markupAsText struct{}

func (markupAsText) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(ast.KindRawHTML, func(w util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			escapeSegments(w, source, n.(*ast.RawHTML).Segments)
		}
		return ast.WalkSkipChildren, nil
	})
	r.Register(ast.KindHTMLBlock, func(w util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			block := n.(*ast.HTMLBlock)
			w.WriteString("<p>")
			escapeSegments(w, source, block.Lines())
			if block.HasClosure() {
				w.WriteString(html.EscapeString(string(block.ClosureLine.Value(source))))
			}
			w.WriteString("</p>\n")
		}
		return ast.WalkContinue, nil
	})
}

func escapeSegments(w util.BufWriter, source []byte, segments *text.Segments) {
	for i := range segments.Len() {
		segment := segments.At(i)
		w.WriteString(html.EscapeString(string(segment.Value(source))))
	}
}
