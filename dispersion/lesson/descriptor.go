package lesson

import (
	"fmt"
	"io"
	"io/fs"
	"strings"
)

// The shape of a Data Package as it is written.
type (
	jsonPackage struct {
		Schema    string         `json:"$schema"`
		Name      string         `json:"name"`
		Title     string         `json:"title"`
		Resources []jsonResource `json:"resources"`
	}
	jsonResource struct {
		Schema      string     `json:"$schema"`
		Name        string     `json:"name"`
		Path        string     `json:"path"`
		Type        string     `json:"type"`
		Format      string     `json:"format"`
		MediaType   string     `json:"mediatype"`
		Encoding    string     `json:"encoding"`
		Description string     `json:"description"`
		Mirrored    bool       `json:"mirrored,omitempty"`
		Table       jsonSchema `json:"schema"`
	}
)

// WriteDescriptor writes the Data Package descriptor, datapackage.json, of what
// [Lesson.WriteCSV] writes: its columns with their units and what they are, and
// whether the lesson is mirrored. file is where the CSV is, seen from the
// descriptor, with / between folders. [ReadPackage] reads the two together.
//
// Errors: *[PackageError] for a file that is not below the descriptor's folder;
// those of WriteCSV.
//
// Reference: Data Package 2.0, https://datapackage.org, 2024.
func (l *Lesson) WriteDescriptor(w io.Writer, file string) error {
	if fault := pathFault(file); fault != "" {
		return fmt.Errorf("lesson: %w", &PackageError{Resource: "shots", Reason: fault})
	}
	columns, err := l.outColumns()
	if err != nil {
		return err
	}
	m := &Mapping{}
	for _, c := range columns {
		c.field.Title, c.field.Description = strings.ReplaceAll(c.field.Name, "_", " "), columnMeaning[c.field.Measure]
		m.Fields = append(m.Fields, c.field)
	}
	about := fmt.Sprintf("%s in the order hit, one a row", count(len(l.Shots), "shot"))
	if n := len(l.Rejected); n > 0 {
		about += fmt.Sprintf("; %s of the file it came from could not be read and %s left out", count(n, "row"), isAre(n))
	}
	if l.Mirrored {
		about += "; right and left are exchanged"
	}
	return writeJSON(w, jsonPackage{
		Schema: packageProfile, Name: "lesson", Title: "The shots of a lesson",
		Resources: []jsonResource{{
			Schema: resourceProfile, Name: "shots", Path: file, Type: "table", Format: "csv", MediaType: "text/csv", Encoding: "utf-8",
			Description: about, Mirrored: l.Mirrored, Table: m.schema(),
		}},
	})
}

// columnMeaning is for those columns that a reader could take for another thing.
var columnMeaning = map[string]string{
	"intent": "baseline, drill, full or check",
	"carry":  "along the target line to where the ball first lands",
	"side":   "from the target line, right of it positive",
	"void":   "why the shot does not count; empty when it does",
	"cue":    "what the pupil was told",
}

func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// pathFault returns what is wrong with the path of a file in a descriptor, ""
// for nothing. The standard forbids absolute paths and .. too, since a
// descriptor may come from anybody.
func pathFault(path string) string {
	if path == "." || !fs.ValidPath(path) || strings.ContainsAny(path, `\:`) || printable(path) != path {
		return fmt.Sprintf("its path %q does not lead to a file in the descriptor's own folder or below: write one like shots.csv or data/shots.csv", clip(path))
	}
	return ""
}
