package nbformat

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
)

// ErrFormat is the kind of every error of [Read] that is about the content:
// the text of the error says what is wrong, and in which cell.
var ErrFormat = errors.New("not a notebook this program can read")

// latestMinor is the newest minor version of nbformat 4 that is known here.
const latestMinor = 5

// Read returns the notebook in r. Text that the file splits into lines is
// joined, and keys that the format calls transient are dropped.
//
// Errors: [ErrFormat], wrapped, and whatever r returns.
func Read(r io.Reader) (*Notebook, error) {
	content, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	var file struct {
		Major    *int              `json:"nbformat"`
		Minor    int               `json:"nbformat_minor"`
		Metadata map[string]any    `json:"metadata"`
		Cells    []json.RawMessage `json:"cells"`
	}
	// The version comes first: an old file fails on it, not on some field.
	var version struct {
		Major *int `json:"nbformat"`
		Minor int  `json:"nbformat_minor"`
	}
	if err := json.Unmarshal(content, &version); err != nil {
		return nil, fmt.Errorf("%w: %v", ErrFormat, err)
	}
	switch {
	case version.Major == nil:
		return nil, fmt.Errorf("%w: it is JSON, but has no field nbformat", ErrFormat)
	case *version.Major != 4 || version.Minor > latestMinor:
		return nil, fmt.Errorf("%w: its format is nbformat %d.%d; save it as nbformat 4.%d",
			ErrFormat, *version.Major, version.Minor, latestMinor)
	}
	if err := decode(content, &file); err != nil {
		return nil, fmt.Errorf("%w: %v", ErrFormat, err)
	}
	nb := &Notebook{Minor: file.Minor, Metadata: orEmpty(file.Metadata), Cells: []Cell{}}
	for _, key := range []string{"orig_nbformat", "orig_nbformat_minor", "signature"} {
		delete(nb.Metadata, key)
	}
	for i, raw := range file.Cells {
		cell, err := readCell(raw)
		if err == nil && cell.ID == "" && nb.Minor >= 5 {
			err = errors.New("it has no id, which nbformat 4.5 requires")
		}
		if err != nil {
			return nil, fmt.Errorf("%w: cell %d: %v", ErrFormat, i+1, err)
		}
		nb.Cells = append(nb.Cells, cell)
	}
	return nb, nil
}

func readCell(raw []byte) (Cell, error) {
	var f struct {
		Type           string                    `json:"cell_type"`
		ID             string                    `json:"id"`
		Source         lines                     `json:"source"`
		Metadata       map[string]any            `json:"metadata"`
		Attachments    map[string]map[string]any `json:"attachments"`
		ExecutionCount int                       `json:"execution_count"`
		Outputs        []json.RawMessage         `json:"outputs"`
	}
	if err := decode(raw, &f); err != nil {
		return Cell{}, err
	}
	switch f.Type {
	case Code, Markdown, Raw:
	default:
		return Cell{}, fmt.Errorf("its cell_type is %q, not code, markdown or raw", f.Type)
	}
	if f.Type != Code && f.Outputs != nil {
		return Cell{}, errors.New("it has outputs, but is not code")
	}
	delete(f.Metadata, "trusted")
	for _, bundle := range f.Attachments {
		joinLines(bundle)
	}
	c := Cell{Type: f.Type, ID: f.ID, Source: string(f.Source), Metadata: orEmpty(f.Metadata),
		Attachments: f.Attachments, ExecutionCount: f.ExecutionCount}
	for i, raw := range f.Outputs {
		out, err := readOutput(raw)
		if err != nil {
			return Cell{}, fmt.Errorf("output %d: %w", i+1, err)
		}
		c.Outputs = append(c.Outputs, out)
	}
	return c, nil
}

func readOutput(raw []byte) (Output, error) {
	var f struct {
		Type           string         `json:"output_type"`
		Name           string         `json:"name"`
		Text           lines          `json:"text"`
		Data           map[string]any `json:"data"`
		Metadata       map[string]any `json:"metadata"`
		ExecutionCount int            `json:"execution_count"`
		ErrorName      string         `json:"ename"`
		ErrorValue     string         `json:"evalue"`
		Traceback      []string       `json:"traceback"`
	}
	if err := decode(raw, &f); err != nil {
		return Output{}, err
	}
	switch f.Type {
	case Stream, Error:
	case DisplayData, ExecuteResult:
		f.Data, f.Metadata = orEmpty(f.Data), orEmpty(f.Metadata)
		joinLines(f.Data)
	default:
		return Output{}, fmt.Errorf("its output_type is %q", f.Type)
	}
	return Output{Type: f.Type, Name: f.Name, Text: string(f.Text), Data: f.Data, Metadata: f.Metadata,
		ExecutionCount: f.ExecutionCount, ErrorName: f.ErrorName, ErrorValue: f.ErrorValue, Traceback: f.Traceback}, nil
}

// decode refuses unknown fields: they would be lost when written.
func decode(data []byte, v any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	d.DisallowUnknownFields()
	return d.Decode(v)
}

// lines is text that a file holds as one string or as a list of lines.
type lines string

func (l *lines) UnmarshalJSON(data []byte) error {
	var list []string
	if json.Unmarshal(data, &list) == nil {
		*l = lines(strings.Join(list, ""))
		return nil
	}
	return json.Unmarshal(data, (*string)(l))
}

// joinLines joins the text of a MIME bundle that a file holds as lists of
// lines. JSON content may be a list of strings in its own right.
func joinLines(bundle map[string]any) {
	for mime, content := range bundle {
		list, ok := content.([]any)
		if !ok || mime == "application/json" || strings.HasPrefix(mime, "application/") && strings.HasSuffix(mime, "+json") {
			continue
		}
		var text strings.Builder
		for _, line := range list {
			s, isString := line.(string)
			ok = ok && isString
			text.WriteString(s)
		}
		if ok {
			bundle[mime] = text.String()
		}
	}
}

func orEmpty(m map[string]any) map[string]any {
	if m == nil {
		return map[string]any{}
	}
	return m
}
