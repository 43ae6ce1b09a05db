// Package nbformat reads and writes notebook files (.ipynb) of nbformat 4.0 to
// 4.5, the open format of Project Jupyter.
//
// What it writes is equal, byte for byte, to what nbformat.write of Jupyter's
// Python package writes for the same notebook, so that a notebook executed
// here and one executed by other tools differ only where their content does.
//
// Reference: Project Jupyter, "The Notebook file format",
// https://nbformat.readthedocs.io/en/latest/format_description.html
package nbformat

import "slices"

// A Notebook is one file. Metadata is kept as found, known keys or not;
// numbers in it are [json.Number].
type Notebook struct {
	Minor    int // 4.Minor is the version of the format
	Cells    []Cell
	Metadata map[string]any
}

// The types of cells.
const (
	Code     = "code"
	Markdown = "markdown"
	Raw      = "raw"
)

// A Cell is a piece of code or of text. ExecutionCount and Outputs belong to
// code cells, Attachments to the others.
type Cell struct {
	Type           string // Code, Markdown or Raw
	ID             string // unique in the file; "" only below nbformat 4.5
	Source         string
	Metadata       map[string]any
	Attachments    map[string]map[string]any // file name to MIME bundle
	ExecutionCount int                       // 0: never executed
	Outputs        []Output
}

// HasTag reports whether the cell's metadata carries the tag.
func (c Cell) HasTag(tag string) bool {
	tags, _ := c.Metadata["tags"].([]any)
	return slices.Contains(tags, any(tag))
}

// The types of outputs.
const (
	Stream        = "stream"
	DisplayData   = "display_data"
	ExecuteResult = "execute_result"
	Error         = "error"
)

// An Output is one result of a code cell; Type says which fields it uses.
type Output struct {
	Type string

	Name, Text string // Stream; Name is stdout or stderr

	Data           map[string]any // DisplayData and ExecuteResult: MIME type to content
	Metadata       map[string]any
	ExecutionCount int // ExecuteResult

	ErrorName, ErrorValue string // Error
	Traceback             []string
}
