package lesson

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

// The profiles of the Data Package standard, version 2.0.
const (
	packageProfile  = "https://datapackage.org/profiles/2.0/datapackage.json"
	resourceProfile = "https://datapackage.org/profiles/2.0/dataresource.json"
	schemaProfile   = "https://datapackage.org/profiles/2.0/tableschema.json"
)

// The shape of a Table Schema as it is written.
type (
	jsonSchema struct {
		Schema  string      `json:"$schema"`
		Fields  []jsonField `json:"fields"`
		Missing []string    `json:"missingValues"`
	}
	jsonField struct {
		Name        string   `json:"name"`
		Type        string   `json:"type,omitempty"`
		Format      string   `json:"format,omitempty"`
		Title       string   `json:"title,omitempty"`
		Description string   `json:"description,omitempty"`
		Measure     string   `json:"measure,omitempty"`
		Unit        string   `json:"unit,omitempty"`
		DecimalChar string   `json:"decimalChar,omitempty"`
		GroupChar   string   `json:"groupChar,omitempty"`
		BareNumber  *bool    `json:"bareNumber,omitempty"`
		Right       []string `json:"right,omitempty"`
		Left        []string `json:"left,omitempty"`
		Positive    string   `json:"positive,omitempty"`
		Doubt       string   `json:"doubt,omitempty"`
	}
)

// Write writes the mapping as a Table Schema, which [ReadMapping] reads.
//
// Errors: *[MappingError] for a mapping that makes no sense; those of the
// writer.
func (m *Mapping) Write(w io.Writer) error {
	if m == nil {
		return errors.New("lesson: no mapping to write: it is nil")
	}
	if err := m.check(); err != nil {
		return fmt.Errorf("lesson: %w", err)
	}
	return writeJSON(w, m.schema())
}

func (m *Mapping) schema() jsonSchema {
	s := jsonSchema{Schema: schemaProfile, Fields: []jsonField{}, Missing: append([]string{""}, m.Missing...)}
	for _, f := range m.Fields {
		j := jsonField{
			Name: f.Name, Type: f.Type, Format: f.Format, Title: f.Title, Description: f.Description, Measure: f.Measure, Unit: f.Unit,
			DecimalChar: f.DecimalChar, GroupChar: f.GroupChar, Right: f.Right, Left: f.Left, Doubt: f.Doubt,
		}
		if f.UnitInCells {
			j.BareNumber = new(bool)
		}
		if f.PositiveLeft {
			j.Positive = "left"
		}
		s.Fields = append(s.Fields, j)
	}
	return s
}

// writeJSON leaves < and & as they are: the file is read by people.
func writeJSON(w io.Writer, v any) error {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	if err := enc.Encode(v); err != nil {
		return fmt.Errorf("lesson: %w", err)
	}
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("lesson: %w", err)
	}
	return nil
}
