package page

import (
	"bytes"
	"errors"
	"io"
	"os"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

func sample(t *testing.T) *nbformat.Notebook {
	t.Helper()
	f, err := os.Open("testdata/sample.ipynb")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	nb, err := nbformat.Read(f)
	if err != nil {
		t.Fatal(err)
	}
	return nb
}

// write returns the page of nb, after checking what must hold for every page.
func write(t *testing.T, nb *nbformat.Notebook) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, nb, Options{}); err != nil {
		t.Fatal(err)
	}
	checkPage(t, b.String())
	return b.String()
}

func parse(t *testing.T, page string) *html.Node {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// find returns the elements called tag, in order.
func find(doc *html.Node, tag string) []*html.Node {
	var found []*html.Node
	for n := range doc.Descendants() {
		if n.Type == html.ElementNode && n.Data == tag {
			found = append(found, n)
		}
	}
	return found
}

func TestSample(t *testing.T) {
	doc := parse(t, write(t, sample(t)))

	if got, want := textOf(find(doc, "title")[0]), "Did the new swing carry farther?"; got != want {
		t.Errorf("title %q, want %q", got, want)
	}
	var contents []string
	for _, a := range find(find(doc, "nav")[0], "a") {
		contents = append(contents, textOf(a))
	}
	if got, want := strings.Join(contents, "; "), "The question; The data; How sure; Exercise"; got != want {
		t.Errorf("contents %q, want %q", got, want)
	}

	var folded []string
	for _, d := range find(doc, "details") {
		state := "closed: "
		for _, a := range d.Attr {
			if a.Key == "open" {
				state = "open: "
			}
		}
		folded = append(folded, state+textOf(find(d, "summary")[0]))
	}
	want := []string{
		"closed: Show the code, cell 1", "closed: Show the code, cell 2", "closed: Messages while it ran, cell 2",
		"closed: Show the code, cell 3", "closed: Show the code, cell 4",
		"closed: Show the code, cell 5", "open: Messages while it ran, cell 5", // of the cell that failed
	}
	if got := strings.Join(folded, "\n"); got != strings.Join(want, "\n") {
		t.Errorf("folded away:\n%s\nwant\n%s", got, strings.Join(want, "\n"))
	}

	if figures := find(doc, "figure"); len(figures) != 1 {
		t.Errorf("%d figures, want 1: a bundle is one output", len(figures))
	} else if img := find(figures[0], "img")[0]; !strings.HasPrefix(attribute(img, "alt"), "Plan view of twenty") ||
		!strings.HasPrefix(attribute(img, "src"), "data:image/svg+xml;base64,") {
		t.Errorf("the figure is %v", img.Attr)
	}

	main := textOf(find(doc, "main")[0])
	for _, want := range []string{
		"carry gain 8.8 yd, 95 % interval 1.9 to 15.6",
		"This cell failed. ERROR: exit status 1",
		"left foot back <b>", // markup in a stage name
	} {
		if !strings.Contains(main, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	tables := find(doc, "table")
	if len(tables) != 2 {
		t.Fatalf("%d tables, want 2", len(tables))
	}
	for _, table := range tables {
		for _, th := range find(table, "th") {
			if scope := attribute(th, "scope"); scope != "col" && scope != "row" {
				t.Errorf("the head cell %q has scope %q", textOf(th), scope)
			}
		}
	}
	if td := find(tables[1], "td")[0]; attribute(td, "style") != "text-align: right" {
		t.Errorf("the number %s is styled %q", textOf(td), attribute(td, "style"))
	}
}

func TestSameBytesAndInputKept(t *testing.T) {
	nb := sample(t)
	var before, after bytes.Buffer
	if err := nbformat.Write(&before, nb); err != nil {
		t.Fatal(err)
	}
	first := write(t, nb)
	if write(t, nb) != first || write(t, sample(t)) != first {
		t.Error("the same notebook gave other bytes")
	}
	if err := nbformat.Write(&after, nb); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(before.Bytes(), after.Bytes()) {
		t.Error("Write changed the notebook")
	}
}

type brokenWriter struct{ error }

func (w brokenWriter) Write([]byte) (int, error) { return 0, w.error }

func TestWriteErrors(t *testing.T) {
	full := errors.New("disk full")
	if err := Write(brokenWriter{full}, sample(t), Options{}); !errors.Is(err, full) {
		t.Errorf("error %v, want the writer's", err)
	}
	if err := Write(io.Discard, nil, Options{}); err == nil {
		t.Error("no error for a nil notebook")
	}
}

func TestTitle(t *testing.T) {
	text := func(s string) nbformat.Cell { return nbformat.Cell{Type: nbformat.Markdown, Source: s} }
	for _, c := range []struct {
		name  string
		cells []nbformat.Cell
		o     Options
		want  string
	}{
		{"own heading", []nbformat.Cell{text("intro\n\n# A *short* <b>title</b>")}, Options{Title: "other"}, "A short <b>title</b>"},
		{"given", []nbformat.Cell{text("## Part\n\n# Late")}, Options{Title: " file\n <i>name"}, "file <i>name"},
		{"none", nil, Options{}, "Untitled notebook"},
	} {
		var b bytes.Buffer
		if err := Write(&b, &nbformat.Notebook{Cells: c.cells}, c.o); err != nil {
			t.Fatal(err)
		}
		checkPage(t, b.String())
		doc := parse(t, b.String())
		if h1, title := textOf(find(doc, "h1")[0]), textOf(find(doc, "title")[0]); h1 != c.want || title != c.want {
			t.Errorf("%s: heading %q, title %q, want %q", c.name, h1, title, c.want)
		}
	}
}

func TestLanguage(t *testing.T) {
	for _, c := range []struct {
		metadata map[string]any
		want     string
	}{
		{nil, "go"},
		{map[string]any{"kernelspec": map[string]any{"language": "r"}}, "r"},
		{map[string]any{"kernelspec": map[string]any{"language": "go"}, "language_info": map[string]any{"name": "julia"}}, "julia"},
		{map[string]any{"language_info": "odd"}, "go"},
	} {
		if got := language(&nbformat.Notebook{Metadata: c.metadata}); got != c.want {
			t.Errorf("%v: %q, want %q", c.metadata, got, c.want)
		}
	}
}
