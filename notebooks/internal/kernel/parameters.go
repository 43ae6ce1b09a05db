package kernel

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strings"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

// A Parameter gives a variable of the cell tagged "parameters" another value.
type Parameter struct {
	Name  string
	Value string // a Go expression, such as `"lesson.csv"` or `0.9`
}

// A ParameterError says which parameter can't be set, and why.
type ParameterError struct {
	Name   string
	Reason string
}

func (e *ParameterError) Error() string {
	return fmt.Sprintf("parameter %s: %s", e.Name, e.Reason)
}

// The tags papermill uses, which other tools know too.
const (
	parametersTag = "parameters"
	injectedTag   = "injected-parameters"
)

// inject puts a cell that sets the parameters after the one tagged
// "parameters". A cell that an earlier run injected is replaced.
func inject(nb *nbformat.Notebook, parameters []Parameter) error {
	if len(parameters) == 0 {
		return nil
	}
	at := slices.IndexFunc(nb.Cells, func(c nbformat.Cell) bool {
		return c.Type == nbformat.Code && c.HasTag(parametersTag)
	})
	if at < 0 {
		return &ParameterError{parameters[0].Name, `the notebook has no code cell tagged "parameters"`}
	}
	types, err := declared(nb.Cells[at].Source)
	if err != nil {
		return err
	}
	var source []string
	for _, p := range parameters {
		typ, ok := types[p.Name]
		if !ok {
			return &ParameterError{p.Name, fmt.Sprintf("the notebook has no such parameter; it has %s", names(types))}
		}
		if _, err := parser.ParseExpr(p.Value); err != nil {
			return &ParameterError{p.Name, fmt.Sprintf("%s is not a Go expression: %v", p.Value, err)}
		}
		// Without the declared type, var seed uint64 would become an int.
		source = append(source, strings.Join(strings.Fields("var "+p.Name+" "+typ), " ")+" = "+p.Value)
	}
	cell := nbformat.Cell{Type: nbformat.Code, Source: strings.Join(source, "\n"),
		Metadata: map[string]any{"tags": []any{injectedTag}}}
	if nb.Minor >= 5 {
		cell.ID = injectedTag
	}
	nb.Cells = slices.Insert(nb.Cells, at+1, cell)
	if next := at + 2; next < len(nb.Cells) && nb.Cells[next].HasTag(injectedTag) {
		nb.Cells = slices.Delete(nb.Cells, next, next+1)
	}
	return nil
}

// declared returns the variables that a parameters cell declares, with the
// type each is declared with, "" where there is none.
func declared(source string) (map[string]string, error) {
	const header = "package p\n"
	file, err := parser.ParseFile(token.NewFileSet(), "parameters", header+source, parser.SkipObjectResolution)
	if err != nil {
		return nil, fmt.Errorf("the cell tagged %q must hold nothing but var declarations: %w", parametersTag, err)
	}
	types := map[string]string{}
	for _, d := range file.Decls {
		vars, ok := d.(*ast.GenDecl)
		if !ok || vars.Tok != token.VAR {
			continue
		}
		for _, spec := range vars.Specs {
			v := spec.(*ast.ValueSpec)
			typ := ""
			if v.Type != nil {
				typ = (header + source)[v.Type.Pos()-file.FileStart : v.Type.End()-file.FileStart]
			}
			for _, name := range v.Names {
				types[name.Name] = typ
			}
		}
	}
	return types, nil
}

func names(types map[string]string) string {
	if len(types) == 0 {
		return "none"
	}
	var list []string
	for name := range types {
		list = append(list, name)
	}
	slices.Sort(list)
	return strings.Join(list, ", ")
}
