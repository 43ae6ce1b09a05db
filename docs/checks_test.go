// Package docs_test holds the pages of this folder against the code they speak of.
package docs_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// The three kinds of tables on checks.md, by their columns.
const (
	statusTable  = "status | what it means"
	checksTable  = "what | source | status | tolerance | test"
	programTable = "program | runs with | makes"
)

var statuses = []string{"published", "recomputed", "mathematics", "simulated", "common practice", "from memory"}

// A row is one line of a table of checks.md.
type row struct {
	line  int
	table string
	cells []string
}

// checksPage returns the rows of all tables, headers left out.
func checksPage(t *testing.T) (rows []row) {
	t.Helper()
	page, err := os.ReadFile("checks.md")
	if err != nil {
		t.Fatal(err)
	}
	table, head := "", 0
	for i, line := range strings.Split(string(page), "\n") {
		cells := strings.Split(strings.TrimSuffix(strings.TrimPrefix(line, "|"), "|"), "|")
		for j := range cells {
			cells[j] = strings.TrimSpace(cells[j])
		}
		switch {
		case line == "": // only a blank line ends a table, so that no row that lost its bar is passed over
			table = ""
		case table == "" && strings.HasPrefix(line, "|"):
			table, head = strings.Join(cells, " | "), i
		case table != "" && i == head+1:
			if strings.Trim(line, "|- ") != "" {
				t.Errorf("line %d: the line below the head of a table is %q, want | --- |", i+1, line)
			}
		case table != "":
			rows = append(rows, row{i + 1, table, cells})
		}
	}
	return rows
}

// ofTable returns the rows of one kind of table, and fails if there are none.
func ofTable(t *testing.T, table string) []row {
	t.Helper()
	rows := slices.DeleteFunc(checksPage(t), func(r row) bool { return r.table != table })
	if len(rows) == 0 {
		t.Fatalf("checks.md has no table with the columns %s", table)
	}
	return rows
}

// inCode returns what a cell holds between backticks.
func inCode(cell string) (words []string) {
	for _, m := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(cell, -1) {
		words = append(words, m[1])
	}
	return words
}

func TestRowsAreWhole(t *testing.T) {
	for _, r := range checksPage(t) {
		if !slices.Contains([]string{statusTable, checksTable, programTable}, r.table) {
			t.Errorf("line %d is in a table with the columns %s, which is none of the three kinds", r.line, r.table)
		}
		if want := strings.Count(r.table, "|") + 1; len(r.cells) != want || slices.Contains(r.cells, "") {
			t.Errorf("line %d has the cells %q, want %d and none empty", r.line, r.cells, want)
		}
	}
}

func TestStatusesAreKnown(t *testing.T) {
	var told []string
	for _, r := range ofTable(t, statusTable) {
		told = append(told, r.cells[0])
	}
	if !slices.Equal(told, statuses) {
		t.Errorf("the page explains the statuses %q, want %q", told, statuses)
	}
	for _, r := range ofTable(t, checksTable) {
		for status := range strings.SplitSeq(r.cells[2], ", ") {
			if !slices.Contains(statuses, status) {
				t.Errorf("line %d: no status %q", r.line, status)
			}
		}
	}
}

// A testFunc is a test, example or fuzz target of the module.
type testFunc struct {
	file    string
	sourced bool // a comment on it or in it begins with Source
}

// namesSource matches the comments that say where values come from: "Source:",
// "Sources:", "Source for the 5:".
var namesSource = regexp.MustCompile(`(?m)^Sources?( for [^:\n]+)?:`)

// testFuncs returns the tests of the module by package.TestName. A name that
// two packages share has two.
func testFuncs(t *testing.T) map[string][]testFunc {
	t.Helper()
	found := map[string][]testFunc{}
	walk(t, func(path string) {
		if !strings.HasSuffix(path, "_test.go") {
			return
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || f.Recv != nil || !regexp.MustCompile(`^(Test|Example|Fuzz)`).MatchString(f.Name.Name) {
				continue
			}
			begin := f.Pos()
			if f.Doc != nil {
				begin = f.Doc.Pos()
			}
			it := testFunc{file: path}
			for _, c := range file.Comments {
				it.sourced = it.sourced || begin <= c.Pos() && c.Pos() < f.End() && namesSource.MatchString(c.Text())
			}
			name := strings.TrimSuffix(file.Name.Name, "_test") + "." + f.Name.Name
			found[name] = append(found[name], it)
		}
	})
	return found
}

// walk calls f with every file of the module, relative to this folder.
func walk(t *testing.T, f func(path string)) {
	t.Helper()
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case !d.IsDir():
			f(path)
		case d.Name() != ".." && strings.HasPrefix(d.Name(), "."):
			return fs.SkipDir
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestEveryCheckExists(t *testing.T) {
	found := testFuncs(t)
	for _, r := range ofTable(t, checksTable) {
		cell := r.cells[len(r.cells)-1]
		names := inCode(cell)
		if cell != "`"+strings.Join(names, "`, `")+"`" {
			t.Errorf("line %d: the last cell is %s, want names in backticks with commas between them", r.line, cell)
		}
		for _, name := range names {
			if n := len(found[name]); n != 1 {
				t.Errorf("line %d: there are %d tests called %s, want 1", r.line, n, name)
			}
		}
	}
}

// The other way round: a test that names a source is an outside check, and
// belongs on the page.
func TestEverySourceHasARow(t *testing.T) {
	listed := map[string]bool{}
	for _, r := range ofTable(t, checksTable) {
		for _, name := range inCode(r.cells[len(r.cells)-1]) {
			listed[name] = true
		}
	}
	sourced := 0
	for name, funcs := range testFuncs(t) {
		for _, f := range funcs {
			if !f.sourced {
				continue
			}
			sourced++
			if !listed[name] {
				t.Errorf("%s in %s names a source, but checks.md has no row for it", name, f.file)
			}
		}
	}
	if sourced == 0 {
		t.Error("no test names a source, so this test shows nothing")
	}
}

// Programs that made values are on the page, and those on the page exist. What
// is not data is a program, whatever it is written in.
func TestEveryProgramHasARow(t *testing.T) {
	data := []string{".json", ".csv", ".md", ".ipynb"}
	var have []string
	walk(t, func(path string) {
		folders := strings.Split(filepath.ToSlash(filepath.Dir(path)), "/")
		// testdata/fuzz and testdata/rapid hold inputs that made a test fail.
		found := slices.Contains(folders, "fuzz") || slices.Contains(folders, "rapid")
		if slices.Contains(folders, "testdata") && !found && !slices.Contains(data, filepath.Ext(path)) {
			have = append(have, strings.TrimPrefix(filepath.ToSlash(path), "../"))
		}
	})
	var told []string
	for _, r := range ofTable(t, programTable) {
		told = append(told, inCode(r.cells[0])...)
	}
	for _, program := range have {
		if !slices.Contains(told, program) {
			t.Errorf("%s is not on the page; if it is data, its ending belongs into this test", program)
		}
	}
	for _, program := range told {
		if !slices.Contains(have, program) {
			t.Errorf("the page names %s, which does not exist", program)
		}
	}
}
