package kernel

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"github.com/landfall-golf/landfall/notebooks/internal/nbformat"
)

// maxOutput is how many bytes of output a cell may have. A notebook with more
// is of no use to anybody, and a loop that prints must not fill the memory.
const maxOutput = 8 << 20

// A collector puts what a cell publishes into the cell. Consecutive pieces of a
// stream become one output; a builder holds them until then, since adding to a
// string takes quadratic time.
type collector struct {
	cell     *nbformat.Cell
	name     string // of the stream that is open
	text     strings.Builder
	size     int
	displays map[string][]int // display id to outputs that it updates
}

// content is the union of what the messages on iopub contain.
type content struct {
	ExecutionCount int            `json:"execution_count"`
	Name           string         `json:"name"`
	Text           string         `json:"text"`
	Data           map[string]any `json:"data"`
	Metadata       map[string]any `json:"metadata"`
	Transient      struct {
		DisplayID string `json:"display_id"`
	} `json:"transient"`
	ErrorName  string   `json:"ename"`
	ErrorValue string   `json:"evalue"`
	Traceback  []string `json:"traceback"`
}

func newCollector(cell *nbformat.Cell) *collector {
	cell.Outputs, cell.ExecutionCount = nil, 0
	return &collector{cell: cell, displays: map[string][]int{}}
}

// add handles a message that belongs to the cell.
func (c *collector) add(m message) error {
	switch m.Type {
	case "execute_input", nbformat.Error:
	case nbformat.Stream, nbformat.DisplayData, nbformat.ExecuteResult, "update_display_data":
		if c.full(len(m.Content)) {
			return nil
		}
	default:
		return nil
	}
	var f content
	d := json.NewDecoder(bytes.NewReader(m.Content))
	d.UseNumber()
	if err := d.Decode(&f); err != nil {
		return fmt.Errorf("the kernel sent a %s message that can't be read: %w", m.Type, err)
	}
	switch m.Type {
	case "execute_input":
		c.cell.ExecutionCount = f.ExecutionCount
	case nbformat.Stream:
		c.stream(f.Name, f.Text)
	case nbformat.DisplayData, nbformat.ExecuteResult:
		c.flush()
		if id := f.Transient.DisplayID; id != "" {
			c.displays[id] = append(c.displays[id], len(c.cell.Outputs))
		}
		c.cell.Outputs = append(c.cell.Outputs, nbformat.Output{Type: m.Type,
			Data: f.Data, Metadata: f.Metadata, ExecutionCount: f.ExecutionCount})
	case "update_display_data":
		for _, i := range c.displays[f.Transient.DisplayID] {
			c.cell.Outputs[i].Data, c.cell.Outputs[i].Metadata = f.Data, f.Metadata
		}
	case nbformat.Error:
		c.flush()
		c.cell.Outputs = append(c.cell.Outputs, nbformat.Output{Type: m.Type,
			ErrorName: f.ErrorName, ErrorValue: f.ErrorValue, Traceback: f.Traceback})
	}
	return nil
}

func (c *collector) stream(name, text string) {
	if name != c.name {
		c.flush()
		c.name = name
	}
	c.text.WriteString(text)
}

// full reports whether n more bytes are too many. The first time it says so in
// the cell.
func (c *collector) full(n int) bool {
	before := c.size
	c.size += n
	if before <= maxOutput && c.size > maxOutput {
		c.stream("stderr", fmt.Sprintf("\nThe rest of the output is left out: a cell may have %d MB.\n", maxOutput>>20))
	}
	return c.size > maxOutput
}

// flush ends the open stream.
func (c *collector) flush() {
	if c.text.Len() == 0 {
		return
	}
	text := c.text.String()
	c.text.Reset()
	outputs := c.cell.Outputs
	if n := len(outputs); n > 0 && outputs[n-1].Type == nbformat.Stream && outputs[n-1].Name == c.name {
		outputs[n-1].Text = overwrite(outputs[n-1].Text + text)
		return
	}
	c.cell.Outputs = append(outputs, nbformat.Output{Type: nbformat.Stream, Name: c.name, Text: overwrite(text)})
}

// overwrite drops the part of each line that a carriage return overwrites, as
// nbconvert does.
func overwrite(text string) string {
	if !strings.Contains(text, "\r") {
		return text
	}
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if last := len(line) - 1; last > 0 {
			lines[i] = line[strings.LastIndexByte(line[:last], '\r')+1:]
		}
	}
	return strings.Join(lines, "\n")
}

// stderr returns what the cell wrote to stderr.
func (c *collector) stderr() string {
	var text strings.Builder
	for _, o := range c.cell.Outputs {
		if o.Type == nbformat.Stream && o.Name == "stderr" {
			text.WriteString(o.Text)
		}
	}
	return text.String()
}
