package nbformat

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"
)

// Source: testdata/write_notebook.py under Python 3.11.2 with nbformat 5.5.0.
// The file holds every kind of cell and output, odd line ends, odd numbers
// and characters that other JSON encoders escape.
func TestRoundTripOfPythonFile(t *testing.T) {
	want, err := os.ReadFile("testdata/python_nbformat.ipynb")
	if err != nil {
		t.Fatal(err)
	}
	nb, err := Read(bytes.NewReader(want))
	if err != nil {
		t.Fatal(err)
	}
	var got bytes.Buffer
	if err := Write(&got, nb); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got.Bytes(), want) {
		t.Errorf("the file changed on its way through:\n%s", firstDifference(got.String(), string(want)))
	}
}

// The values are those in testdata/write_notebook.py.
func TestReadPythonFile(t *testing.T) {
	f, err := os.Open("testdata/python_nbformat.ipynb")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	nb, err := Read(f)
	if err != nil {
		t.Fatal(err)
	}
	if nb.Minor != 5 || len(nb.Cells) != 5 {
		t.Fatalf("nbformat 4.%d with %d cells, want 4.5 with 5", nb.Minor, len(nb.Cells))
	}
	if got, want := nb.Cells[0].Source, "# Title\n\n<b>&amp;</b> $x^2$"; got != want {
		t.Errorf("source of cell 1: %q, want %q", got, want)
	}
	if !nb.Cells[3].HasTag("parameters") || nb.Cells[4].HasTag("parameters") {
		t.Error("the tag parameters belongs to cell 4, and to it alone")
	}
	odd := nb.Cells[4]
	if odd.ExecutionCount != 7 || odd.ID != "odd" || len(odd.Outputs) != 5 {
		t.Fatalf("cell 5: count %d, id %q, %d outputs; want 7, odd, 5", odd.ExecutionCount, odd.ID, len(odd.Outputs))
	}
	if !strings.HasPrefix(odd.Source, "a\r\nb\rc\vd\f") || !strings.HasSuffix(odd.Source, "🏌\n") {
		t.Errorf("source of cell 5: %q", odd.Source)
	}
	if got, want := odd.Outputs[2].Data["text/html"], "<p>\n one </p>"; got != want {
		t.Errorf("text/html: %q, want %q", got, want)
	}
	if list, ok := odd.Outputs[2].Data["application/json"].([]any); !ok || len(list) != 2 {
		t.Errorf("application/json: %v, want the list of two strings", odd.Outputs[2].Data["application/json"])
	}
	if got := odd.Outputs[4]; got.ErrorValue != "exit status 2" || len(got.Traceback) != 2 {
		t.Errorf("error output: %+v", got)
	}
}

func TestReadRefuses(t *testing.T) {
	cell := func(fields string) string {
		return `{"nbformat": 4, "nbformat_minor": 5, "metadata": {}, "cells": [
			{"cell_type": "raw", "id": "one", "metadata": {}, "source": ""}, {` + fields + `}]}`
	}
	for _, c := range []struct{ name, content, want string }{
		{"empty file", "", "end of JSON"},
		{"not JSON", "carry,side\n150,2\n", "invalid character"},
		{"a list", "[1]", "cannot unmarshal array"},
		{"other JSON", `{"name": "x"}`, "no field nbformat"},
		{"old format", `{"nbformat": 3, "nbformat_minor": 0, "worksheets": []}`, "nbformat 3.0; save it as nbformat 4.5"},
		{"future format", `{"nbformat": 4, "nbformat_minor": 6, "cells": []}`, "nbformat 4.6"},
		{"unknown field", `{"nbformat": 4, "nbformat_minor": 5, "sheets": 1}`, `unknown field "sheets"`},
		{"no id", cell(`"cell_type": "code", "source": ""`), "cell 2: it has no id"},
		{"type", cell(`"cell_type": "heading", "id": "two"`), `cell 2: its cell_type is "heading"`},
		{"source", cell(`"cell_type": "code", "id": "two", "source": 3`), "cell 2: json: cannot unmarshal number"},
		{"field", cell(`"cell_type": "code", "id": "two", "level": 3`), `cell 2: json: unknown field "level"`},
		{"outputs", cell(`"cell_type": "raw", "id": "two", "outputs": []`), "cell 2: it has outputs"},
		{"output", cell(`"cell_type": "code", "id": "two", "outputs": [{"output_type": "pyout"}]`), `cell 2: output 1: its output_type is "pyout"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Read(strings.NewReader(c.content))
			if !errors.Is(err, ErrFormat) {
				t.Fatalf("error %v, want ErrFormat", err)
			}
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %q, want it to say %q", err, c.want)
			}
		})
	}
}

// Before nbformat 4.5 cells had no ids; the file must not gain any.
func TestOlderMinorKeepsItsShape(t *testing.T) {
	const old = `{
 "cells": [
  {
   "cell_type": "code",
   "execution_count": null,
   "metadata": {},
   "outputs": [],
   "source": []
  }
 ],
 "metadata": {},
 "nbformat": 4,
 "nbformat_minor": 2
}
`
	nb, err := Read(strings.NewReader(old))
	if err != nil {
		t.Fatal(err)
	}
	var got bytes.Buffer
	if err := Write(&got, nb); err != nil {
		t.Fatal(err)
	}
	if got.String() != old {
		t.Error(firstDifference(got.String(), old))
	}
}

func TestWriteRefusesForeignValues(t *testing.T) {
	nb := &Notebook{Minor: 5, Metadata: map[string]any{"x": make(chan int)}}
	if err := Write(&bytes.Buffer{}, nb); err == nil || !strings.Contains(err.Error(), "chan int") {
		t.Errorf("error %v, want one that names chan int", err)
	}
}

func firstDifference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			return "got  " + g[i] + "\nwant " + w[i]
		}
	}
	return "one ends before the other"
}
