package page

import (
	"encoding/base64"
	"net/url"
	"regexp"
	"strings"

	"github.com/microcosm-cc/bluemonday"
)

// sanitiser lets through what a text, a table or a figure needs. It drops
// scripts, styles, forms and frames, every attribute that acts, and every
// address but those of pages, mail and pictures inside the document.
var sanitiser = func() *bluemonday.Policy {
	p := bluemonday.NewPolicy()
	p.AllowElements("p", "br", "hr", "div", "blockquote", "pre", "figure", "figcaption",
		"h1", "h2", "h3", "h4", "h5", "h6", "ul", "ol", "li", "dl", "dt", "dd",
		"strong", "em", "b", "i", "u", "s", "del", "ins", "sub", "sup", "small", "mark", "code", "kbd", "samp", "var",
		"table", "caption", "thead", "tbody", "tfoot", "tr", "th", "td")
	p.AllowAttrs("start").Matching(bluemonday.Integer).OnElements("ol")
	p.AllowAttrs("class").Matching(regexp.MustCompile(`^language-[A-Za-z0-9+#-]{1,30}$`)).OnElements("code")
	p.AllowAttrs("colspan", "rowspan").Matching(regexp.MustCompile(`^[1-9][0-9]?$`)).OnElements("th", "td")
	p.AllowAttrs("scope").Matching(regexp.MustCompile(`^(row|col)(group)?$`)).OnElements("th")
	p.AllowStyles("text-align").MatchingEnum("left", "right", "center").OnElements("th", "td")
	p.AllowAttrs("href").OnElements("a")
	p.AllowAttrs("src", "alt").OnElements("img")
	p.AllowNoAttrs().OnElements("img") // one that lost its address is reported on the page
	p.RequireParseableURLs(true)
	p.RequireNoReferrerOnLinks(true)
	p.AllowURLSchemes("http", "https", "mailto")
	p.AllowURLSchemeWithCustomPolicy("data", func(u *url.URL) bool {
		return u.RawQuery == "" && u.Fragment == "" && isPicture("data:"+u.Opaque)
	})
	return p
}()

// pictureTypes are the formats that every browser shows. A browser runs no
// script and follows no address in an SVG that stands in an img element.
var pictureTypes = []string{"image/svg+xml", "image/png", "image/jpeg", "image/gif", "image/webp"}

// isPicture reports whether address is a picture inside the document.
func isPicture(address string) bool {
	for _, mime := range pictureTypes {
		if content, ok := strings.CutPrefix(address, "data:"+mime+";base64,"); ok {
			_, err := base64.StdEncoding.DecodeString(content)
			return err == nil
		}
	}
	return false
}

// dataURI returns the picture in a MIME bundle as an address, "" if there is none.
func dataURI(bundle map[string]any) string {
	for _, mime := range pictureTypes {
		content, _ := bundle[mime].(string)
		if content == "" {
			continue
		}
		if mime == "image/svg+xml" { // bundles hold it as text
			content = base64.StdEncoding.EncodeToString([]byte(content))
		}
		address := "data:" + mime + ";base64," + strings.Join(strings.Fields(content), "")
		if isPicture(address) {
			return address
		}
	}
	return ""
}
