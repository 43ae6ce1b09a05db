package lesson

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// unusedProperties are those of a field in a Table Schema that say nothing that
// reading a lesson could use. constraints are among them: a row is rejected for
// what it is, not for what somebody expected.
var unusedProperties = []string{"example", "constraints", "rdfType", "categories", "categoriesOrdered", "trueValues", "falseValues"}

var fieldTypes = []string{"", "number", "integer", "string", "date", "time", "datetime", "any"}

// parseField reads the nth field of a mapping.
func parseField(raw json.RawMessage, n int) (f Field, warnings []error, err error) {
	at := strconv.Itoa(n)
	properties, err := readObject(raw, at)
	if err != nil {
		return f, nil, err
	}
	bare, positive := true, "right"
	known := []struct {
		name string
		into any
		want string
	}{
		{"name", &f.Name, "a text"}, {"title", &f.Title, "a text"}, {"description", &f.Description, "a text"},
		{"measure", &f.Measure, "a text"}, {"unit", &f.Unit, "a text"}, {"type", &f.Type, "a text"}, {"format", &f.Format, "a text"},
		{"decimalChar", &f.DecimalChar, "a text"}, {"groupChar", &f.GroupChar, "a text"}, {"bareNumber", &bare, "true or false"},
		{"right", &f.Right, "a list of texts"}, {"left", &f.Left, "a list of texts"}, {"positive", &positive, `"right" or "left"`},
		{"doubt", &f.Doubt, "a text"},
	}
	for _, k := range known {
		if err := decode(properties[k.name], k.into, k.name, k.want); err != nil {
			return f, nil, inField(err, at)
		}
		delete(properties, k.name)
	}
	f.Name = strings.TrimSpace(f.Name)
	f.UnitInCells = !bare
	switch positive {
	case "left":
		f.PositiveLeft = true
	case "right":
	default:
		return f, nil, &MappingError{at, "positive", `it should be "right" or "left"`}
	}
	if f.Format == "default" {
		f.Format = ""
	}
	if f.Unit != "" {
		if u := readUnit(f.Unit); u != "" {
			f.Unit = u
		}
	}
	for name := range properties {
		if !slices.Contains(unusedProperties, name) {
			warnings = append(warnings, warning(ErrColumn, "the mapping of %q has %q, which is not known and was not used", clip(f.Name), clip(name)))
		}
	}
	slices.SortFunc(warnings, byText)
	return f, warnings, nil
}

func inField(err error, at string) error {
	var m *MappingError
	if errors.As(err, &m) {
		m.Field = at
	}
	return err
}

// check tells what of a mapping makes no sense, as a *[MappingError].
func (m *Mapping) check() error {
	names, taken := map[string]bool{}, map[string]string{}
	for i, f := range m.Fields {
		at := strconv.Itoa(i + 1)
		if f.Name != "" {
			at = fmt.Sprintf("%q", clip(f.Name))
		}
		switch {
		case f.Name == "":
			return &MappingError{at, "name", "it is missing: write the column's header"}
		case names[f.Name]:
			return &MappingError{at, "name", "two fields have it: keep one"}
		case !slices.Contains(fieldTypes, f.Type):
			return &MappingError{at, "type", fmt.Sprintf("%q is not one of number, integer, string, date, time, datetime, any", clip(f.Type))}
		}
		names[f.Name] = true
		if property, fault := f.fault(); fault != "" {
			return &MappingError{at, property, fault}
		}
		if m, ok := f.measure(); ok && slices.Contains(roles, m.name) {
			if other, twice := taken[m.name]; twice {
				return &MappingError{at, "measure", fmt.Sprintf("%q is %s already: keep one", clip(other), m.name)}
			}
			taken[m.name] = f.Name
		}
	}
	return nil
}

// fault returns what is wrong with a field by itself, "" for nothing.
func (f Field) fault() (property, fault string) {
	m, ok := f.measure()
	sides := len(f.Right) + len(f.Left)
	number := f.Type == "number" || f.Type == "integer" || f.Type == "" && m.kind == numberMeasure
	switch {
	case f.Measure != "" && f.Measure != None && !ok:
		return "measure", fmt.Sprintf("%q is none of %s; write %s for another column", clip(f.Measure), measureNames(), None)
	case ok && f.Measure != "" && m.kind == numberMeasure && !number && f.Type != "any":
		return "type", fmt.Sprintf("%s is a number", m.name)
	case ok && m.checkUnit(f.Unit) != "":
		return "unit", m.checkUnit(f.Unit)
	case len(f.DecimalChar) > 1 || f.DecimalChar != "" && !strings.Contains(".,", f.DecimalChar):
		return "decimalChar", `it should be "." or ","`
	case f.GroupChar != "" && !slices.Contains(groupChars, f.GroupChar):
		return "groupChar", `it should be ",", ".", "'" or a blank`
	case f.GroupChar != "" && f.GroupChar == f.decimal():
		return "groupChar", "it is the decimalChar too: one of them must be another"
	case sides > 0 && !(ok && m.sided):
		return "right", "only a measure of side or direction has right and left"
	case sides > 0 && (len(f.Right) == 0 || len(f.Left) == 0):
		return "right", "give the words for both, right and left"
	case sides > 0 && f.PositiveLeft:
		return "positive", "the words say what is right and left, so take it out"
	case f.PositiveLeft && !(ok && m.sided):
		return "positive", "only a measure of side or direction has right and left"
	}
	for _, word := range slices.Concat(f.Right, f.Left) {
		if word = foldWord(word); word == "" || strings.ContainsAny(word, "+-−.,0123456789") {
			return "right", fmt.Sprintf("%q can't stand beside a number", clip(word))
		}
	}
	for _, word := range f.Right {
		if slices.ContainsFunc(f.Left, func(l string) bool { return foldWord(l) == foldWord(word) }) {
			return "right", fmt.Sprintf("%q is right and left", clip(word))
		}
	}
	if f.Format != "" {
		if _, err := timeFormat(f.Format); err != nil {
			return "format", err.Error()
		}
	}
	return "", ""
}

// groupChars may stand between thousands: the last two are the blanks that do
// not break a line.
var groupChars = []string{",", ".", "'", "’", " ", "\u00A0", "\u202F"}

func (f Field) decimal() string {
	if f.DecimalChar == "" {
		return "."
	}
	return f.DecimalChar
}

func foldWord(word string) string { return strings.ToLower(strings.TrimSpace(word)) }
