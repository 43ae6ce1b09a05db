package page

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// allowed lists each element that a page may contain, with its attributes.
// Whatever else turns up came from a notebook and got through.
var allowed = map[string][]string{
	"html": {"lang"}, "head": nil, "title": nil, "style": nil, "body": nil,
	"meta": {"charset", "http-equiv", "content", "name"}, "link": {"rel", "href"},
	"header": nil, "nav": {"aria-label"}, "main": {"id", "tabindex"},
	"h1": nil, "h2": {"id"}, "h3": nil, "h4": nil, "h5": nil, "h6": nil,
	"p": {"class"}, "br": nil, "hr": nil, "blockquote": nil, "figcaption": nil, "figure": nil,
	"div":  {"class", "role", "aria-label", "tabindex"},
	"span": {"class"}, "pre": {"class", "role", "aria-label", "tabindex"},
	"details": {"class", "open"}, "summary": nil, "code": {"class"},
	"a": {"class", "href", "rel", "download"}, "img": {"alt", "src"},
	"ul": nil, "ol": {"start"}, "li": nil, "dl": nil, "dt": nil, "dd": nil,
	"table": nil, "caption": nil, "thead": nil, "tbody": nil, "tfoot": nil, "tr": nil,
	"th": {"scope", "style", "colspan", "rowspan"}, "td": {"style", "colspan", "rowspan"},
	"strong": nil, "em": nil, "b": nil, "i": nil, "u": nil, "s": nil, "del": nil, "ins": nil, "sub": nil, "sup": nil,
	"small": nil, "mark": nil, "kbd": nil, "samp": nil, "var": nil,
}

var (
	ownClass   = regexp.MustCompile(`^(skip|spoken|output|scroll|front|behind|table|downloads|failure|note|code|messages|wrap|word|string|number|comment|language-[A-Za-z0-9+#-]+)?$`)
	ownHref    = regexp.MustCompile(`^(https?://|mailto:|#(main|section-[0-9]+)$|data:,$|data:(text/csv|application/json);base64,[A-Za-z0-9+/]+=*$)`)
	ownStyle   = regexp.MustCompile(`^text-align: (left|right|center)$`)
	pictureSrc = regexp.MustCompile(`^data:image/(svg\+xml|png|jpeg|gif|webp);base64,[A-Za-z0-9+/]+=*$`)
	unseen     = regexp.MustCompile("[\x00-\x08\x0b-\x1f\x7f-\u009f\u2028-\u202e\u2066-\u2069]")
)

// checkPage checks what holds for every page, whatever the notebook: it acts
// on nothing, asks for nothing from outside, and can be found one's way in.
//
// Sources: the elements and roles are those of the HTML Living Standard and
// WAI-ARIA 1.2; the demands on language, title, headings, names and alt text
// are WCAG 2.2, success criteria 3.1.1, 2.4.2, 1.3.1, 4.1.2 and 1.1.1.
func checkPage(t *testing.T, page string) {
	t.Helper()
	if at := unseen.FindString(page); at != "" {
		t.Errorf("the page holds the invisible character %q", at)
	}
	doc := parse(t, page)
	ids := map[string]bool{}
	level, titles := 0, 0
	for n := range doc.Descendants() {
		if n.Type == html.CommentNode {
			t.Errorf("a comment: %.80q", n.Data)
		}
		if n.Type != html.ElementNode {
			continue
		}
		attributes, ok := allowed[n.Data]
		if !ok || n.Namespace != "" {
			t.Errorf("an element %s %s", n.Namespace, n.Data)
			continue
		}
		for _, a := range n.Attr {
			if !slices.Contains(attributes, a.Key) {
				t.Errorf("%s has an attribute %s=%.80q", n.Data, a.Key, a.Val)
			}
			good := true
			switch a.Key {
			case "class":
				good = ownClass.MatchString(a.Val)
			case "href":
				good = ownHref.MatchString(a.Val)
			case "style":
				good = ownStyle.MatchString(a.Val)
			case "src":
				good = pictureSrc.MatchString(a.Val)
			case "alt", "aria-label":
				good = strings.TrimSpace(a.Val) != ""
			case "id":
				good = !ids[a.Val]
				ids[a.Val] = true
			}
			if !good {
				t.Errorf("%s has %s=%.80q", n.Data, a.Key, a.Val)
			}
		}
		switch n.Data {
		case "img":
			if attribute(n, "alt") == "" || attribute(n, "src") == "" {
				t.Error("a picture lacks alt or src")
			}
		case "pre":
			if attribute(n, "tabindex") != "0" || attribute(n, "aria-label") == "" {
				t.Error("a block that scrolls cannot be reached or has no name")
			}
		case "table":
			if attribute(n.Parent, "class") != "scroll" {
				t.Error("a table that cannot be scrolled")
			}
		case "h1", "h2", "h3", "h4", "h5", "h6":
			next := int(n.Data[1] - '0')
			if next > level+1 {
				t.Errorf("h%d follows h%d", next, level)
			}
			if level = next; level == 1 {
				titles++
			}
		}
	}
	if titles != 1 {
		t.Errorf("%d headings of level 1", titles)
	}
	for _, a := range find(doc, "a") {
		if id, ok := strings.CutPrefix(attribute(a, "href"), "#"); ok && !ids[id] {
			t.Errorf("a link to #%s, which is nowhere", id)
		}
	}
	if got := attribute(find(doc, "html")[0], "lang"); got != "en" {
		t.Errorf("the language is %q", got)
	}
	if textOf(find(doc, "title")[0]) == "" {
		t.Error("no title")
	}
	// Content that breaks out of its place ends up beside the main part.
	var parts []string
	for n := range find(doc, "body")[0].ChildNodes() {
		if n.Type == html.ElementNode {
			parts = append(parts, n.Data)
		} else if strings.TrimSpace(n.Data) != "" {
			t.Errorf("text outside the main part: %.80q", n.Data)
		}
	}
	if got := strings.Join(parts, " "); got != "a header main" && got != "a header nav main" {
		t.Errorf("the page consists of %s", got)
	}
	first := find(doc, "meta")
	if attribute(first[0], "charset") != "utf-8" || attribute(first[1], "content") != policy {
		t.Error("the encoding and the content security policy do not come first")
	}
	if sheets := find(doc, "style"); len(sheets) != 1 || textOf(sheets[0]) != "\n"+style {
		t.Error("other style than the page's own")
	}
}

// The style sheet is the one place where an address could hide.
func TestStyleSheetAsksForNothing(t *testing.T) {
	for _, word := range []string{"url(", "@import", "@font-face", "src:", "//", "<"} {
		if strings.Contains(style, word) {
			t.Errorf("style.css contains %q", word)
		}
	}
}

// Source: W3C, Content Security Policy Level 3, sections 6.1 and 6.3: without
// default-src 'none' a directive that is not named allows everything, and
// base-uri and form-action do not fall back to default-src.
func TestPolicy(t *testing.T) {
	got := strings.Split(policy, "; ")
	slices.Sort(got)
	want := []string{"base-uri 'none'", "default-src 'none'", "form-action 'none'", "img-src data:", "style-src 'unsafe-inline'"}
	if !slices.Equal(got, want) {
		t.Errorf("policy %q, want %q", got, want)
	}
}
