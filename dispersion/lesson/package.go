package lesson

import (
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// A PackageError says what is wrong with a Data Package descriptor.
type PackageError struct {
	Resource string // its name; "" where the package as a whole is at fault
	Reason   string
}

func (e *PackageError) Error() string {
	if e.Resource == "" {
		return "the package: " + e.Reason
	}
	return fmt.Sprintf("the package, resource %q: %s", clip(e.Resource), e.Reason)
}

// ReadPackage returns the lesson that a Data Package descriptor speaks of: the
// one resource that is a table in a file of separated values, read as [Read]
// does with the resource's schema for a mapping, unless o has one. The path of
// the resource must lead to a file in the folder of the descriptor or below.
//
// folder decides what can be reached at all: os.Root.FS keeps to one folder even
// where a link leads out of it; os.DirFS does not.
//
// Errors: *[PackageError] for a descriptor that does not lead to one table, or
// leads elsewhere; *[MappingError] for its schema; those of Read and of folder.
//
// Reference: Data Package 2.0, https://datapackage.org, 2024.
func ReadPackage(folder fs.FS, descriptor string, o ReadOptions) (*Lesson, error) {
	l, err := readPackage(folder, descriptor, o)
	if err != nil {
		return nil, fmt.Errorf("lesson: %w", err)
	}
	return l, nil
}

func readPackage(folder fs.FS, descriptor string, o ReadOptions) (*Lesson, error) {
	if folder == nil {
		return nil, &PackageError{Reason: "there is no folder to look into"}
	}
	file, err := folder.Open(descriptor)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	text, warnings, err := readText(file, "descriptor", maxMappingBytes)
	if err != nil {
		return nil, err
	}
	t, err := findTable([]byte(text))
	if err != nil {
		return nil, err
	}
	if o.Columns == nil {
		o.Columns = t.schema
	}
	if t.mirrored && o.Mirror {
		return nil, &PackageError{t.name, "right and left are exchanged already: leave the mirror out"}
	}
	table, err := openTable(folder, path.Join(path.Dir(descriptor), t.path), t.name)
	if err != nil {
		return nil, err
	}
	defer table.Close()
	l, err := read(table, o)
	if err != nil {
		return nil, err
	}
	if t.mirrored {
		l.Mirrored = true
		l.warn([]error{warning(ErrMirrored, "right and left were exchanged before the file was written")})
	}
	l.Warnings = append(warnings, l.Warnings...)
	return l, nil
}

// openTable opens a file to read shots from; a pipe or a device would never end.
func openTable(folder fs.FS, name, resource string) (io.ReadCloser, error) {
	info, err := fs.Stat(folder, name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, &PackageError{resource, fmt.Sprintf("%q is no ordinary file", clip(name))}
	}
	return folder.Open(name)
}

// A table is the resource that holds the shots.
type table struct {
	name, path string
	mirrored   bool
	schema     *Mapping // nil for none
}

// findTable returns the one table of a descriptor.
func findTable(text []byte) (*table, error) {
	properties, err := readObject(text, "")
	if err != nil {
		return nil, &PackageError{Reason: "the descriptor is no object of JSON"}
	}
	var resources []map[string]json.RawMessage
	if err := json.Unmarshal(properties["resources"], &resources); err != nil || len(resources) == 0 {
		return nil, &PackageError{Reason: `there are no "resources": write one for the file of the lesson`}
	}
	var tables []*table
	var names []string
	for _, r := range resources {
		t, err := readResource(r)
		if err != nil {
			return nil, err
		}
		if t != nil {
			tables, names = append(tables, t), append(names, t.name)
		}
	}
	if len(tables) != 1 {
		return nil, &PackageError{Reason: fmt.Sprintf("%s of separated values (%s), where a lesson is one: give the file itself", count(len(tables), "table"), quoteAll(names))}
	}
	return tables[0], nil
}

// tableFormats are the formats of a resource that are read, by the ending of its
// file where the format is not said.
var tableFormats = []string{"csv", "tsv", "txt"}

// readResource returns a resource if it is a table, and nil if it is something
// else.
func readResource(r map[string]json.RawMessage) (*table, error) {
	t := &table{}
	var kind, format string
	for _, text := range []struct {
		property string
		into     *string
	}{{"name", &t.name}, {"type", &kind}, {"format", &format}} {
		if raw, ok := r[text.property]; ok && json.Unmarshal(raw, text.into) != nil {
			return nil, &PackageError{t.name, fmt.Sprintf("%q should be a text", text.property)}
		}
	}
	if _, ok := r["path"]; !ok {
		return nil, &PackageError{t.name, "it has no path: data within a descriptor are not read"}
	}
	if json.Unmarshal(r["path"], &t.path) != nil {
		return nil, &PackageError{t.name, "its path should be one text: a table in several files is not read"}
	}
	if fault := pathFault(t.path); fault != "" {
		return nil, &PackageError{t.name, fault}
	}
	if format == "" {
		format = strings.TrimPrefix(path.Ext(strings.TrimSuffix(t.path, ".gz")), ".")
	}
	if kind != "table" && !slices.Contains(tableFormats, strings.ToLower(format)) {
		return nil, nil
	}
	if raw, ok := r["mirrored"]; ok && json.Unmarshal(raw, &t.mirrored) != nil {
		return nil, &PackageError{t.name, `"mirrored" should be true or false`}
	}
	raw, ok := r["schema"]
	if !ok {
		return t, nil
	}
	if strings.HasPrefix(strings.TrimSpace(string(raw)), `"`) {
		return nil, &PackageError{t.name, "its schema is a link: write it into the descriptor"}
	}
	var err error
	t.schema, err = parseMapping(raw)
	return t, err
}
