package docs_test

import (
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"maps"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const module = "github.com/landfall-golf/landfall"

// A pkg is the documentation of a package, with the Examples of its tests.
type pkg struct {
	*doc.Package
	set *token.FileSet
}

// publicPackages returns the packages that others may import, by their folder:
// the library with all its rooms, the data sets, and package show for notebooks.
// A new room is found by itself.
func publicPackages(t *testing.T) map[string]pkg {
	t.Helper()
	set := token.NewFileSet()
	files := map[string][]*ast.File{}
	walk(t, func(name string) {
		name = filepath.ToSlash(name)
		folder := strings.TrimPrefix(path.Dir(name), "../")
		parts := strings.Split(folder, "/")
		public := parts[0] == "dispersion" || parts[0] == "datasets" || folder == "notebooks/show"
		if !public || slices.Contains(parts, "internal") || slices.Contains(parts, "testdata") || path.Ext(name) != ".go" {
			return
		}
		file, err := parser.ParseFile(set, name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		files[folder] = append(files[folder], file)
	})
	packages := map[string]pkg{}
	for folder, parsed := range files {
		p, err := doc.NewFromFiles(set, parsed, module+"/"+folder)
		if err != nil {
			t.Fatal(err)
		}
		packages[folder] = pkg{p, set}
	}
	if len(packages) < 10 {
		t.Fatalf("found %d packages, want at least the ten there were", len(packages))
	}
	return packages
}

// packageOf returns the documentation of a package of one source text, with the
// Examples of another.
func packageOf(t *testing.T, source, examples string) pkg {
	t.Helper()
	set := token.NewFileSet()
	var files []*ast.File
	for name, text := range map[string]string{"madeup.go": source, "madeup_test.go": examples} {
		file, err := parser.ParseFile(set, name, text, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, file)
	}
	p, err := doc.NewFromFiles(set, files, "madeup")
	if err != nil {
		t.Fatal(err)
	}
	return pkg{p, set}
}

// runs tells whether go test runs an Example and holds its output against what
// the comment says.
func runs(e *doc.Example) bool { return e.Output != "" || e.EmptyOutput }

// shown returns the Examples that go test runs, by what they are of: "Read" or
// "Group.Radius", "" for the package.
func shown(p pkg) map[string]bool {
	found := map[string]bool{}
	add := func(name string, examples []*doc.Example) {
		found[name] = slices.ContainsFunc(examples, runs)
	}
	add("", p.Examples)
	for _, f := range p.Funcs {
		add(f.Name, f.Examples)
	}
	for _, of := range p.Types {
		add(of.Name, of.Examples)
		for _, f := range of.Funcs {
			add(f.Name, f.Examples)
		}
		for _, m := range of.Methods {
			add(of.Name+"."+m.Name, m.Examples)
		}
	}
	return found
}

func TestEveryPackageHasAnExampleThatRuns(t *testing.T) {
	for folder, p := range publicPackages(t) {
		if !slices.Contains(slices.Collect(maps.Values(shown(p))), true) {
			t.Errorf("%s has no Example with // Output:", folder)
		}
	}
}

// An Example counts only where go test runs it.
func TestShownExamples(t *testing.T) {
	const source = `// Package madeup is made up.
package madeup

// Mean returns the mean.
func Mean() {}

// Median returns the median.
func Median() {}

// A Shot is one ball.
type Shot int

// Carry returns the carry.
func (Shot) Carry() {}
`
	const examples = `package madeup_test

func ExampleMean() {
	// Output: 3
}

func ExampleMedian() {}

func ExampleShot_Carry() {
	// Output:
}
`
	found := shown(packageOf(t, source, examples))
	for name, want := range map[string]bool{"Mean": true, "Median": false, "Shot": false, "Shot.Carry": true, "": false} {
		if found[name] != want {
			t.Errorf("%q shown: %t, want %t", name, found[name], want)
		}
	}
}
