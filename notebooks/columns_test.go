package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const germanFile = "Bahn 3\n\nZeit;Schläger;Flugweite;Seite;Drall;Bemerkung\n;;m;m;U/min;\n" +
	"13.05.2024 10:15;Eisen 7;130,2;3,5 R;6.500;gut\n13.05.2024 10:16;Eisen 7;131,2;4,5 L;6.400;\n" +
	"13.05.2024 10:17;Eisen 7;129,9;1 L;6.450;\n13.05.2024 10:18;Driver;180,2;0;2.400;\n"

func writeFile(t *testing.T, path, content string) string {
	t.Helper()
	if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// From a file in other words to a proposal beside it, which the export then
// uses without being told.
func TestColumnsThenExport(t *testing.T) {
	dir := t.TempDir()
	file := writeFile(t, filepath.Join(dir, "a.csv"), germanFile)
	if code, _, stderr := command(t, "export", "-lesson", file, "-o", filepath.Join(dir, "out")); code != exitFailed || !strings.Contains(stderr, "no column of carry") {
		t.Errorf("without a mapping: exit code %d, stderr %q", code, stderr)
	}
	code, stdout, stderr := command(t, "columns", file)
	if code != exitDone {
		t.Fatalf("exit code %d, stderr %q", code, stderr)
	}
	for _, want := range []string{"The header is line 3.", "Flugweite  carry", "Schläger   club", "columns.json"} {
		if !strings.Contains(stdout, want) {
			t.Errorf("stdout lacks %q:\n%s", want, stdout)
		}
	}
	proposal, err := os.ReadFile(filepath.Join(dir, "columns.json"))
	if err != nil {
		t.Fatal(err)
	}
	// A proposal that may be corrected already is never written over.
	if code, _, stderr := command(t, "columns", file); code != exitFailed || !strings.Contains(stderr, "is there already") {
		t.Errorf("twice: exit code %d, stderr %q", code, stderr)
	}
	if again, err := os.ReadFile(filepath.Join(dir, "columns.json")); err != nil || !bytes.Equal(again, proposal) {
		t.Errorf("the proposal was touched: %v", err)
	}
	out := filepath.Join(dir, "out")
	if code, stdout, stderr = command(t, "export", "-lesson", file, "-mirror", "-o", out); code != exitDone || !strings.Contains(stdout, "4 shots written") {
		t.Fatalf("exit code %d, stdout %q, stderr %q", code, stdout, stderr)
	}
	csv, err := os.ReadFile(filepath.Join(out, "shots.csv"))
	if err != nil {
		t.Fatal(err)
	}
	const want = "time,stage,intent,club,note,spin_rpm,carry_m,side_m\n" +
		"2024-05-13T10:15:00,all shots,full,Eisen 7,gut,6500,130.2,-3.5\n2024-05-13T10:16:00,all shots,full,Eisen 7,,6400,131.2,4.5\n" +
		"2024-05-13T10:17:00,all shots,full,Eisen 7,,6450,129.9,1\n2024-05-13T10:18:00,all shots,full,Driver,,2400,180.2,0\n"
	if string(csv) != want {
		t.Errorf("got\n%s\nwant\n%s", csv, want)
	}
	// What was exported is a lesson again, and mirrored it stays.
	again := filepath.Join(dir, "again")
	code, stdout, stderr = command(t, "export", "-lesson", filepath.Join(out, "datapackage.json"), "-o", again)
	if code != exitDone || !strings.Contains(stdout, "right and left were exchanged") {
		t.Fatalf("exit code %d, stdout %q, stderr %q", code, stdout, stderr)
	}
	for _, name := range []string{"shots.csv", "datapackage.json"} {
		first, err1 := os.ReadFile(filepath.Join(out, name))
		second, err2 := os.ReadFile(filepath.Join(again, name))
		if err1 != nil || err2 != nil || !bytes.Equal(first, second) {
			t.Errorf("%s changed on its way through the export: %v, %v", name, err1, err2)
		}
	}
}

func TestExportAnonymised(t *testing.T) {
	dir := t.TempDir()
	file := writeFile(t, filepath.Join(dir, "a.csv"), "pupil,session,note,carry_yd,side_yd\nMira,2024-05-13,x,150,1\nMira,2024-05-13,y,151,2\n")
	out, key := filepath.Join(dir, "out"), filepath.Join(dir, "key")
	// Nor may the export take the place of the lesson itself.
	if code, _, stderr := command(t, "export", "-lesson", file, "-o", dir); code != exitFailed || !strings.Contains(stderr, "where the lesson is") {
		t.Errorf("over the lesson: exit code %d, stderr %q", code, stderr)
	}
	if err := os.Mkdir(out, 0o777); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(dir, "link")
	if err := os.Symlink(out, link); err != nil {
		t.Fatal(err)
	}
	for _, inside := range []string{filepath.Join(out, "key"), filepath.Join(out, "deep", "key"), filepath.Join(link, "key")} {
		if code, _, stderr := command(t, "export", "-lesson", file, "-o", out, "-anonymise", inside); code != exitFailed || !strings.Contains(stderr, "somewhere else") {
			t.Errorf("the key inside the export: exit code %d, stderr %q", code, stderr)
		}
	}
	export := func() string {
		code, stdout, stderr := command(t, "export", "-lesson", file, "-o", out, "-anonymise", key)
		if code != exitDone || strings.Contains(stdout, "Mira") {
			t.Fatalf("exit code %d, stdout %q, stderr %q", code, stdout, stderr)
		}
		csv, err := os.ReadFile(filepath.Join(out, "shots.csv"))
		if err != nil {
			t.Fatal(err)
		}
		return string(csv)
	}
	first := export()
	if info, err := os.Stat(key); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the key: %v, %v; want it for its owner alone", info.Mode(), err)
	}
	if second := export(); second != first || strings.Contains(first, "Mira") || strings.Contains(first, "2024-05-13") || !strings.Contains(first, "pupil-") {
		t.Errorf("got\n%s\nand then\n%s", first, second)
	}
	writeFile(t, key, "no key")
	if code, _, stderr := command(t, "export", "-lesson", file, "-o", out, "-anonymise", key); code != exitFailed || !strings.Contains(stderr, "hexadecimal") {
		t.Errorf("a key that is none: exit code %d, stderr %q", code, stderr)
	}
}

func TestUsageOfTheOtherCommands(t *testing.T) {
	for _, args := range [][]string{{"columns"}, {"columns", "a", "b"}, {"columns", "-x"}, {"export"}, {"export", "-x"}, {"export", "-o", "x", "y"}} {
		if code, _, stderr := command(t, args...); code != exitUsage || !strings.Contains(stderr, "usage:") {
			t.Errorf("%v: exit code %d, stderr %q", args, code, stderr)
		}
	}
	for _, args := range [][]string{{"columns", "-h"}, {"export", "-h"}} {
		if code, _, stderr := command(t, args...); code != exitDone || !strings.Contains(stderr, "usage:") {
			t.Errorf("%v: exit code %d, stderr %q", args, code, stderr)
		}
	}
	dir := t.TempDir()
	writeFile(t, filepath.Join(dir, "a.csv"), germanFile)
	for _, args := range [][]string{{"-lesson", dir}, {"export", "-lesson", dir, "-o", filepath.Join(dir, "out")}} {
		if code, _, stderr := command(t, args...); code != exitFailed || !strings.Contains(stderr, "is a folder: give the file in it, such as "+filepath.Join(dir, "a.csv")) {
			t.Errorf("%v: exit code %d, stderr %q", args, code, stderr)
		}
	}
	if code, _, stderr := command(t, "columns", dir); code != exitFailed || stderr == "" {
		t.Errorf("a folder: exit code %d, stderr %q", code, stderr)
	}
}

// Names in a header move no cursor and are no markup where a proposal prints
// them.
func TestColumnsOfAHostileFile(t *testing.T) {
	dir := t.TempDir()
	file := writeFile(t, filepath.Join(dir, "a.csv"), "carry_yd,side_yd,\"\x1b[31m<script>\n\",=cmd(),"+strings.Repeat("x", 1<<20)+"\n150,1,\x1b]0;t\x07,y,z\n")
	code, stdout, stderr := command(t, "columns", file)
	if code != exitDone || strings.ContainsAny(stdout, "\x1b\x07") || len(stdout) > 1<<13 {
		t.Errorf("exit code %d, %d bytes on stdout, stderr %q", code, len(stdout), stderr)
	}
}

// Numbers with a decimal comma between commas: the way out is named, and works.
func TestNoRowReadNamesTheWayOut(t *testing.T) {
	dir := t.TempDir()
	file := writeFile(t, filepath.Join(dir, "my.csv"), "club,carry_ft,side_ft\n"+strings.Repeat("7i,\"411,5\",\"-3,2\"\n7i,\"420,5\",\"2,2\"\n", 3))
	code, _, stderr := command(t, "-lesson", file, "-o", dir)
	if code != exitFailed {
		t.Fatalf("exit code %d, stderr %q", code, stderr)
	}
	for _, want := range []string{"none of the 6 rows", "line 2, column “carry_ft”: ", "line 4, ", "and 3 rows more", "go run ./notebooks columns FILE"} {
		if !strings.Contains(stderr, want) {
			t.Errorf("stderr lacks %q: %s", want, stderr)
		}
	}
	if code, _, stderr := command(t, "columns", file); code != exitDone {
		t.Fatalf("columns: exit code %d, stderr %q", code, stderr)
	}
	if code, stdout, stderr := command(t, "export", "-lesson", file, "-o", filepath.Join(dir, "out")); code != exitDone || !strings.Contains(stdout, "6 shots written") {
		t.Errorf("after columns: exit code %d, stdout %q, stderr %q", code, stdout, stderr)
	}
}

// A proposal that leaves the carry open says which column it may be, and no
// speed; a lesson read by it says where to put the answer, not the same again.
func TestCarryLeftOpen(t *testing.T) {
	dir := t.TempDir()
	file := writeFile(t, filepath.Join(dir, "my.csv"), "Player;Tool;Distance ft;Off line ft;Speed kmh\n"+strings.Repeat("Ann;7 iron;411.5;-3.2;150\nAnn;7 iron;420.5;2.2;152\n", 3))
	code, stdout, stderr := command(t, "columns", file)
	if code != exitDone {
		t.Fatalf("exit code %d, stderr %q", code, stderr)
	}
	if !strings.Contains(stdout, `no column seems to be carry, which is needed; by its numbers it could be "Distance ft": write`) {
		t.Errorf("the wrong column, or none, is named:\n%s", stdout)
	}
	if code, _, stderr := command(t, "-lesson", file, "-o", dir); code != exitFailed || !strings.Contains(stderr, `the mapping (columns.json beside the lesson`) || !strings.Contains(stderr, `"measure": "carry"`) {
		t.Errorf("exit code %d, stderr %q", code, stderr)
	}
}
