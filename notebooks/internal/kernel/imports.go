package kernel

import (
	"go/scanner"
	"go/token"
	"regexp"
	"slices"
	"strconv"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

// A path that is safe to hand to a shell and to the go command.
var importPath = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._~/-]*$`)

// imports returns the packages that the notebook's cells import, sorted. It
// reads tokens, since a cell need not be a whole Go file.
func imports(nb *nbformat.Notebook) []string {
	var paths []string
	for _, c := range nb.Cells {
		if c.Type != nbformat.Code {
			continue
		}
		src := []byte(c.Source)
		var s scanner.Scanner
		s.Init(token.NewFileSet().AddFile("", -1, len(src)), src, func(token.Position, string) {}, 0)
		inImport, inList := false, false
		for _, tok, text := s.Scan(); tok != token.EOF; _, tok, text = s.Scan() {
			switch {
			case tok == token.IMPORT:
				inImport = true
			case !inImport:
			case tok == token.LPAREN:
				inList = true
			case tok == token.STRING:
				if path, err := strconv.Unquote(text); err == nil && importPath.MatchString(path) {
					paths = append(paths, path)
				}
			case tok == token.RPAREN, tok == token.SEMICOLON && !inList:
				inImport, inList = false, false
			}
		}
	}
	slices.Sort(paths)
	return slices.Compact(paths)
}
