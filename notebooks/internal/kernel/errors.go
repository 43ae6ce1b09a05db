package kernel

import (
	"context"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// A CellError tells which cell of a notebook failed, and why, in text for
// people: without colours, paths of temporary files and memory addresses.
type CellError struct {
	Cell   int    // position among the cells of the notebook as executed, from 1
	Title  string // the heading above the cell; "" without one
	Name   string // what happened, such as "the cell failed"
	Value  string // the error itself; where it does not compile, a line for each place
	Output string // the end of what explains it: the cell's stderr, or the kernel's

	cause error
}

// The names of errors.
const (
	failed     = "the cell failed"
	uncompiled = "the cell does not compile"
	tooLong    = "the cell took too long"
	died       = "the kernel died"
)

func (e *CellError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "cell %d", e.Cell)
	if e.Title != "" {
		fmt.Fprintf(&b, " (under %q)", e.Title)
	}
	fmt.Fprintf(&b, ": %s: %s", e.Name, e.Value)
	if e.Output != "" {
		fmt.Fprintf(&b, "\n%s", e.Output)
	}
	return b.String()
}

// Unwrap returns [context.DeadlineExceeded] for a cell that took too long.
func (e *CellError) Unwrap() error { return e.cause }

func failedError(r executeReply, out *collector) error {
	if places := compileErrors(r, out.cell.ExecutionCount); places != "" {
		return &CellError{Name: uncompiled, Value: places}
	}
	return &CellError{Name: failed, Value: clean(r.ErrorValue), Output: end(clean(out.stderr()))}
}

// place is the first line of a traceback entry of the kernel; lines of code and
// the message follow.
var place = regexp.MustCompile(`^Cell\[(\d+)\]: Line (\d+)\n`)

// compileErrors returns what the compiler says, at the lines of the cell rather
// than of the file the kernel makes of it, or "" if the error is another one.
func compileErrors(r executeReply, count int) string {
	var list []string
	found := false
	for _, entry := range r.Traceback {
		entry = strings.TrimSpace(clean(entry))
		if at := place.FindStringSubmatch(entry); at != nil {
			found = true
			where := "line " + at[2]
			if at[1] != strconv.Itoa(count) {
				where += " of the cell executed as [" + at[1] + "]"
			}
			entry = where + ": " + entry[strings.LastIndexByte(entry, '\n')+1:]
		}
		if entry != "" && !strings.HasPrefix(entry, "# gonb_") {
			list = append(list, entry)
		}
	}
	if !found {
		return ""
	}
	return strings.Join(list, "\n")
}

func timeoutError(limit time.Duration) error {
	return &CellError{Name: tooLong, Value: fmt.Sprintf("it was stopped after %v", limit), cause: context.DeadlineExceeded}
}

func diedError(p *process, out *collector) error {
	return &CellError{Name: died, Value: endOf(p), Output: end(strings.TrimSpace(clean(out.stderr()) + "\n" + p.log.String()))}
}

// maxErrorText keeps the output in an error readable.
const maxErrorText = 4 << 10

// end returns the end of text, from the start of a line.
func end(text string) string {
	text = strings.TrimSpace(text)
	if len(text) <= maxErrorText {
		return text
	}
	text = text[len(text)-maxErrorText:]
	return "…" + text[strings.IndexByte(text, '\n')+1:]
}

var noise = []struct {
	pattern     *regexp.Regexp
	replacement string
}{
	{regexp.MustCompile(`\x1b\[[0-9;]*[A-Za-z]`), ""},              // colours
	{regexp.MustCompile(`/\S*/landfall-\d+/t/(gonb_\w+/)?`), ""},   // our directory
	{regexp.MustCompile(` \+0x[0-9a-f]+`), ""},                     // offsets in a stack trace
	{regexp.MustCompile(`\((0x[0-9a-f]+\??|[{}., ])+\)`), "(...)"}, // arguments in a stack trace
	{regexp.MustCompile(`0x[0-9a-f]{6,}`), "0x…"},                  // other addresses
}

// clean takes out of text what differs from run to run, or is for terminals.
func clean(text string) string {
	for _, n := range noise {
		text = n.pattern.ReplaceAllString(text, n.replacement)
	}
	return text
}
