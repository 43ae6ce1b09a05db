package docs_test

import (
	"fmt"
	"go/ast"
	"go/doc"
	"go/token"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// What may be said of a doc comment without reading it:
//
//   - a package has one that begins "Package name";
//   - a type, a function and a method has one whose first sentence names it
//     within its first three words ("An Effect is", "Mean returns");
//   - a constant or variable has one of its own, behind it, or of its group;
//   - an exported field of an exported struct has one of its own, behind it,
//     or above the run of lines it stands in, up to the next blank line or
//     comment above a field; or the type's comment uses its name as a word; or
//     it is embedded or named like its type, whose comment then speaks for it;
//     or it is one of the fields that mean the same everywhere, below.
//
// Error and Unwrap of an error have nothing to add to package errors.
func undocumented(p pkg) (missing []string) {
	miss := func(format string, args ...any) { missing = append(missing, fmt.Sprintf(format, args...)) }
	if !strings.HasPrefix(p.Doc, "Package "+p.Name+" ") {
		miss("package %s: the comment does not begin with Package %s", p.Name, p.Name)
	}
	function := func(name string, f *doc.Func) {
		if !names(f.Doc, f.Name) {
			miss("%s: the comment does not name it at once: %.40q", name, f.Doc)
		}
	}
	for _, f := range p.Funcs {
		function(f.Name, f)
	}
	values := append(slices.Clone(p.Consts), p.Vars...)
	for _, of := range p.Types {
		values = append(append(values, of.Consts...), of.Vars...)
		if !names(of.Doc, of.Name) {
			miss("%s: the comment does not name it at once: %.40q", of.Name, of.Doc)
		}
		for _, f := range of.Funcs {
			function(f.Name, f)
		}
		for _, m := range of.Methods {
			if m.Name != "Error" && m.Name != "Unwrap" {
				function(of.Name+"."+m.Name, m)
			}
		}
		for _, field := range bareFields(p.set, of) {
			miss("%s.%s: the field has no comment", of.Name, field)
		}
	}
	for _, group := range values {
		for _, s := range group.Decl.Specs {
			spec := s.(*ast.ValueSpec)
			if group.Doc == "" && spec.Doc.Text() == "" && spec.Comment.Text() == "" {
				miss("%s: the value has no comment", spec.Names[0].Name)
			}
		}
	}
	return missing
}

// sameEverywhere are the fields that mean one thing in every struct, which
// DEVELOPERS.md tells once. A comment is for what is different in one of them.
var sameEverywhere = []string{
	"N", "N1", "N2", "Name", "Unit", "Method", "Level", "Seed", "Resamples", "Warnings", // results
	"Reason", "Err", // errors
	"Pupil", "Session", "Stage", "Intent", "Club", // of a lesson's shots
}

// names tells whether one of the first three words of a comment is the name.
func names(comment, name string) bool {
	words := strings.FieldsFunc(comment, func(r rune) bool { return strings.ContainsRune(" \n,.:;'’", r) })
	return slices.Contains(words[:min(3, len(words))], name)
}

// bareFields returns the exported fields of a struct that nothing explains.
func bareFields(set *token.FileSet, of *doc.Type) (bare []string) {
	for _, s := range of.Decl.Specs {
		structure, ok := s.(*ast.TypeSpec).Type.(*ast.StructType)
		if !ok {
			continue
		}
		headed, end := false, 0
		for _, f := range structure.Fields.List {
			headed = f.Doc.Text() != "" || headed && set.Position(f.Pos()).Line == end+1
			end = set.Position(f.End()).Line
			if headed || f.Comment.Text() != "" {
				continue
			}
			for _, name := range f.Names {
				if ast.IsExported(name.Name) && !speaksFor(of.Doc, name.Name) && !slices.Contains(sameEverywhere, name.Name) && typeName(f.Type) != name.Name {
					bare = append(bare, name.Name)
				}
			}
		}
	}
	return bare
}

// speaksFor tells whether a comment uses the name of a field as a word, in
// capitals or not, in the plural or not. Names of less than four letters, such as
// For, must stand as they are.
func speaksFor(comment, name string) bool {
	pattern := `\b` + name + `\b`
	if len(name) > 3 {
		pattern = `(?i)\b` + strings.TrimSuffix(name, "s") + `s?\b`
	}
	return regexp.MustCompile(pattern).MatchString(comment)
}

// typeName returns the name of a field's type, of another package or not.
func typeName(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		return e.Sel.Name
	case *ast.StarExpr:
		return typeName(e.X)
	}
	return ""
}

func TestEveryExportedNameHasAComment(t *testing.T) {
	packages := publicPackages(t)
	for _, folder := range slices.Sorted(maps.Keys(packages)) {
		for _, missing := range undocumented(packages[folder]) {
			t.Errorf("%s: %s", folder, missing)
		}
	}
}

// The rule finds what it is for: each of these sources breaks it in one way, or
// keeps it in one.
func TestCommentRule(t *testing.T) {
	const head = "// Package madeup is made up.\npackage madeup\n"
	for _, c := range []struct {
		what, source, missing string // missing: what it finds; "" for nothing
	}{
		{"no package comment", "package madeup\n", "package madeup"},
		{"bare function", head + "func Mean() {}\n", "Mean"},
		{"function of another name", head + "// Median is the middle.\nfunc Mean() {}\n", "Mean"},
		{"function named late", head + "// This is the function Mean.\nfunc Mean() {}\n", "Mean"},
		{"good function", head + "// Mean returns the mean.\nfunc Mean() {}\n", ""},
		{"function of its own", head + "func mean() {}\n", ""},
		{"bare type", head + "type Shot int\n", "Shot"},
		{"good type", head + "// A Shot is one ball.\ntype Shot int\n", ""},
		{"bare method", head + "// A Shot is one ball.\ntype Shot int\nfunc (Shot) Carry() {}\n", "Shot.Carry"},
		{"bare constructor", head + "// A Shot is one ball.\ntype Shot int\nfunc NewShot() Shot { return 0 }\n", "NewShot"},
		{"error's text", head + "// A Fault is wrong.\ntype Fault int\nfunc (Fault) Error() string { return \"\" }\n", ""},
		{"bare value", head + "var Limit = 1\n", "Limit"},
		{"value in a bare group", head + "const (\n\tLow = 1 // the least\n\tHigh = 2\n)\n", "High"},
		{"value in a group", head + "// The ends.\nconst (\n\tLow = 1\n\tHigh = 2\n)\n", ""},
		{"bare field", head + "// A Shot is one ball.\ntype Shot struct{ Carry int }\n", "Shot.Carry"},
		{"field that the type tells of", head + "// A Shot is one ball with its carry.\ntype Shot struct{ Carry int }\n", ""},
		{"short word that is no name", head + "// A Shot is for one ball.\ntype Shot struct{ For int }\n", "Shot.For"},
		{"field with a comment behind", head + "// A Shot is one ball.\ntype Shot struct {\n\tCarry int // metres\n}\n", ""},
		{"run of fields", head + "// A Shot is one ball.\ntype Shot struct {\n\t// In metres.\n\tCarry int\n\tSide int\n}\n", ""},
		{"field after the run", head + "// A Shot is one ball.\ntype Shot struct {\n\t// In metres.\n\tCarry int\n\n\tSide int\n}\n", "Shot.Side"},
		{"field that means the same everywhere", head + "// A Shot is one ball.\ntype Shot struct{ Club string }\n", ""},
		{"field named like its type", head + "// A Shot is one ball.\ntype Shot struct{ Stroke *Stroke }\n// A Stroke is one.\ntype Stroke int\n", ""},
	} {
		missing := undocumented(packageOf(t, c.source, "package madeup_test\n"))
		switch {
		case c.missing == "" && missing != nil:
			t.Errorf("%s: found %q", c.what, missing)
		case c.missing != "" && (len(missing) != 1 || !strings.HasPrefix(missing[0], c.missing+":")):
			t.Errorf("%s: found %q, want %s", c.what, missing, c.missing)
		}
	}
}
