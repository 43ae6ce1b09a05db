package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The README's program compiles, runs and prints what the README says.
func TestReadmeProgram(t *testing.T) {
	root, err := moduleRoot()
	if err != nil {
		t.Fatal(err)
	}
	readme, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	between := func(from, to string) string {
		_, rest, ok := strings.Cut(string(readme), from)
		text, _, closed := strings.Cut(rest, to)
		if !ok || !closed {
			t.Fatalf("README.md has nothing between %q and %q", from, to)
		}
		return text
	}
	program := filepath.Join(t.TempDir(), "main.go")
	if err := os.WriteFile(program, []byte(between("```go\n", "```")), 0o644); err != nil {
		t.Fatal(err)
	}
	run := exec.Command("go", "run", program)
	run.Dir = root
	got, err := run.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, got)
	}
	if want := between("It prints\n\n```\n", "```"); string(got) != want {
		t.Errorf("the program prints\n%s\nthe README says\n%s", got, want)
	}
}
