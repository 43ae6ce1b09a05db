package kernel

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

// TestAgainstNbconvert executes notebooks with this package and with Jupyter's
// nbconvert (seen with nbconvert 6.5.3, nbclient 0.7.2, jupyter_client 7.4.9),
// through the same kernelspec, and wants the same bytes. It takes the
// notebooks of testdata and those the project offers.
func TestAgainstNbconvert(t *testing.T) {
	if out, err := exec.Command("jupyter", "nbconvert", "--version").CombinedOutput(); err != nil {
		if os.Getenv("LANDFALL_REQUIRE_JUPYTER") == "1" {
			t.Fatalf("LANDFALL_REQUIRE_JUPYTER is set, but jupyter nbconvert can't be run: %v\n%s", err, out)
		}
		t.Skipf("not compared: jupyter nbconvert can't be run (%v); in Debian it is the package jupyter-nbconvert", err)
	}
	var files []string
	for _, pattern := range []string{"testdata/*.ipynb", filepath.Join(root, "notebooks", "*.ipynb")} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	if len(files) == 0 {
		t.Fatal("there is no notebook to compare")
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			ownTemp(t)
			ours := stripped(t, executeHere(t, file))
			theirs := stripped(t, executeWithNbconvert(t, file))
			if ours == theirs {
				return
			}
			o, j := strings.Split(ours, "\n"), strings.Split(theirs, "\n")
			for i := range min(len(o), len(j)) {
				if o[i] != j[i] {
					t.Fatalf("line %d differs:\nours      %s\nnbconvert %s", i+1, o[i], j[i])
				}
			}
			t.Fatalf("ours has %d lines, nbconvert's %d", len(o), len(j))
		})
	}
}

func executeHere(t *testing.T, file string) []byte {
	content, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	nb, err := nbformat.Read(bytes.NewReader(content))
	if err != nil {
		t.Fatal(err)
	}
	if err := Run(context.Background(), nb, Options{Root: root}); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := nbformat.Write(&out, nb); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func executeWithNbconvert(t *testing.T, file string) []byte {
	// nbconvert starts the kernel beside the notebook, so that is where it goes.
	cmd := exec.Command("jupyter", "nbconvert", "--execute", "--to", "notebook", "--stdout",
		"--ExecutePreprocessor.kernel_name=landfall", "--ExecutePreprocessor.startup_timeout=600", file)
	home := t.TempDir() // no settings and kernels of the user's
	cmd.Env = append(os.Environ(), "JUPYTER_PATH="+filepath.Join(absolute(t, root), "notebooks"),
		"JUPYTER_CONFIG_DIR="+home, "JUPYTER_DATA_DIR="+home, "JUPYTER_RUNTIME_DIR="+home)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("nbconvert: %v\n%s", err, stderr.String())
	}
	return out
}

var hexID = regexp.MustCompile(`\b[0-9a-f]{8,}\b`)

// stripped takes out of an executed notebook what no two runs have in common:
// the times of execution, which only nbconvert notes, and random ids.
func stripped(t *testing.T, content []byte) string {
	nb, err := nbformat.Read(bytes.NewReader(content))
	if err != nil {
		t.Fatal(err)
	}
	var again bytes.Buffer
	if err := nbformat.Write(&again, nb); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(again.Bytes(), content) {
		t.Error("the notebook is not laid out as nbformat does it")
	}
	for _, c := range nb.Cells {
		delete(c.Metadata, "execution")
	}
	again.Reset()
	if err := nbformat.Write(&again, nb); err != nil {
		t.Fatal(err)
	}
	return hexID.ReplaceAllString(again.String(), "hex")
}
