package docs_test

import (
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// named matches a function, method or type as methods.md writes it.
var named = regexp.MustCompile("`([a-z]+)\\.([A-Z][A-Za-z0-9]*)(?:\\.([A-Z][A-Za-z0-9]*))?`")

// exported returns what a package offers: "Read", "Group" and "Group.Radius".
func exported(p pkg) map[string]bool {
	found := map[string]bool{}
	for _, f := range p.Funcs {
		found[f.Name] = true
	}
	for _, of := range p.Types {
		found[of.Name] = true
		for _, f := range of.Funcs {
			found[f.Name] = true
		}
		for _, m := range of.Methods {
			found[of.Name+"."+m.Name] = true
		}
	}
	return found
}

// Every name in the index of methods is there, and what somebody would start from
// has an Example that runs.
func TestMethodsNamesWhatThereIs(t *testing.T) {
	page, err := os.ReadFile("methods.md")
	if err != nil {
		t.Fatal(err)
	}
	packages := publicPackages(t)
	index, rest, ok := strings.Cut(string(page), "## One group")
	if !ok || len(rest) == 0 {
		t.Fatal("methods.md has no section on one group")
	}
	checked := 0
	for _, m := range named.FindAllStringSubmatch(string(page), -1) {
		name := strings.TrimSuffix(m[2]+"."+m[3], ".")
		folder := path.Join("dispersion", m[1])
		if m[1] == "dispersion" {
			folder = m[1]
		}
		p, ok := packages[folder]
		if !ok || !exported(p)[name] {
			t.Errorf("methods.md names %s.%s, which is not there", m[1], name)
			continue
		}
		checked++
		if strings.Contains(index, m[0]) && !shown(p)[name] {
			t.Errorf("%s.%s is in the index and has no Example with // Output:", m[1], name)
		}
	}
	if checked < 200 {
		t.Errorf("only %d names found", checked)
	}
}

// without are exported functions that answer no question by themselves: they prepare
// what others take, say in words what others found, or are parts of others.
var without = []string{
	"dispersion.NewGroup", "dispersion.Median", "dispersion.ShotAngle",
	"compare.BlockLength", "compare.LogAreaRatio", "compare.SerialSentence", "compare.SmallestCarry", "compare.Jeffreys", "compare.WeakPrior", "compare.PosteriorAreaRatio",
	"flight.Geopotential", "flight.SeaLevel", "flight.ShotsOf", "flight.FormDoubt", "flight.Illustrative", "flight.ShapeOf",
	"lesson.ReadPackage", "lesson.ReadMapping", "lesson.ReadSessions", "lesson.ReadTime",
	"practice.DemoStudy", "practice.LimitPhaseI", "practice.LimitPhaseII", "practice.LimitRunLength", "practice.LogRadius", "practice.Pseudonym",
	"practice.RankVonNeumannCritical", "practice.WritePool", "practice.ReadPool", "practice.StageColumns",
	"strokes.ByClub", "strokes.ByHole", "strokes.ByLie", "strokes.ByRound", "strokes.Relative", "strokes.Gained", "strokes.WriteBaseline", "strokes.CommonHole",
	"strokes.ReadHole", "strokes.Lies", "strokes.ParseLie", "strokes.ReadLog", "strokes.Outcomes", "strokes.NewPattern", "strokes.StatedPattern",
	"strokes.IllustrativePlayers", "strokes.ReadPutts",
	"archive.MeanCarry", "archive.MeanSide", "archive.Radius", "archive.Create",
}

// Every function of the library is in methods.md, or in the list above.
func TestMethodsLeavesNothingOut(t *testing.T) {
	page, err := os.ReadFile("methods.md")
	if err != nil {
		t.Fatal(err)
	}
	excused := map[string]bool{}
	for _, name := range without {
		excused[name] = false
	}
	for folder, p := range publicPackages(t) {
		name := path.Base(folder)
		if !strings.HasPrefix(folder, "dispersion") || name == "chart" { // pictures have a gallery of their own
			continue
		}
		functions := map[string]bool{}
		for _, f := range p.Funcs {
			functions[f.Name] = true
		}
		for _, of := range p.Types {
			for _, f := range of.Funcs {
				functions[f.Name] = true
			}
		}
		for _, f := range slices.Sorted(maps.Keys(functions)) {
			full := name + "." + f
			_, listed := excused[full]
			switch inPage := strings.Contains(string(page), "`"+full+"`"); {
			case listed && inPage:
				t.Errorf("%s is in methods.md: take it out of the list of those left out", full)
			case listed:
				excused[full] = true
			case !inPage:
				t.Errorf("%s is neither in methods.md nor among those left out", full)
			}
		}
	}
	for name, seen := range excused {
		if !seen && !strings.Contains(string(page), "`"+name+"`") {
			t.Errorf("%s is left out and not there at all", name)
		}
	}
}

// cited matches a source as methods.md writes it: "Hotelling 1931", "Efron &
// Tibshirani 1993", "Pérez-Ortiz et al. 2024".
var cited = regexp.MustCompile(`(\p{Lu}[\p{L}-]+)(?: et al\.|,? [&\p{L} -]+?)? (1[89]\d\d|20\d\d)\b`)

// Every source in methods.md is one that a comment in the library names in full.
func TestMethodsNamesSourcesOfTheCode(t *testing.T) {
	page, err := os.ReadFile("methods.md")
	if err != nil {
		t.Fatal(err)
	}
	var comments []string
	walk(t, func(file string) {
		if !strings.HasPrefix(filepath.ToSlash(file), "../dispersion/") || path.Ext(file) != ".go" || strings.HasSuffix(file, "_test.go") {
			return
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range parsed.Comments {
			comments = append(comments, c.Text())
		}
	})
	sources := 0
	for line := range strings.SplitSeq(string(page), "\n") {
		cells := strings.Split(line, " | ")
		if len(cells) != 5 {
			continue
		}
		for _, m := range cited.FindAllStringSubmatch(cells[4], -1) {
			sources++
			if !slices.ContainsFunc(comments, func(c string) bool { return strings.Contains(c, m[1]) && strings.Contains(c, m[2]) }) {
				t.Errorf("%s is a source that no comment in the library names", m[0])
			}
		}
	}
	if sources < 60 {
		t.Errorf("only %d sources found", sources)
	}
}

var link = regexp.MustCompile(`\]\(([^)#:]+)(?:#[^)]*)?\)`)

// Relative links of the documentation lead to files.
func TestLinksOfTheDocumentation(t *testing.T) {
	pages, err := filepath.Glob("*.md")
	if err != nil {
		t.Fatal(err)
	}
	deeper, err := filepath.Glob("*/*.md")
	if err != nil {
		t.Fatal(err)
	}
	links := 0
	for _, page := range append(append(pages, deeper...), "../README.md", "../DEVELOPERS.md") {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range link.FindAllStringSubmatch(string(text), -1) {
			links++
			if _, err := os.Stat(filepath.Join(filepath.Dir(page), filepath.FromSlash(m[1]))); err != nil {
				t.Errorf("%s links to %s: %v", page, m[1], err)
			}
		}
	}
	if links < 40 {
		t.Errorf("only %d links found", links)
	}
}
