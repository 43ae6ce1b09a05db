package main

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// moduleRoot finds the folder of this module, whose packages the notebook's
// cells import: above the working folder, else where this program was built.
func moduleRoot() (string, error) {
	if dir, err := os.Getwd(); err == nil {
		for {
			if isRoot(dir) {
				return dir, nil
			}
			up := filepath.Dir(dir)
			if up == dir {
				break
			}
			dir = up
		}
	}
	if _, file, _, ok := runtime.Caller(0); ok {
		if dir := filepath.Dir(filepath.Dir(file)); isRoot(dir) {
			return dir, nil
		}
	}
	return "", errors.New("the notebooks' cells need this module's source: run the command inside the module's folder")
}

func isRoot(dir string) bool {
	text, err := os.ReadFile(filepath.Join(dir, "go.mod"))
	return err == nil && strings.HasPrefix(string(text), "module github.com/landfall-golf/landfall\n")
}
