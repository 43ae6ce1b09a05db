package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"html"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
	"github.com/landfall-golf/landfall/notebooks/internal/page"
)

// site writes the course as pages, from the outputs that its notebooks carry.
func site(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("site", flag.ContinueOnError)
	flags.SetOutput(stderr)
	out := flags.String("o", "", "the `folder` to write to (default notebooks/out/site in the module)")
	flags.Usage = func() {
		fmt.Fprintln(stderr, "usage: go run ./notebooks site [-o folder]\nWrites the course as pages that need nothing else.")
		flags.PrintDefaults()
	}
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return exitDone
		}
		return exitUsage
	}
	if err := writeSite(*out, stdout); err != nil {
		fmt.Fprintf(stderr, "landfall: %v\n", err)
		return exitFailed
	}
	return exitDone
}

// A sitePage is one notebook of the site.
type sitePage struct {
	name  string // of its file, without the ending
	title string
	about string // the first paragraph
	nb    *nbformat.Notebook
}

func writeSite(out string, stdout io.Writer) error {
	root, err := moduleRoot()
	if err != nil {
		return err
	}
	if out == "" {
		out = filepath.Join(root, "notebooks", "out", "site")
	}
	lessons, solutions, err := courseFiles(root)
	if err != nil {
		return err
	}
	pages, err := sitePages(lessons)
	if err != nil {
		return err
	}
	answers, err := sitePages(solutions)
	if err != nil {
		return err
	}
	for i, p := range pages {
		around := &page.Around{Home: page.Link{Title: "The course", Address: "index.html"}}
		if i > 0 {
			around.Previous = page.Link{Title: pages[i-1].title, Address: pages[i-1].name + ".html"}
		}
		if i < len(pages)-1 {
			around.Next = page.Link{Title: pages[i+1].title, Address: pages[i+1].name + ".html"}
		}
		if err := p.write(filepath.Join(out, p.name+".html"), around); err != nil {
			return err
		}
	}
	for _, p := range answers {
		around := &page.Around{Home: page.Link{Title: "The course", Address: "../index.html"}}
		if err := p.write(filepath.Join(out, "solutions", p.name+".html"), around); err != nil {
			return err
		}
	}
	if err := writeWhole(filepath.Join(out, "index.html"), index(pages)); err != nil {
		return err
	}
	_, err = fmt.Fprintf(stdout, "The course: %s\n", filepath.Join(out, "index.html"))
	return err
}

func sitePages(files []string) ([]sitePage, error) {
	pages := make([]sitePage, len(files))
	for i, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		nb, err := nbformat.Read(bytes.NewReader(text))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", filepath.Base(file), err)
		}
		pages[i] = sitePage{name: strings.TrimSuffix(filepath.Base(file), ".ipynb"), nb: nb}
		if len(nb.Cells) > 0 {
			heading, rest, _ := strings.Cut(nb.Cells[0].Source, "\n")
			pages[i].title = strings.TrimSpace(strings.TrimLeft(heading, "# "))
			pages[i].about, _, _ = strings.Cut(strings.TrimSpace(rest), "\n\n")
		}
		if pages[i].title == "" {
			return nil, fmt.Errorf("%s: its first cell is no title", filepath.Base(file))
		}
	}
	return pages, nil
}

func (p sitePage) write(path string, around *page.Around) error {
	var b bytes.Buffer
	if err := page.Write(&b, p.nb, page.Options{Around: around}); err != nil {
		return err
	}
	return writeWhole(path, b.Bytes())
}

// index is the page that lists the others. It leaves the solutions out: a
// teacher knows where they are.
func index(pages []sitePage) []byte {
	var list strings.Builder
	list.WriteString("<ol>\n")
	for _, p := range pages {
		fmt.Fprintf(&list, "<li><a href=\"%s.html\">%s</a><br>%s</li>\n", p.name, html.EscapeString(p.title), html.EscapeString(p.about))
	}
	list.WriteString("</ol>\n")
	return page.Plain("What the balls can tell: a course", list.String())
}
