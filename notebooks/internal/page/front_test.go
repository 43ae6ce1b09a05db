package page

import (
	"bytes"
	"encoding/base64"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

// frontNotebook has one cell for the front, and a figure with its table behind.
func frontNotebook() *nbformat.Notebook {
	html := func(markup string) nbformat.Output {
		return nbformat.Output{Type: nbformat.DisplayData, Data: map[string]any{"text/html": markup}}
	}
	picture := html(`<figure><img alt="Ten dots" src="data:image/png;base64,iVBORw0KGgo="></figure>`)
	table := html("<table><thead><tr><th>n</th></tr></thead><tbody><tr><th>10</th></tr></tbody></table>")
	cell := func(tag string, outputs ...nbformat.Output) nbformat.Cell {
		c := nbformat.Cell{Type: nbformat.Code, Source: "show()", Outputs: outputs}
		if tag != "" {
			c.Metadata = map[string]any{"tags": []any{tag}}
		}
		return c
	}
	return &nbformat.Notebook{Cells: []nbformat.Cell{
		{Type: nbformat.Markdown, Source: "# A lesson"},
		cell("front", html("<p>Longer.</p>"), picture),
		{Type: nbformat.Markdown, Source: "## One\n\n## Two\n\n## Three"},
		cell("", picture, table, table),
	}}
}

func TestFrontComesFirstAndAlone(t *testing.T) {
	page := write(t, frontNotebook())
	order := []string{"<h1>A lesson</h1>", `<div class="front">`, "Longer.", "Ten dots", `<details class="behind">`, "<nav ", "Show the code", "</main>"}
	for at := 0; len(order) > 0; order = order[1:] {
		i := strings.Index(page[at:], order[0])
		if i < 0 {
			t.Fatalf("no %q where it belongs in\n%s", order[0], page)
		}
		at += i
	}
}

func TestTableAfterAFigureIsFolded(t *testing.T) {
	page := write(t, frontNotebook())
	if n := strings.Count(page, `<details class="table">`); n != 1 {
		t.Errorf("%d folded tables, want the one after the figure", n)
	}
	if n := strings.Count(page, "<table>"); n != 2 {
		t.Errorf("%d tables", n)
	}
}

func TestDownloads(t *testing.T) {
	numbers, big := []byte(`{"n":10}`), bytes.Repeat([]byte("1"), largestDownload+1)
	var b bytes.Buffer
	err := Write(&b, frontNotebook(), Options{Downloads: []Download{{"a.json", "application/json", numbers}, {"b.csv", "text/csv", big}}})
	if err != nil {
		t.Fatal(err)
	}
	want := `<a download="a.json" href="data:application/json;base64,` + base64.StdEncoding.EncodeToString(numbers) + `">a.json</a> b.csv is too large to travel with it.`
	if !strings.Contains(b.String(), want) {
		t.Errorf("no %s", want)
	}
	checkPage(t, b.String())
}
