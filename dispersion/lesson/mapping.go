package lesson

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
)

// A Mapping says what the columns of a file are where the file does not say so
// in our words. As a file it is a Table Schema of the Data Package standard,
// with a few properties of our own in its fields; docs/data-format.md shows one.
//
// Reference: Data Package 2.0, Table Schema, https://datapackage.org, 2024.
type Mapping struct {
	Fields []Field

	// Missing are the texts that stand for an absent value, beside the empty
	// one.
	Missing []string

	// Warnings tell what in the file was not understood and not used.
	Warnings []error
}

// A Field says what one column of a file is.
type Field struct {
	Name        string // of the column, as the header has it
	Title       string // for people
	Description string // for people

	// Measure is the column of docs/data-format.md that this one is, without
	// the unit of a length or speed: carry, club, ball_speed, launch_deg. It
	// is "none" for a column that is none of them and kept under its own name,
	// and "" where the name itself says what it is.
	Measure string

	Unit string // of the numbers, as in a header: "yd", "mph"; "" where it is not known

	// Type is "number", "integer", "string", "date", "time", "datetime" or
	// "any"; "" is that of the measure or, without one, what the values are.
	Type string

	// Format is how times are written, in the letters of strptime such as
	// %d.%m.%Y %H:%M; "" is one of the ways that need none.
	Format string

	DecimalChar string // "" is a point
	GroupChar   string // between thousands; "" is none

	UnitInCells bool // the numbers carry their unit: "150 yd"

	// Right and Left are the words that stand before or after a number instead
	// of a sign: "R", "left". PositiveLeft is for numbers that are positive
	// left of the target line.
	Right, Left  []string
	PositiveLeft bool

	// Doubt is what a proposal is not sure of. Whoever has looked takes it out.
	Doubt string
}

// None is the Measure of a column that is none of ours.
const None = "none"

// measure returns what a field says that its column is, and false for none of
// ours.
func (f Field) measure() (measure, bool) {
	switch f.Measure {
	case None:
		return measure{}, false
	case "":
		return measureOf(canonical(f.Name))
	}
	return findMeasure(f.Measure)
}

// maxMappingBytes is far more than a thousand columns need.
const maxMappingBytes = 4 << 20

// ReadMapping reads a mapping from a Table Schema.
//
// Errors: those of the reader, [ErrTooLarge], [ErrNotText], and
// *[MappingError], which says where the file is wrong. Warnings in the result
// are of the kinds [ErrColumn] and [ErrEncoding].
func ReadMapping(r io.Reader) (*Mapping, error) {
	if r == nil {
		return nil, errors.New("lesson: no mapping to read: the reader is nil")
	}
	text, warnings, err := readText(r, "mapping", maxMappingBytes)
	if err != nil {
		return nil, fmt.Errorf("lesson: %w", err)
	}
	m, err := parseMapping([]byte(text))
	if err != nil {
		return nil, fmt.Errorf("lesson: %w", err)
	}
	m.Warnings = append(warnings, m.Warnings...)
	return m, nil
}

// schemaProperties are those of a Table Schema; all but the first two say
// nothing that reading a lesson could use.
var schemaProperties = []string{"fields", "missingValues", "$schema", "fieldsMatch", "primaryKey", "uniqueKeys", "foreignKeys", "name", "title", "description"}

func parseMapping(text []byte) (*Mapping, error) {
	properties, err := readObject(text, "")
	if err != nil {
		return nil, err
	}
	if _, ok := properties["resources"]; ok {
		return nil, &MappingError{Reason: "this describes a package, not the columns of a table: give it as the lesson itself"}
	}
	if _, ok := properties["fields"]; !ok {
		return nil, &MappingError{Reason: `there are no "fields": write one for each column`}
	}
	m := &Mapping{}
	for name := range properties {
		if !slices.Contains(schemaProperties, name) {
			m.Warnings = append(m.Warnings, warning(ErrColumn, "the mapping has %q, which is not known and was not used", clip(name)))
		}
	}
	slices.SortFunc(m.Warnings, byText)
	if err := decode(properties["missingValues"], &m.Missing, "missingValues", "a list of texts"); err != nil {
		return nil, err
	}
	m.Missing = slices.DeleteFunc(m.Missing, func(text string) bool { return text == "" }) // always is
	var fields []json.RawMessage
	if err := decode(properties["fields"], &fields, "fields", "a list"); err != nil {
		return nil, err
	}
	if len(fields) > maxColumns {
		return nil, &MappingError{Property: "fields", Reason: fmt.Sprintf("more than %d", maxColumns)}
	}
	for i, raw := range fields {
		f, warnings, err := parseField(raw, i+1)
		if err != nil {
			return nil, err
		}
		m.Fields = append(m.Fields, f)
		m.Warnings = append(m.Warnings, warnings...)
	}
	return m, m.check()
}

// readObject splits an object of JSON into its properties.
func readObject(text []byte, field string) (map[string]json.RawMessage, error) {
	var properties map[string]json.RawMessage
	err := json.Unmarshal(text, &properties)
	var syntax *json.SyntaxError
	switch {
	case errors.As(err, &syntax):
		return nil, &MappingError{Reason: fmt.Sprintf("line %d is no JSON: %v", 1+bytes.Count(text[:syntax.Offset], []byte("\n")), err)}
	case err != nil || properties == nil:
		return nil, &MappingError{Field: field, Reason: "this should be an object in braces, {…}"}
	}
	return properties, nil
}

// decode reads a property that may be left out.
func decode(raw json.RawMessage, into any, property, want string) error {
	if raw == nil {
		return nil
	}
	if err := json.Unmarshal(raw, into); err != nil {
		return &MappingError{Property: property, Reason: "it should be " + want}
	}
	return nil
}

func byText(a, b error) int { return bytes.Compare([]byte(a.Error()), []byte(b.Error())) }
