package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// command runs the command and returns its exit code and what it printed.
func command(t *testing.T, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	code = run(context.Background(), args, &out, &errs)
	return code, out.String(), errs.String()
}

func TestUsage(t *testing.T) {
	for _, args := range [][]string{{"-nonsense"}, {"my.csv"}, {"-lesson"}, {"-o"}} {
		if code, _, stderr := command(t, args...); code != exitUsage || !strings.Contains(stderr, "usage:") {
			t.Errorf("%v: exit code %d, stderr %q", args, code, stderr)
		}
	}
	if code, _, stderr := command(t, "-h"); code != exitDone || !strings.Contains(stderr, "-lesson") {
		t.Errorf("-h: exit code %d, stderr %q", code, stderr)
	}
}

func TestALessonThatCannotBeReviewed(t *testing.T) {
	out := t.TempDir()
	code, stdout, stderr := command(t, "-lesson", filepath.Join(out, "none.csv"), "-o", out)
	if code != exitFailed || stdout != "" || !strings.Contains(stderr, "none.csv") {
		t.Errorf("exit code %d, stdout %q, stderr %q", code, stdout, stderr)
	}
	if entries, err := os.ReadDir(out); err != nil || len(entries) != 0 {
		t.Errorf("left behind: %v, %v", entries, err)
	}
}

// The whole way on the real kernel: from a file to the page, the notebook and
// the numbers.
func TestReviewOfTheDemoLesson(t *testing.T) {
	out := t.TempDir()
	other := filepath.Join(out, "notes.txt")
	if err := os.WriteFile(other, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	code, stdout, stderr := command(t, "-o", out)
	if code != exitDone {
		t.Fatalf("exit code %d, stderr %s", code, stderr)
	}
	for _, want := range []string{"47 shots read", "“room for the arms” after “as she came”, 7 iron: Worth having", "review.html", "shuffle-wall.html"} {
		if !strings.Contains(stdout, want) {
			t.Errorf("stdout lacks %q:\n%s", want, stdout)
		}
	}
	entries, err := os.ReadDir(out)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if got := strings.Join(names, " "); got != "notes.txt review.html review.ipynb review.json shuffle-wall.html" {
		t.Errorf("the folder holds %s", got)
	}
	if content, err := os.ReadFile(other); err != nil || string(content) != "mine" {
		t.Errorf("another file was touched: %q, %v", content, err)
	}
	if page, err := os.Stat(filepath.Join(out, "review.html")); err != nil || page.Size() > 500_000 {
		t.Errorf("the page: %v, %v; it is to stay below 500 KB", page, err)
	}
	var numbers map[string]any
	text, err := os.ReadFile(filepath.Join(out, "review.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &numbers); err != nil || numbers["shots"] != 47.0 {
		t.Errorf("numbers: %v, %v", numbers["shots"], err)
	}
	html, err := os.ReadFile(filepath.Join(out, "review.html"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"<h1", "What this lesson changed", "worth having", "data:image/svg+xml;base64,", "Can&#39;t tell"} {
		if !bytes.Contains(html, []byte(want)) {
			t.Errorf("the page lacks %q", want)
		}
	}
}

// Words from a file stay text on the page, all the way through the kernel,
// whatever column they stand in.
func TestHostileLesson(t *testing.T) {
	out := t.TempDir()
	file := filepath.Join(out, "hostile.csv")
	const markup = "\"<img src=x onerror=alert(2)>\""
	columns := []string{"pupil", "session", "time", "place", "surface", "ball", "club", "expect", "feel", "note", "cue", "<script>alert(3)</script>"}
	var b strings.Builder
	b.WriteString("stage,carry_yd,side_yd,void," + strings.Join(columns, ",") + "\n")
	cells := strings.Repeat(","+markup, len(columns))
	for _, name := range []string{`<script>alert(1)</script>`, "'=cmd()\x1b[31m", strings.Repeat("long ", 200_000)} {
		for _, carry := range []string{"150,1", "152,-2", "149,4", "153,-1", "151,0.5"} {
			b.WriteString(name + "," + carry + "," + cells + "\n")
		}
	}
	b.WriteString("x,150,2," + markup + cells + "\n")   // void
	b.WriteString("x," + markup + ",2," + cells + "\n") // rejected
	if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	mapping := filepath.Join(out, "mapping.json")
	if err := os.WriteFile(mapping, []byte(`{"<script>x": 1, "fields": [{"name": "note", "doubt": "<script>alert(4)</script>"}]}`), 0o644); err != nil {
		t.Fatal(err)
	}
	code, stdout, stderr := command(t, "-lesson", file, "-columns", mapping, "-mirror", "-o", out)
	if code != exitDone {
		t.Fatalf("exit code %d, stderr %s", code, stderr)
	}
	if strings.Contains(stdout, "\x1b") || len(stdout) > 1<<16 {
		t.Errorf("%d bytes on stdout, with escapes: %v", len(stdout), strings.Contains(stdout, "\x1b"))
	}
	html, err := os.ReadFile(filepath.Join(out, "review.html"))
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{"<script", "<img src=x", "\x1b", out} { // nor where the files lie
		if bytes.Contains(html, []byte(bad)) {
			t.Errorf("the page holds %q", bad)
		}
	}
	if len(html) > 4<<20 {
		t.Errorf("the page has %d bytes", len(html))
	}
	for _, want := range []string{"&lt;script&gt;alert(1)", "&lt;script&gt;alert(4)", "ight and left are exchanged"} {
		if !bytes.Contains(html, []byte(want)) {
			t.Errorf("the page lacks %q", want)
		}
	}
}
