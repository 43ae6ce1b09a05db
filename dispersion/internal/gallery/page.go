package main

import (
	"bytes"
	"embed"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"reflect"
	"runtime"
	"strings"

	"github.com/landfall-golf/landfall/dispersion/compare"
)

//go:embed demo.go figure_*.go
var sources embed.FS

const pageHead = `# The gallery

One figure of each kind that package chart draws, from the invented demo data, with the code that draws it. ` + "`d`" + ` holds the demo
lesson, as [demo.go](../../dispersion/internal/gallery/demo.go) reads it. The page and its pictures are made by

    go run ./dispersion/internal/gallery

and a test holds them against the code: the same elements and texts, numbers to within a twentieth of a point. Nothing is told by
colour alone; to see the figures in grey and as two kinds of colour-blind eyes see them, run it with ` + "`-look DIR`" + `.
`

// page returns the files of the gallery: README.md and an SVG for each figure.
func page(d *demo, entries []entry) (map[string][]byte, error) {
	code, err := functions()
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	var md bytes.Buffer
	md.WriteString(pageHead)
	for _, e := range entries {
		f, err := e.draw(d)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", e.name, err)
		}
		svg, err := f.SVG()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", e.name, err)
		}
		file := strings.ToLower(e.name) + ".svg"
		files[file] = svg
		fmt.Fprintf(&md, "\n## %s\n\n%s\n\n![%s](%s)\n\n```go\n%s\n```\n", e.name, e.shows, escaped(f.Alt()), file, code[nameOf(e)])
	}
	w, err := compare.ShuffleWall(d.before, d.after, compare.Options{Seed: wallSeed})
	if err != nil {
		return nil, err
	}
	fmt.Fprintf(&md, "\n## Key of the wall\n\n%s\n", w.Key())
	files["README.md"] = md.Bytes()
	return files, nil
}

// escaped makes an alt text fit to stand between square brackets.
func escaped(alt string) string { return strings.NewReplacer("[", "(", "]", ")").Replace(alt) }

// nameOf returns the name of the function that draws an entry.
func nameOf(e entry) string {
	name := runtime.FuncForPC(reflect.ValueOf(e.draw).Pointer()).Name()
	return name[strings.LastIndex(name, ".")+1:]
}

// functions returns the source of every function of the embedded files.
func functions() (map[string]string, error) {
	names, err := fs.Glob(sources, "*.go")
	if err != nil {
		return nil, err
	}
	code := map[string]string{}
	for _, name := range names {
		text, err := sources.ReadFile(name)
		if err != nil {
			return nil, err
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, name, text, 0)
		if err != nil {
			return nil, err
		}
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok {
				code[f.Name.Name] = string(text[set.Position(f.Pos()).Offset:set.Position(f.End()).Offset])
			}
		}
	}
	return code, nil
}
