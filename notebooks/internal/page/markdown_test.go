package page

import (
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

func TestMarkdown(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"link to a page", "[x](https://example.org/a?b=1)", `<p><a href="https://example.org/a?b=1" rel="noreferrer">x</a></p>`},
		{"link to a file beside it", "[x](other.ipynb)", "<p>x</p>"},
		{"link that runs", "[x](javascript:alert)", "<p>x</p>"},
		{"link to a picture inside", "[x](data:image/png;base64," + onePixel + ")", "<p><a>x</a></p>"},
		{"picture from outside", "![plan](https://example.org/p.png)", "<p>[a picture that is not part of this page: plan]</p>"},
		{"picture inside", "![plan](data:image/png;base64," + onePixel + ")", `<p><img alt="plan" src="data:image/png;base64,` + onePixel + `"/></p>`},
		{"attached picture", "![plan](attachment:plan.png)", `<p><img alt="plan" src="data:image/png;base64,` + onePixel + `"/></p>`},
		{"attachment that is not there", "![plan](attachment:x.png)", "<p>[a picture that is not part of this page: plan]</p>"},
		{"code", "```go\nx := 1\n```", "<pre tabindex=\"0\" role=\"group\" aria-label=\"Code\">\nx := <span class=\"number\">1</span></pre>"},
		{"numbers to the right", "|a|\n|-:|\n|1|", `<td style="text-align: right">1</td>`},
	} {
		page := write(t, &nbformat.Notebook{Cells: []nbformat.Cell{{Type: nbformat.Markdown, Source: c.in,
			Attachments: map[string]map[string]any{"plan.png": {"image/png": onePixel}}}}})
		if !strings.Contains(page, c.want) {
			t.Errorf("%s: no %s in\n%s", c.name, c.want, page[strings.Index(page, "<main"):])
		}
	}
}

func TestOutline(t *testing.T) {
	type step struct {
		level  int
		author bool
		want   int
		id     string
	}
	for _, c := range []struct {
		name  string
		steps []step
	}{
		{"in order", []step{{1, true, 1, ""}, {2, true, 2, "section-1"}, {3, true, 3, ""}, {2, true, 2, "section-2"}}},
		{"a level skipped", []step{{1, true, 1, ""}, {4, true, 2, "section-1"}, {6, true, 3, ""}, {6, true, 4, ""}}},
		{"two titles", []step{{1, true, 1, ""}, {1, true, 2, "section-1"}}},
		{"title too late", []step{{3, true, 2, "section-1"}, {1, true, 2, "section-2"}}},
		{"an output is no title and no section", []step{{1, false, 2, ""}, {1, true, 2, "section-1"}, {5, false, 3, ""}}},
	} {
		var o outline
		for i, s := range c.steps {
			if level, id := o.place(s.level, "text", s.author); level != s.want || id != s.id {
				t.Errorf("%s, heading %d: level %d, id %q, want %d, %q", c.name, i+1, level, id, s.want, s.id)
			}
		}
	}
}
