package lesson

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

func TestReadPackageErrors(t *testing.T) {
	resource := func(properties string) string { return `{"resources":[{"name":"shots",` + properties + `}]}` }
	for _, tt := range []struct{ name, text, want string }{
		{"no JSON", "carry,side", "no object of JSON"},
		{"no resources", `{"name":"x"}`, `there are no "resources"`},
		{"no path", resource(`"data":[]`), "it has no path"},
		{"several files", resource(`"path":["a.csv","b.csv"]`), "a table in several files"},
		{"parent", resource(`"path":"../secret.csv"`), "does not lead to a file in the descriptor's own folder"},
		{"parent inside", resource(`"path":"data/../../secret.csv"`), "does not lead to"},
		{"absolute", resource(`"path":"/etc/passwd","format":"csv"`), "does not lead to"},
		{"a link to elsewhere", resource(`"path":"http://example.com/a.csv"`), "does not lead to"},
		{"other slashes", resource(`"path":"..\\secret.csv"`), "does not lead to"},
		{"a drive", resource(`"path":"c:secret.csv"`), "does not lead to"},
		{"the folder", resource(`"path":"folder","type":"table"`), "is no ordinary file"},
		{"nothing there", resource(`"path":"none.csv"`), "none.csv"},
		{"no table", resource(`"path":"truth.json"`), "0 tables of separated values"},
		{"two tables", `{"resources":[{"name":"a","path":"a.csv"},{"name":"b","path":"b.csv"}]}`, `2 tables of separated values ("a" or "b")`},
		{"schema elsewhere", resource(`"path":"a.csv","schema":"../schema.json"`), "its schema is a link"},
		{"schema", resource(`"path":"a.csv","schema":{"fields":[{}]}`), `field 1, "name"`},
		{"name", `{"resources":[{"name":1,"path":"a.csv"}]}`, `"name" should be a text`},
		{"mirrored", resource(`"path":"a.csv","mirrored":1`), `"mirrored" should be`},
		{"mirrored twice", resource(`"path":"a.csv","mirrored":true`), "exchanged already"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			folder := fstest.MapFS{"p/datapackage.json": {Data: []byte(tt.text)}, "secret.csv": {Data: []byte(lines("1,1"))}, "p/a.csv": {Data: []byte(lines("1,1"))}, "p/folder/x": {}}
			l, err := ReadPackage(folder, "p/datapackage.json", ReadOptions{Mirror: strings.HasPrefix(tt.name, "mirrored")})
			if l != nil || err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %q", err, tt.want)
			}
		})
	}
	if _, err := ReadPackage(nil, "x", ReadOptions{}); err == nil {
		t.Error("no error without a folder")
	}
	if _, err := ReadPackage(fstest.MapFS{}, "x.json", ReadOptions{}); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no descriptor: %v", err)
	}
}

// A link that leads out of the folder is not followed.
func TestReadPackageKeepsToItsFolder(t *testing.T) {
	dir := t.TempDir()
	inside := filepath.Join(dir, "inside")
	if err := os.Mkdir(inside, 0o755); err != nil {
		t.Fatal(err)
	}
	for name, content := range map[string]string{
		filepath.Join(dir, "secret.csv"):         lines("150,1"),
		filepath.Join(inside, "own.csv"):         lines("150,1"),
		filepath.Join(inside, "evil.json"):       `{"resources":[{"name":"s","path":"link.csv"}]}`,
		filepath.Join(inside, "evilfolder.json"): `{"resources":[{"name":"s","path":"up/secret.csv"}]}`,
		filepath.Join(inside, "good.json"):       `{"resources":[{"name":"s","path":"own.csv"}]}`,
	} {
		if err := os.WriteFile(name, []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := errors.Join(os.Symlink("../secret.csv", filepath.Join(inside, "link.csv")), os.Symlink("..", filepath.Join(inside, "up"))); err != nil {
		t.Fatalf("links can't be made here: %v", err)
	}
	root, err := os.OpenRoot(inside)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	for _, name := range []string{"evil.json", "evilfolder.json"} {
		if l, err := ReadPackage(root.FS(), name, ReadOptions{}); err == nil {
			t.Errorf("%s: %d shots were read from outside the folder", name, len(l.Shots))
		}
	}
	if l, err := ReadPackage(root.FS(), "good.json", ReadOptions{}); err != nil || len(l.Shots) != 1 {
		t.Errorf("the file of its own: %v", err)
	}
}

// Of several faults the same one is told each time, with the resource's name.
func TestPackageFaultIsTheSameEachTime(t *testing.T) {
	const want = `the package, resource "a": "type" should be a text`
	for range 20 {
		if _, err := findTable([]byte(`{"resources":[{"name":"a","type":1,"format":2}]}`)); err == nil || err.Error() != want {
			t.Fatalf("%v, want %s", err, want)
		}
	}
}
