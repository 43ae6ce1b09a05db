//go:build unix

package show_test

import (
	"regexp"
	"testing"
)

// In a browser progress comes after a second, moves on in one place and is gone at
// the end.
func TestProgress(t *testing.T) {
	k := startCell(t, "progress", "LANDFALL_LIVE=1")
	k.await("", "done")
	if err := k.cell.Wait(); err != nil {
		t.Fatal(err, k.stderr.String())
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if n := len(k.all); n < 4 || n > 7 || k.all[n-2] != "" || k.all[n-1] != "done" {
		t.Fatalf("shown in turn: %q", k.all)
	}
	said := regexp.MustCompile(`^Lessons .*: 1\d of 20$`)
	for _, text := range k.all[:len(k.all)-2] {
		if !said.MatchString(text) {
			t.Errorf("shown: %q", text)
		}
	}
	if len(k.shown) != 2 {
		t.Errorf("outputs in %d places, want that of the progress and the last", len(k.shown))
	}
}

// Quick work, and work that nobody watches, shows none.
func TestNoProgress(t *testing.T) {
	for name, env := range map[string]string{"quick progress": "LANDFALL_LIVE=1", "progress": "LANDFALL_LIVE="} {
		k := startCell(t, name, env)
		k.await("", "done")
		if err := k.cell.Wait(); err != nil {
			t.Fatal(err, k.stderr.String())
		}
		k.mu.Lock()
		if len(k.all) != 1 {
			t.Errorf("%s, %s: %q", name, env, k.all)
		}
		k.mu.Unlock()
	}
}
