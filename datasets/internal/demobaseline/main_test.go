package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// What is in the repository is what the command writes.
func TestFileIsFresh(t *testing.T) {
	want, err := compute()
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(filepath.Join("..", "..", "demo-baseline", file))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("demo-baseline/%s is stale: run go run ./datasets/internal/demobaseline", file)
	}
}
