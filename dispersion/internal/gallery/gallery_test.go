package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
)

const folder = "../../../docs/gallery"

// drawn is the page, drawn once for all tests.
var drawn = sync.OnceValues(func() (map[string][]byte, error) {
	d, err := newDemo()
	if err != nil {
		return nil, err
	}
	return page(d, entries)
})

func mustPage(t *testing.T) map[string][]byte {
	t.Helper()
	files, err := drawn()
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// The pictures in docs/gallery are regression pictures: each figure is drawn anew
// and must have the same elements and texts, and numbers within a twentieth of a
// point.
func TestGalleryIsWhatTheCodeDraws(t *testing.T) {
	const stale = "run `go run ./dispersion/internal/gallery` and look at what changed"
	files := mustPage(t)
	for name, want := range files {
		got, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			t.Errorf("%v: %s", err, stale)
			continue
		}
		if name == "README.md" {
			if !bytes.Equal(got, want) {
				t.Errorf("README.md is stale: %s", stale)
			}
			continue
		}
		if err := sameDrawing(got, want); err != nil {
			t.Errorf("%s: %v: %s", name, err, stale)
		}
	}
	there, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	total := int64(0)
	for _, f := range there {
		if files[f.Name()] == nil {
			t.Errorf("%s is in the folder and not in the gallery", f.Name())
		}
		if info, err := f.Info(); err == nil {
			total += info.Size()
		}
	}
	if total > 600<<10 {
		t.Errorf("the gallery takes %d bytes: keep the docs small", total)
	}
}

var number = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?(e-?[0-9]+)?`)

// sameDrawing compares two SVGs: elements, attributes and texts in their order,
// texts and alt text to the letter, numbers of places and sizes to a twentieth.
func sameDrawing(a, b []byte) error {
	const tolerance = 0.05
	x, y := xml.NewDecoder(bytes.NewReader(a)), xml.NewDecoder(bytes.NewReader(b))
	for at := 1; ; at++ {
		p, errA := x.Token()
		q, errB := y.Token()
		if errA == io.EOF && errB == io.EOF {
			return nil
		}
		if err := errors.Join(errA, errB); err != nil {
			return fmt.Errorf("token %d: %w", at, err)
		}
		switch p := p.(type) {
		case xml.CharData:
			if q, ok := q.(xml.CharData); !ok || string(p) != string(q) {
				return fmt.Errorf("token %d: the text %q is now %v", at, p, q)
			}
		case xml.EndElement:
			if q, ok := q.(xml.EndElement); !ok || p.Name != q.Name {
				return fmt.Errorf("token %d: the end of %s is now %v", at, p.Name.Local, q)
			}
		case xml.StartElement:
			q, ok := q.(xml.StartElement)
			if !ok || p.Name != q.Name || len(p.Attr) != len(q.Attr) {
				return fmt.Errorf("token %d: the element %s is now %v", at, p.Name.Local, q)
			}
			for i, m := range p.Attr {
				n := q.Attr[i]
				if m.Name != n.Name || number.ReplaceAllString(m.Value, "#") != number.ReplaceAllString(n.Value, "#") || m.Name.Local == "aria-label" && m.Value != n.Value {
					return fmt.Errorf("token %d: %s=%q is now %s=%q", at, m.Name.Local, m.Value, n.Name.Local, n.Value)
				}
				was, is := number.FindAllString(m.Value, -1), number.FindAllString(n.Value, -1)
				for k := range was {
					u, errU := strconv.ParseFloat(was[k], 64)
					v, errV := strconv.ParseFloat(is[k], 64)
					if errU != nil || errV != nil || math.Abs(u-v) > tolerance {
						return fmt.Errorf("token %d: %s of %s is now %s in %s", at, was[k], p.Name.Local, is[k], m.Name.Local)
					}
				}
			}
		}
	}
}

// The comparison sees what it is there to see.
func TestSameDrawingSeesChanges(t *testing.T) {
	const svg = `<svg aria-label="4 balls"><path d="M1.5,2L3,4" style="stroke:#0072B2"/><text x="1">old</text></svg>`
	if err := sameDrawing([]byte(svg), []byte(strings.Replace(svg, "L3,", "L3.04,", 1))); err != nil {
		t.Errorf("a twentieth of a point: %v", err)
	}
	for was, is := range map[string]string{
		"L3,": "L3.06,", "4 balls": "5 balls", "old": "new", "#0072B2": "#D55E00", "path": "line", `<text x="1">old</text>`: "", `x="1"`: `y="1"`,
	} {
		if sameDrawing([]byte(svg), []byte(strings.Replace(svg, was, is, 1))) == nil {
			t.Errorf("%q for %q was not seen", is, was)
		}
	}
}

// Every function of package chart that makes a figure is in the gallery.
func TestEveryFigureIsInTheGallery(t *testing.T) {
	var made, shown []string
	paths, err := filepath.Glob("../../chart/*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || f.Recv != nil || !f.Name.IsExported() || f.Type.Results == nil {
				continue
			}
			if first, ok := f.Type.Results.List[0].Type.(*ast.Ident); ok && first.Name == "Figure" {
				made = append(made, f.Name.Name)
			}
		}
	}
	for _, e := range entries {
		shown = append(shown, e.name)
	}
	slices.Sort(made)
	slices.Sort(shown)
	if !slices.Equal(made, shown) {
		t.Errorf("the gallery shows %v, package chart draws %v: add an entry in entries.go", shown, made)
	}
}

// Each picture stands beside the code that draws it, which calls the function it
// is named for.
func TestTheCodeShownIsTheCodeThatDraws(t *testing.T) {
	code, err := functions()
	if err != nil {
		t.Fatal(err)
	}
	readme := string(mustPage(t)["README.md"])
	for _, e := range entries {
		text := code[nameOf(e)]
		if !strings.Contains(text, "chart."+e.name+"(") || !strings.Contains(readme, text) {
			t.Errorf("%s: the page shows %q", e.name, text)
		}
	}
}

// A figure has one view for each eye, and they differ.
func TestViews(t *testing.T) {
	d, err := newDemo()
	if err != nil {
		t.Fatal(err)
	}
	files, err := views(d, entries[:1])
	if err != nil || len(files) != len(eyes) {
		t.Fatalf("%d views for %d eyes: %v", len(files), len(eyes), err)
	}
	for i, a := range eyes {
		for _, b := range eyes[:i] {
			if bytes.Equal(files["Stages-"+a.name+".png"], files["Stages-"+b.name+".png"]) {
				t.Errorf("%s and %s see the same", a.name, b.name)
			}
		}
	}
}
