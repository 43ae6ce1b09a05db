package kernel

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

func withParameters() *nbformat.Notebook {
	nb := notebook("var file = \"a.csv\"\nvar seed uint64 = 1 // any\nvar (\n\tlevel = 0.95\n)", "%%\nfmt.Printf(\"%s %d %T %v\\n\", file, seed, seed, level)")
	nb.Cells[1].Metadata["tags"] = []any{"parameters"}
	return nb
}

func TestParametersReachTheCells(t *testing.T) {
	ownTemp(t)
	nb := withParameters()
	err := Run(context.Background(), nb, Options{Root: root, Parameters: []Parameter{{"file", `"größe.csv"`}, {"seed", "7"}}})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := nb.Cells[3].Outputs[0].Text, "größe.csv 7 uint64 0.95\n"; got != want {
		t.Errorf("output %q, want %q", got, want)
	}
}

func TestInject(t *testing.T) {
	nb := withParameters()
	if err := inject(nb, nil); err != nil || len(nb.Cells) != 3 {
		t.Errorf("no parameters: error %v, %d cells; want 3, as before", err, len(nb.Cells))
	}
	for _, seed := range []string{"7", "8"} { // the second replaces the first
		if err := inject(nb, []Parameter{{"seed", seed}, {"level", "1 - 0.1"}}); err != nil {
			t.Fatal(err)
		}
		if len(nb.Cells) != 4 {
			t.Fatalf("%d cells, want 4", len(nb.Cells))
		}
		if got, want := nb.Cells[2].Source, "var seed uint64 = "+seed+"\nvar level = 1 - 0.1"; got != want {
			t.Errorf("source %q, want %q", got, want)
		}
		if c := nb.Cells[2]; !c.HasTag("injected-parameters") || c.ID == "" {
			t.Errorf("id %q, metadata %v", c.ID, c.Metadata)
		}
	}
}

func TestInjectRefuses(t *testing.T) {
	untagged := notebook("var seed = 1")
	broken := withParameters()
	broken.Cells[1].Source = "seed := 1"
	for _, c := range []struct {
		name string
		nb   *nbformat.Notebook
		p    Parameter
		want string
	}{
		{"no cell", untagged, Parameter{"seed", "2"}, `no code cell tagged "parameters"`},
		{"unknown", withParameters(), Parameter{"sede", "2"}, "it has file, level, seed"},
		{"not an expression", withParameters(), Parameter{"seed", "2; panic(1)"}, "is not a Go expression"},
		{"two lines", withParameters(), Parameter{"seed", "2\nvar x = 3"}, "is not a Go expression"},
		{"cell", broken, Parameter{"seed", "2"}, "must hold nothing but var declarations"},
	} {
		t.Run(c.name, func(t *testing.T) {
			before := len(c.nb.Cells)
			err := inject(c.nb, []Parameter{c.p})
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want it to say %q", err, c.want)
			}
			if e := (*ParameterError)(nil); c.name != "cell" && (!errors.As(err, &e) || e.Name != c.p.Name) {
				t.Errorf("error %v, want a *ParameterError for %s", err, c.p.Name)
			}
			if len(c.nb.Cells) != before {
				t.Error("the notebook was changed")
			}
		})
	}
}

func TestImports(t *testing.T) {
	nb := notebook("import \"fmt\"\nimport m \"math\"\n\nvar s = \"not/a/package\"",
		"import (\n\t\"example.com/b\" // why\n\t. \"example.com/a\"\n\t_ \"fmt\"\n)\n%%\nf(\"(\", `x`)", "!ls", "import \"$(rm -rf x)\"", "import \"-o=x\"")
	want := []string{"example.com/a", "example.com/b", "fmt", "math"}
	if got := imports(nb); !slices.Equal(got, want) {
		t.Errorf("imports %q, want %q", got, want)
	}
}
