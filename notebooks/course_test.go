package main

import (
	"bytes"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

// courseNotebooks calls f with every notebook of the course and every solution.
func courseNotebooks(t *testing.T, f func(t *testing.T, nb *nbformat.Notebook)) {
	lessons, solutions, err := courseFiles("..")
	if err != nil {
		t.Fatal(err)
	}
	if len(lessons) == 0 {
		t.Fatal("the course has no notebooks")
	}
	for _, file := range append(lessons, solutions...) {
		t.Run(filepath.Base(filepath.Dir(file))+"/"+filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			nb, err := nbformat.Read(bytes.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			f(t, nb)
		})
	}
}

// What every notebook keeps to: a title, parameters, cells that fit on a phone,
// no function but in packages, outputs in place, and its limits said.
func TestCourseHabits(t *testing.T) {
	courseNotebooks(t, func(t *testing.T, nb *nbformat.Notebook) {
		if len(nb.Cells) < 4 || !strings.HasPrefix(nb.Cells[0].Source, "# ") || !strings.Contains(nb.Cells[0].Source, "You need") {
			t.Fatal("it does not begin with a title and what it takes")
		}
		parameters, exercise, limits := 0, false, false
		for i, c := range nb.Cells {
			if c.Type == nbformat.Markdown {
				exercise = exercise || strings.HasPrefix(c.Source, "## Exercise")
				limits = limits || strings.HasPrefix(c.Source, "## What this can't tell")
				continue
			}
			if c.HasTag("parameters") {
				parameters++
			}
			if n := strings.Count(strings.TrimSpace(c.Source), "\n") + 1; n > 15 {
				t.Errorf("cell %d has %d lines", i+1, n)
			}
			if strings.Contains(c.Source, "func ") && strings.Contains(c.Source, "return") && strings.Count(c.Source, "\n") > 6 {
				t.Errorf("cell %d: a function of its own belongs into a package", i+1)
			}
			if strings.Contains(c.Source, "%%") && len(c.Outputs) == 0 {
				t.Errorf("cell %d was not run", i+1)
			}
		}
		solution := strings.Contains(t.Name(), "solutions/")
		if parameters != 1 || !solution && (!exercise || !limits) {
			t.Errorf("%d parameter cells, exercise %v, limits %v", parameters, exercise, limits)
		}
	})
}

var (
	stated = regexp.MustCompile(`[−+-]?\d+(?:[.,]\d+)?`)
	words  = regexp.MustCompile("`[^`]*`")
)

// A number that the text names is one that the code sets or a cell computes: it
// stands in the code or in an output of the notebook. Exercises ask for numbers
// of their own.
func TestNumbersInTheTextAreComputed(t *testing.T) {
	courseNotebooks(t, func(t *testing.T, nb *nbformat.Notebook) {
		var there strings.Builder
		for _, c := range nb.Cells {
			if c.Type != nbformat.Code {
				continue
			}
			there.WriteString(c.Source + "\n")
			for _, o := range c.Outputs {
				text, _ := o.Data["text/plain"].(string)
				there.WriteString(o.Text + text + "\n")
			}
		}
		known := stated.FindAllString(there.String(), -1)
		for i, n := range known {
			known[i] = strings.TrimLeft(n, "−+-")
		}
		for i, c := range nb.Cells {
			if c.Type != nbformat.Markdown || c.HasTag("exercise") || c.HasTag("source") {
				continue
			}
			for _, n := range stated.FindAllString(words.ReplaceAllString(c.Source, ""), -1) {
				n = strings.TrimLeft(n, "−+-")
				if len(n) > 1 && !slices.Contains(known, n) { // a single digit counts things
					t.Errorf("cell %d states %s, which nothing in the notebook computes", i+1, n)
				}
			}
		}
	})
}

// One notebook of the course runs with the tests; CI runs all.
func TestCourseRunsAnew(t *testing.T) {
	code, stdout, stderr := command(t, "course", "-check", "04")
	if code != exitDone || !strings.Contains(stdout, "as it was") {
		t.Errorf("exit code %d, %s%s", code, stdout, stderr)
	}
	if code, _, stderr := command(t, "course", "nonesuch"); code != exitFailed || !strings.Contains(stderr, "nonesuch") {
		t.Errorf("exit code %d, %s", code, stderr)
	}
}

// Every link of the site leads somewhere, and every notebook is on it.
func TestSiteIsWhole(t *testing.T) {
	out := t.TempDir()
	if code, _, stderr := command(t, "site", "-o", out); code != exitDone {
		t.Fatal(stderr)
	}
	pages := map[string]*html.Node{}
	err := filepath.WalkDir(out, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		pages[path], err = html.Parse(bytes.NewReader(text))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	lessons, solutions, err := courseFiles("..")
	if err != nil {
		t.Fatal(err)
	}
	if want := len(lessons) + len(solutions) + 1; len(pages) != want {
		t.Errorf("%d pages, want %d", len(pages), want)
	}
	for path, doc := range pages {
		for n := range doc.Descendants() {
			for _, a := range n.Attr {
				if a.Key != "href" || strings.HasPrefix(a.Val, "data:") || strings.HasPrefix(a.Val, "https:") {
					continue
				}
				to, err := url.Parse(a.Val)
				if err != nil {
					t.Fatal(err)
				}
				target := path
				if to.Path != "" {
					target = filepath.Join(filepath.Dir(path), to.Path)
				}
				if pages[target] == nil || to.Fragment != "" && !hasID(pages[target], to.Fragment) {
					t.Errorf("%s: %s leads nowhere", filepath.Base(path), a.Val)
				}
			}
		}
	}
}

func hasID(doc *html.Node, id string) bool {
	for n := range doc.Descendants() {
		for _, a := range n.Attr {
			if a.Key == "id" && a.Val == id {
				return true
			}
		}
	}
	return false
}
