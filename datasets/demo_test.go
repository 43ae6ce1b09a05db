package datasets

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"
)

func TestDemoLessonIsWhatItsTruthSays(t *testing.T) {
	l, err := DemoLesson()
	if err != nil {
		t.Fatal(err)
	}
	truth, err := DemoTruth()
	if err != nil {
		t.Fatal(err)
	}
	groups := l.Groups()
	if len(truth) != 5 || len(groups) != len(truth) {
		t.Fatalf("%d stages drawn, %d read, want 5", len(truth), len(groups))
	}
	rows, unread := 0, 0
	for i, s := range truth {
		g := groups[i]
		if g.Stage.Name != s.Stage || string(g.Stage.Intent) != s.Intent {
			t.Errorf("stage %d is %q (%s), want %q (%s)", i, g.Stage.Name, g.Stage.Intent, s.Stage, s.Intent)
		}
		if len(g.Shots) != s.Shots-len(s.Unread) || g.Mishits() != len(s.Mishits) {
			t.Errorf("%s: %d shots and %d mishits, want %d and %d", s.Stage, len(g.Shots), g.Mishits(), s.Shots-len(s.Unread), len(s.Mishits))
		}
		clean, err := g.Clean()
		if err != nil {
			t.Fatal(err)
		}
		// Four standard errors.
		if off := math.Abs(clean.Mean().Y - s.Carry); off > 4*s.CarrySD/math.Sqrt(float64(clean.N())) {
			t.Errorf("%s: mean carry %.1f, drawn from %g", s.Stage, clean.Mean().Y, s.Carry)
		}
		rows += s.Shots
		unread += len(s.Unread)
	}
	if !groups[4].Stage.Bookend {
		t.Error("the last stage is no bookend")
	}
	if l.Rows != rows || len(l.Rejected) != unread || len(l.Warnings) != 0 {
		t.Errorf("%d rows, %d rejected, warnings %v; want %d, %d, none", l.Rows, len(l.Rejected), l.Warnings, rows, unread)
	}
}

// The descriptors follow the Data Package standard, version 2.0
// (https://datapackage.org, 26 June 2024): a package has resources, a resource
// a name and a path, a schema its fields, here in the order of the columns.
func TestDescriptors(t *testing.T) {
	files, err := filepath.Glob("*/datapackage.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("descriptors: %v, %v", files, err)
	}
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var p struct {
			Schema    string `json:"$schema"`
			Name      string
			Licenses  []struct{ Name string }
			Resources []struct {
				Schema string `json:"$schema"`
				Name   string
				Path   string
				Type   string
				Table  struct {
					Schema        string `json:"$schema"`
					Fields        []struct{ Name, Type string }
					MissingValues []string
				} `json:"schema"`
			}
		}
		if err := json.Unmarshal(raw, &p); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		if p.Schema != "https://datapackage.org/profiles/2.0/datapackage.json" || p.Name == "" || len(p.Licenses) == 0 || len(p.Resources) == 0 {
			t.Errorf("%s lacks its profile, name, licence or resources", file)
		}
		for _, r := range p.Resources {
			content, err := os.ReadFile(filepath.Join(filepath.Dir(file), r.Path))
			if err != nil || r.Name == "" || r.Schema != "https://datapackage.org/profiles/2.0/dataresource.json" {
				t.Errorf("%s: resource %q at %q, profile %q: %v", file, r.Name, r.Path, r.Schema, err)
			}
			if r.Type != "table" {
				continue
			}
			header, err := csv.NewReader(bytes.NewReader(content)).Read()
			if err != nil || len(header) != len(r.Table.Fields) {
				t.Fatalf("%s: %d columns, %d fields: %v", r.Path, len(header), len(r.Table.Fields), err)
			}
			for i, f := range r.Table.Fields {
				if f.Name != header[i] || f.Type == "" {
					t.Errorf("%s: field %d is %q of type %q, column %q", r.Path, i, f.Name, f.Type, header[i])
				}
			}
		}
	}
}
