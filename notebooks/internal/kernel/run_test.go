package kernel

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

func TestRun(t *testing.T) {
	ownTemp(t)
	nb := notebook("import \"fmt\"\n\nfunc double(n int) int { return 2 * n }", "", "%%\nfmt.Println(\"größe\", double(21))")
	var told []string
	err := Run(context.Background(), nb, Options{Root: root, Progress: func(done, total int, title string) {
		told = append(told, fmt.Sprintf("%d/%d %s", done, total, title))
	}})
	if err != nil {
		t.Fatal(err)
	}
	last := nb.Cells[3]
	if len(last.Outputs) != 1 || last.Outputs[0].Name != "stdout" || last.Outputs[0].Text != "größe 42\n" {
		t.Errorf("outputs %+v, want größe 42 on stdout", last.Outputs)
	}
	// The empty cell is neither executed nor counted.
	for i, want := range []int{0, 1, 0, 2} {
		if got := nb.Cells[i].ExecutionCount; got != want {
			t.Errorf("execution count of cell %d: %d, want %d", i+1, got, want)
		}
	}
	if want := []string{"0/2 How far?", "1/2 How far?", "2/2 "}; len(told) < 3 || !slices.Equal(told[len(told)-3:], want) {
		t.Errorf("progress %q, want it to end with %q", told, want)
	}
	info, _ := nb.Metadata["language_info"].(map[string]any)
	if info["name"] != "go" {
		t.Errorf("language_info %v, want the name go", info)
	}
}

func TestCellErrors(t *testing.T) {
	for _, c := range []struct{ name, source, want, output string }{
		{"compile error", "%%\nn := 1\nnosuch.F()",
			"cell 2 (under \"How far?\"): the cell does not compile: line 2: declared and not used: n\nline 3: undefined: nosuch", ""},
		{"syntax", "n := (", `cell 2 (under "How far?"): the cell does not compile: line 1: expected declaration, found n`, ""},
		{"panic", "func at(list []int, i int) int { return list[i] }\n%%\nat(nil, 3)",
			`cell 2 (under "How far?"): the cell failed: exit status 2`,
			"panic: runtime error: index out of range [3] with length 0"},
		{"kernel killed", "%%\nfmt.Fprintln(os.Stderr, \"last words\")\ntime.Sleep(500*time.Millisecond)\nsyscall.Kill(os.Getppid(), syscall.SIGKILL)\ntime.Sleep(time.Hour)",
			`cell 2 (under "How far?"): the kernel died: signal: killed`, "last words"},
	} {
		t.Run(c.name, func(t *testing.T) {
			ownTemp(t)
			err := Run(context.Background(), notebook(c.source, "%%\nfmt.Println(1)"), Options{Root: root})
			var e *CellError
			if !errors.As(err, &e) {
				t.Fatalf("error %v, want a *CellError", err)
			}
			message := err.Error()
			if !strings.HasPrefix(message, c.want) || !strings.Contains(message, c.output) {
				t.Errorf("error:\n%s\nwant it to begin with\n%s\nand to contain\n%s", message, c.want, c.output)
			}
			for _, noise := range []string{"\x1b", "/tmp", "0x", "gonb"} {
				if strings.Contains(message, noise) {
					t.Errorf("error with %q in it:\n%s", noise, message)
				}
			}
		})
	}
}

func TestFailedCellKeepsItsOutputs(t *testing.T) {
	ownTemp(t)
	nb := notebook("%%\nfmt.Println(\"before\")\nos.Exit(3)", "%%\nfmt.Println(\"after\")")
	nb.Cells[1].Metadata["tags"] = []any{"raises-exception"}
	nb.Cells = append(nb.Cells, notebook("%%\nos.Exit(4)", "%%\nfmt.Println(\"never\")").Cells...)
	err := Run(context.Background(), nb, Options{Root: root})
	if e := (*CellError)(nil); !errors.As(err, &e) || e.Cell != 5 || e.Value != "exit status 4" {
		t.Fatalf("error %v, want exit status 4 in cell 5", err)
	}
	if got := nb.Cells[1].Outputs; len(got) != 3 || got[0].Text != "before\n" || got[2].ErrorValue != "exit status 3" {
		t.Errorf("outputs of the cell that may fail: %+v", got)
	}
	if got := nb.Cells[2].Outputs; len(got) != 1 || got[0].Text != "after\n" {
		t.Errorf("outputs of the cell after it: %+v", got)
	}
	if got := nb.Cells[4].Outputs; len(got) != 2 || got[1].Type != nbformat.Error {
		t.Errorf("outputs of the cell that ended the run: %+v", got)
	}
	if got := nb.Cells[5].Outputs; got != nil {
		t.Errorf("a cell was executed after the end: %+v", got)
	}
}

func TestWrongRoot(t *testing.T) {
	ownTemp(t)
	err := Run(context.Background(), notebook("%%\n"), Options{Root: t.TempDir()})
	if err == nil || !strings.Contains(err.Error(), "the directory of the module is needed") {
		t.Errorf("error %v", err)
	}
}
