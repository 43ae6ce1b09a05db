package nbformat

import (
	"io"
	"maps"
	"strings"
)

// Write writes the notebook to w, byte for byte as Jupyter's nbformat.write
// does: keys sorted, one space of indentation, text split into lines.
func Write(w io.Writer, nb *Notebook) error {
	cells := make([]any, len(nb.Cells))
	for i, c := range nb.Cells {
		cells[i] = cellFields(c)
	}
	var e encoder
	e.value(map[string]any{
		"cells":          cells,
		"metadata":       orEmpty(nb.Metadata),
		"nbformat":       4,
		"nbformat_minor": nb.Minor,
	})
	if e.err != nil {
		return e.err
	}
	e.buf.WriteByte('\n')
	_, err := w.Write(e.buf.Bytes())
	return err
}

func cellFields(c Cell) map[string]any {
	f := map[string]any{
		"cell_type": c.Type,
		"metadata":  orEmpty(c.Metadata),
		"source":    splitLines(c.Source),
	}
	if c.ID != "" {
		f["id"] = c.ID
	}
	if c.Attachments != nil {
		attachments := make(map[string]any, len(c.Attachments))
		for name, bundle := range c.Attachments {
			attachments[name] = splitBundle(bundle)
		}
		f["attachments"] = attachments
	}
	if c.Type == Code {
		outputs := make([]any, len(c.Outputs))
		for i, o := range c.Outputs {
			outputs[i] = outputFields(o)
		}
		f["outputs"] = outputs
		f["execution_count"] = count(c.ExecutionCount)
	}
	return f
}

func outputFields(o Output) map[string]any {
	f := map[string]any{"output_type": o.Type}
	switch o.Type {
	case Stream:
		f["name"], f["text"] = o.Name, splitLines(o.Text)
	case DisplayData, ExecuteResult:
		f["data"], f["metadata"] = splitBundle(o.Data), orEmpty(o.Metadata)
		if o.Type == ExecuteResult {
			f["execution_count"] = count(o.ExecutionCount)
		}
	case Error:
		f["ename"], f["evalue"] = o.ErrorName, o.ErrorValue
		traceback := make([]any, len(o.Traceback))
		for i, line := range o.Traceback {
			traceback[i] = line
		}
		f["traceback"] = traceback
	}
	return f
}

func count(n int) any {
	if n == 0 {
		return nil
	}
	return n
}

// splitBundle splits the text of a MIME bundle into lines, for the types that
// nbformat takes for text.
func splitBundle(bundle map[string]any) map[string]any {
	split := maps.Clone(orEmpty(bundle))
	for mime, content := range split {
		text, ok := content.(string)
		if ok && (strings.HasPrefix(mime, "text/") || mime == "image/svg+xml" || mime == "application/javascript") {
			split[mime] = splitLines(text)
		}
	}
	return split
}

// splitLines cuts s after each line boundary, as Python's str.splitlines(True)
// does; it knows more boundaries than \n.
func splitLines(s string) []any {
	list := []any{}
	start := 0
	for i, r := range s {
		switch r {
		case '\r':
			if strings.HasPrefix(s[i+1:], "\n") {
				continue // the \n that follows ends the line
			}
		case '\n', '\v', '\f', '\x1c', '\x1d', '\x1e', '\u0085', '\u2028', '\u2029':
		default:
			continue
		}
		end := i + len(string(r))
		list = append(list, s[start:end])
		start = end
	}
	if start < len(s) {
		list = append(list, s[start:])
	}
	return list
}
