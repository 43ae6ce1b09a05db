package page

import (
	"html"
	"strings"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/lexers"

	"github.com/landfall-golf/landfall/notebooks/internal/plaintext"
)

// longestCode is the number of characters shown of one piece of code.
const longestCode = 20_000

// highlight returns source as markup, with its parts marked if the language is
// known, and as plain text otherwise.
func highlight(source, language string) string {
	source = plaintext.Visible(plaintext.Cut(strings.TrimRight(source, "\n"), longestCode))
	lexer := lexers.Get(language)
	if language == "" || lexer == nil {
		return html.EscapeString(source)
	}
	tokens, err := chroma.Coalesce(lexer).Tokenise(nil, source)
	if err != nil {
		return html.EscapeString(source)
	}
	var b strings.Builder
	for _, token := range tokens.Tokens() {
		text := html.EscapeString(token.Value)
		if class := codeClass(token.Type); class != "" {
			text = `<span class="` + class + `">` + text + `</span>`
		}
		b.WriteString(text)
	}
	return b.String()
}

// codeClass returns the class in style.css for a kind of token, "" for plain
// ink. Four kinds are enough to find one's way.
func codeClass(kind chroma.TokenType) string {
	switch {
	case kind.InCategory(chroma.Keyword):
		return "word"
	case kind.InSubCategory(chroma.LiteralString):
		return "string"
	case kind.InSubCategory(chroma.LiteralNumber):
		return "number"
	case kind.InCategory(chroma.Comment):
		return "comment"
	}
	return ""
}
