package page

import (
	"bytes"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

func TestBundleForm(t *testing.T) {
	const svg = `<svg xmlns="http://www.w3.org/2000/svg"/>`
	png := `src="data:image/png;base64,` + onePixel + `"`
	for _, c := range []struct {
		name string
		data map[string]any
		want string
	}{
		{"html first", map[string]any{"text/html": "<p>rich</p>", "image/png": onePixel, "text/plain": "p"}, "<p>rich</p>"},
		{"html that was all script", map[string]any{"text/html": "<script>x</script>", "image/png": onePixel}, png},
		{"picture with words", map[string]any{"image/png": onePixel, "text/plain": "dots"}, `alt="dots" ` + png},
		{"picture without words", map[string]any{"image/png": onePixel + "\n"}, `alt="A figure without a description" ` + png},
		{"svg before png", map[string]any{"image/svg+xml": svg, "image/png": onePixel}, "src=\"data:image/svg+xml;base64,PHN2ZyB4bWxucz0i"},
		{"broken picture", map[string]any{"image/png": "%%%", "text/plain": "dots"}, "dots</pre>"},
		{"markdown", map[string]any{"text/markdown": "*so*", "text/plain": "so"}, "<em>so</em>"},
		{"text", map[string]any{"text/plain": "a < b"}, "a &lt; b</pre>"},
		{"formula", map[string]any{"text/latex": "$x$"}, "$x$</pre>"},
		{"unknown", map[string]any{"application/x": 1, "a/b": nil}, "An output of type a/b, application/x cannot be shown on this page."},
		{"nothing", nil, "An output without content."},
	} {
		page := write(t, codeCell(bundleOutput(c.data)))
		if !strings.Contains(page, c.want) {
			t.Errorf("%s: no %s on the page", c.name, c.want)
		}
	}
}

func TestMarkupTooDeepIsShownAsText(t *testing.T) {
	deep := strings.Repeat("<blockquote>", 600) + "deep"
	page := write(t, codeCell(bundleOutput(map[string]any{"text/html": deep, "text/plain": "instead"})))
	if !strings.Contains(page, "instead</pre>") {
		t.Error("the plain text is not shown instead")
	}
}

func TestFailure(t *testing.T) {
	for _, c := range []struct {
		out  nbformat.Output
		want string
	}{
		{nbformat.Output{ErrorName: "E", ErrorValue: "no file"}, "<p><strong>This cell failed.</strong> E: no file</p>\n</div>"},
		{nbformat.Output{ErrorValue: "no file", Traceback: []string{"no file"}}, "</strong> no file</p>\n</div>"},
		{nbformat.Output{ErrorName: "E", ErrorValue: "x", Traceback: []string{"\x1b[31mcell.go:3\x1b[0m", "x"}}, ">\ncell.go:3\nx</pre>\n</div>"},
	} {
		c.out.Type = nbformat.Error
		if page := write(t, codeCell(c.out)); !strings.Contains(page, c.want) {
			t.Errorf("no %q on the page", c.want)
		}
	}
}

func TestTextBlock(t *testing.T) {
	for _, c := range []struct {
		name, in, class, want string
	}{
		{"a sentence wraps", "carry gain 8.8 yd", "wrap", "carry gain 8.8 yd"},
		{"columns scroll", "stage  balls\nold       10\n\n", "", "stage  balls\nold       10"},
		{"a line too long for columns", "a  " + strings.Repeat("b", 160), "wrap", "a  " + strings.Repeat("b", 160)},
		{"colours of a terminal", "\x1b[1;31mred\x1b[0m \x1b]8;;x\x07", "wrap", "red "},
		{"first line empty", "\nx", "wrap", "\nx"},
		{"cut once", strings.Repeat("é", 20_003), "wrap", strings.Repeat("é", 20_000) + "… (characters left out: 3)"},
	} {
		if got, want := textBlock(c.in, "L"), pre(c.want, "L", c.class); got != want {
			t.Errorf("%s: %.300q, want %.300q", c.name, got, want)
		}
	}
}

func TestHighlight(t *testing.T) {
	for _, c := range []struct{ source, language, want string }{
		{"x := 1 // <b>\n", "go", `x := <span class="number">1</span> <span class="comment">// &lt;b&gt;</span>`},
		{`return "a"`, "go", `<span class="word">return</span> <span class="string">&#34;a&#34;</span>`},
		{"return 1 < 2", "", "return 1 &lt; 2"},
		{"return 1 < 2", "no such language", "return 1 &lt; 2"},
		{"\x1b[31m\r", "no such language", `\x1b[31m\x0d`},
	} {
		if got := highlight(c.source, c.language); got != c.want {
			t.Errorf("%s, %q:\n got %s\nwant %s", c.language, c.source, got, c.want)
		}
	}
}

// Code is folded in, but where a cell is tagged open.
func TestOpenCode(t *testing.T) {
	nb := &nbformat.Notebook{Cells: []nbformat.Cell{
		{Type: nbformat.Code, Source: "folded()"},
		{Type: nbformat.Code, Source: "shown()", Metadata: map[string]any{"tags": []any{"open"}}},
	}}
	var b bytes.Buffer
	if err := Write(&b, nb, Options{}); err != nil {
		t.Fatal(err)
	}
	if n, open := strings.Count(b.String(), `<details class="code"`), strings.Count(b.String(), `<details class="code" open>`); n != 2 || open != 1 {
		t.Errorf("%d pieces of code, %d open", n, open)
	}
}
