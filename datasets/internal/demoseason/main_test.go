package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// What is in the repository is what the command writes.
func TestFilesAreFresh(t *testing.T) {
	fresh, err := files()
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range fresh {
		got, err := os.ReadFile(filepath.Join("..", "..", "demo-season", name))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("demo-season/%s is stale: run go run ./datasets/internal/demoseason", name)
		}
	}
}
