package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A build agrees with itself; one bit more in an exact line, a share of 1e-11 in a
// near one, and a line missing are seen.
func TestComparison(t *testing.T) {
	var own bytes.Buffer
	if err := run(&own, ""); err != nil {
		t.Fatal(err)
	}
	there := filepath.Join(t.TempDir(), "there.txt")
	against := func(text string) error {
		if err := os.WriteFile(there, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return run(&bytes.Buffer{}, there)
	}
	if err := against(own.String()); err != nil {
		t.Errorf("against itself: %v", err)
	}
	if err := against(""); err == nil {
		t.Error("no lines agree with some")
	}
	lines := strings.SplitAfter(own.String(), "\n")
	if err := against(strings.Join(lines[:len(lines)-2], "")); err == nil {
		t.Error("a missing line was not seen")
	}
	if err := against(strings.Replace(own.String(), lines[0], "exact word = 1\n", 1)); err == nil || !strings.Contains(err.Error(), "line 1:") {
		t.Errorf("another word: %v", err)
	}
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"near x = 3", "near x = 3.000000000001", true},
		{"near x = 3", "near x = 3.00000000001", false},
		{"near x = 3", "near y = 3", false},
		{"near x = 0", "near x = 1e-300", false},
		{"near x = 3", "near x = what", false},
	} {
		if agree(c.a, c.b) != c.want {
			t.Errorf("%q and %q: agree %v", c.a, c.b, !c.want)
		}
	}
}
