package page

import (
	"regexp"
	"slices"
	"strings"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"github.com/landfall-golf/landfall/notebooks/internal/plaintext"
)

const (
	largestMarkup = 512 << 10 // bytes of markup taken from one output, pictures not counted: some thousand table rows
	largestImages = 32 << 20  // bytes of the pictures in it
	longestText   = 20_000    // characters shown of one run of text
	longestAlt    = 2000      // characters of a picture's alt text
)

// embedded matches the content of a picture inside the document.
var embedded = regexp.MustCompile(`;base64,[A-Za-z0-9+/=]+`)

// fragment returns foreign markup as markup that fits into the page: sanitised,
// with every element closed, headings at their place in the outline, pictures
// with words and tables and code that can be scrolled with the keyboard. It
// reports false for markup too large or nested too deeply to be shown.
func (p *pageWriter) fragment(markup string, author bool) (string, bool) {
	images := 0
	for _, at := range embedded.FindAllStringIndex(markup, -1) {
		images += at[1] - at[0]
	}
	if images > largestImages || len(markup)-images > largestMarkup {
		return "", false
	}
	parent := &html.Node{Type: html.ElementNode, Data: "div", DataAtom: atom.Div}
	nodes, err := html.ParseFragment(strings.NewReader(sanitiser.Sanitize(markup)), parent)
	if err != nil {
		return "", false
	}
	for _, n := range nodes {
		parent.AppendChild(n)
	}
	p.fit(parent, author)
	var b strings.Builder
	for n := range parent.ChildNodes() {
		if err := html.Render(&b, n); err != nil {
			return "", false
		}
	}
	return strings.TrimSpace(b.String()) + "\n", true
}

// fit changes the children of parent to suit the page.
func (p *pageWriter) fit(parent *html.Node, author bool) {
	for _, n := range slices.Collect(parent.ChildNodes()) { // a copy: children are replaced
		if n.Type == html.TextNode {
			n.Data = plaintext.Visible(plaintext.Cut(n.Data, longestText))
			continue
		}
		switch n.DataAtom {
		case atom.H1, atom.H2, atom.H3, atom.H4, atom.H5, atom.H6:
			p.fit(n, author)
			p.heading(n, author)
		case atom.Img:
			fitPicture(n)
		case atom.Table:
			p.fit(n, author)
			fitTable(n)
		case atom.Pre:
			fitCode(n)
		case atom.A:
			p.fit(n, author)
			if href := attribute(n, "href"); !strings.HasPrefix(href, "http") && !strings.HasPrefix(href, "mailto:") {
				n.Attr = nil // an a element without an address is text
			}
		default:
			p.fit(n, author)
		}
	}
}

// heading moves n to its level, or takes it out if it is the page's title.
func (p *pageWriter) heading(n *html.Node, author bool) {
	level, id := p.outline.place(int(n.Data[1]-'0'), textOf(n), author)
	if level == 1 {
		n.Parent.RemoveChild(n)
		return
	}
	n.Data = "h" + string(rune('0'+level))
	n.DataAtom = atom.Lookup([]byte(n.Data))
	if id != "" {
		n.Attr = []html.Attribute{{Key: "id", Val: id}}
	}
}

// fitPicture gives n an alt text, or puts words in its place when it is not a
// picture inside the document.
func fitPicture(n *html.Node) {
	alt := plaintext.OneLine(plaintext.Cut(attribute(n, "alt"), longestAlt))
	src := attribute(n, "src")
	if !isPicture(src) {
		note := "[a picture that is not part of this page]"
		if alt != "" {
			note = "[a picture that is not part of this page: " + alt + "]"
		}
		n.Parent.InsertBefore(&html.Node{Type: html.TextNode, Data: note}, n)
		n.Parent.RemoveChild(n)
		return
	}
	if alt == "" {
		alt = noAlt
	}
	n.Attr = []html.Attribute{{Key: "alt", Val: alt}, {Key: "src", Val: src}}
}

// noAlt stands where a picture came without words, so that a listener knows
// that something is there.
const noAlt = "A figure without a description"

// fitTable says which cells head the columns and puts n into a box that
// scrolls sideways on a narrow screen.
func fitTable(n *html.Node) {
	name := "Table"
	for d := range n.Descendants() {
		switch d.DataAtom {
		case atom.Caption:
			if text := plaintext.OneLine(plaintext.Cut(textOf(d), longestTitle)); text != "" {
				name = "Table: " + text
			}
		case atom.Th:
			if attribute(d, "scope") == "" && d.Parent.Parent.DataAtom == atom.Thead {
				d.Attr = append(d.Attr, html.Attribute{Key: "scope", Val: "col"})
			}
		}
	}
	box := &html.Node{Type: html.ElementNode, Data: "div", DataAtom: atom.Div, Attr: []html.Attribute{
		{Key: "class", Val: "scroll"}, {Key: "tabindex", Val: "0"},
		{Key: "role", Val: "group"}, {Key: "aria-label", Val: name}}}
	n.Parent.InsertBefore(box, n)
	n.Parent.RemoveChild(n)
	box.AppendChild(n)
}

// fitCode puts the page's own block of code in the place of n.
func fitCode(n *html.Node) {
	language := ""
	if code := n.FirstChild; code != nil && code.DataAtom == atom.Code {
		language = strings.TrimPrefix(attribute(code, "class"), "language-")
	}
	block := pre(highlight(textOf(n), language), "Code", "")
	n.Parent.InsertBefore(&html.Node{Type: html.RawNode, Data: block}, n)
	n.Parent.RemoveChild(n)
}

func attribute(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func textOf(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return b.String()
}
